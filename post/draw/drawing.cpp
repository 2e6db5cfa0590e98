#include "post/draw/drawing.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "post/words/plain_text.h"

namespace updraught {

struct Canvas::Inside {
  cairo_t* cairo = nullptr;
  std::vector<Box> text_boxes;
};

namespace {

bool finite(Point p) {
  return std::isfinite(p.x) && std::isfinite(p.y);
}

void set_colour(cairo_t* cairo, Colour c) {
  cairo_set_source_rgb(cairo, c.red, c.green, c.blue);
}

void set_stroke(cairo_t* cairo, const Stroke& stroke) {
  set_colour(cairo, stroke.colour);
  cairo_set_line_width(cairo, stroke.width);
  cairo_set_dash(cairo, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0.0);
  cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cairo, stroke.dash.empty() ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
}

void trace(cairo_t* cairo, const Loop& points, bool closed) {
  bool started = false;
  for (const Point& p : points) {
    if (!finite(p)) {
      started = false;
      continue;
    }
    if (started) {
      cairo_line_to(cairo, p.x, p.y);
    } else {
      cairo_move_to(cairo, p.x, p.y);
    }
    started = true;
  }
  if (closed && started) cairo_close_path(cairo);
}

Loop corners(const Box& box) {
  return {{box.left, box.top}, {box.right(), box.top}, {box.right(), box.bottom()}, {box.left, box.bottom()}};
}

PangoAlignment pango_alignment(Align align) {
  if (align == Align::centre) return PANGO_ALIGN_CENTER;
  return align == Align::right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT;
}

/// Line ends stay; all else that is no letter would not be drawn or not be valid in a file.
std::string drawable(const std::string& words) {
  std::string out;
  for (std::size_t start = 0; start <= words.size();) {
    const std::size_t end = std::min(words.find('\n', start), words.size());
    if (start > 0) out += '\n';
    out += plain_text(std::string_view(words).substr(start, end - start));
    start = end + 1;
  }
  return out;
}

/// Keeps numbers and their units on one line.
std::string held_together(const std::string& words) {
  static const std::pair<std::string, std::string> pairs[] = {
      {" %", "\u00A0%"},      {" °C", "\u00A0°C"},       {" mm", "\u00A0mm"},        {" cm", "\u00A0cm"},
      {" L ", "\u00A0L "},    {" L/min", "\u00A0L/min"}, {" kPa", "\u00A0kPa"},      {"L/min", "L/\u2060min"},
      {"mm/s", "mm/\u2060s"}, {"min in", "min\u00A0in"}, {"min out", "min\u00A0out"}};
  std::string out = drawable(words);
  for (const auto& [from, to] : pairs)
    for (std::size_t at = out.find(from); at != std::string::npos; at = out.find(from, at + to.size()))
      out.replace(at, from.size(), to);
  return out;
}

using LayoutHandle = std::unique_ptr<PangoLayout, void (*)(gpointer)>;

LayoutHandle text_layout(cairo_t* cairo, const std::string& words, const TextStyle& style) {
  LayoutHandle layout(pango_cairo_create_layout(cairo), g_object_unref);
  // No hinting: every surface must break lines at the same places.
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(pango_layout_get_context(layout.get()), options);
  cairo_font_options_destroy(options);
  // Whole points would be coarse at this size: spaces between words came out uneven.
  pango_context_set_round_glyph_positions(pango_layout_get_context(layout.get()), FALSE);
  pango_layout_context_changed(layout.get());

  PangoFontDescription* font = pango_font_description_from_string("DejaVu Sans");
  pango_font_description_set_weight(font, style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(font, style.size * PANGO_SCALE);
  pango_layout_set_font_description(layout.get(), font);
  pango_font_description_free(font);
  const std::string held = held_together(words);
  pango_layout_set_text(layout.get(), held.data(), static_cast<int>(held.size()));
  pango_layout_set_alignment(layout.get(), pango_alignment(style.align));
  if (style.wrap > 0.0) {
    pango_layout_set_width(layout.get(), static_cast<int>(style.wrap * PANGO_SCALE));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
  }
  return layout;
}

PangoRectangle logical_extent(PangoLayout* layout) {
  PangoRectangle extent;
  pango_layout_get_extents(layout, nullptr, &extent);
  return extent;
}

TextSize size_of(const PangoRectangle& extent) {
  return {static_cast<double>(extent.width) / PANGO_SCALE, static_cast<double>(extent.height) / PANGO_SCALE};
}

/// Left edge of lines of a width that are aligned about x.
double left_of(double x, double width, Align align) {
  if (align == Align::centre) return x - 0.5 * width;
  return align == Align::right ? x - width : x;
}

}  // namespace

Canvas::Canvas(void* cairo) : inside_(std::make_unique<Inside>()) {
  inside_->cairo = static_cast<cairo_t*>(cairo);
}

Canvas::~Canvas() = default;

void Canvas::fill(const std::vector<Loop>& outlines, Colour colour, double overlap) {
  cairo_t* cairo = inside_->cairo;
  cairo_new_path(cairo);
  for (const Loop& outline : outlines) trace(cairo, outline, true);
  cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
  if (overlap > 0.0) {
    set_stroke(cairo, {colour, overlap, {}});
    cairo_fill_preserve(cairo);
    cairo_stroke(cairo);
  } else {
    set_colour(cairo, colour);
    cairo_fill(cairo);
  }
}

void Canvas::fill(const Box& box, Colour colour) {
  fill(std::vector<Loop>{corners(box)}, colour);
}

void Canvas::line(const Loop& points, const Stroke& stroke, bool closed) {
  cairo_new_path(inside_->cairo);
  trace(inside_->cairo, points, closed);
  set_stroke(inside_->cairo, stroke);
  cairo_stroke(inside_->cairo);
}

void Canvas::line(Point from, Point to, const Stroke& stroke) {
  line(Loop{from, to}, stroke);
}

void Canvas::frame(const Box& box, const Stroke& stroke) {
  line(corners(box), stroke, true);
}

void Canvas::hatch(const std::vector<Loop>& outlines, const Stroke& stroke, double spacing, double angle) {
  cairo_t* cairo = inside_->cairo;
  cairo_save(cairo);
  cairo_new_path(cairo);
  for (const Loop& outline : outlines) trace(cairo, outline, true);
  double left = 0.0;
  double top = 0.0;
  double right = 0.0;
  double bottom = 0.0;
  cairo_path_extents(cairo, &left, &top, &right, &bottom);
  cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_clip(cairo);
  const double turn = angle * std::numbers::pi / 180.0;
  const Point along{std::cos(turn), -std::sin(turn)};
  const Point across{-along.y, along.x};
  // Offsets are counted from the page's corner, so that neighbouring outlines share their lines.
  double least = 1e300;
  double most = -1e300;
  for (const Point& p : {Point{left, top}, Point{right, top}, Point{right, bottom}, Point{left, bottom}}) {
    least = std::min(least, p.x * across.x + p.y * across.y);
    most = std::max(most, p.x * across.x + p.y * across.y);
  }
  const Point middle{0.5 * (left + right), 0.5 * (top + bottom)};
  const double reach = std::hypot(right - left, bottom - top);
  const double middle_along = middle.x * along.x + middle.y * along.y;
  const auto first = static_cast<int>(std::ceil(least / spacing));
  for (int n = first; n * spacing < most; ++n) {
    const double offset = n * spacing;
    const Point at{along.x * middle_along + across.x * offset, along.y * middle_along + across.y * offset};
    cairo_move_to(cairo, at.x - along.x * reach, at.y - along.y * reach);
    cairo_line_to(cairo, at.x + along.x * reach, at.y + along.y * reach);
  }
  set_stroke(cairo, stroke);
  cairo_stroke(cairo);
  cairo_restore(cairo);
}

void Canvas::arrowhead(Point tip, Point direction, double length, Colour colour) {
  const double norm = std::hypot(direction.x, direction.y);
  if (!(norm > 0.0) || !std::isfinite(norm)) return;
  const Point d{direction.x / norm, direction.y / norm};
  const Point back{tip.x - length * d.x, tip.y - length * d.y};
  const double half = 0.42 * length;
  const Point notch{tip.x - 0.75 * length * d.x, tip.y - 0.75 * length * d.y};
  fill(std::vector<Loop>{{tip,
                          {back.x - half * d.y, back.y + half * d.x},
                          notch,
                          {back.x + half * d.y, back.y - half * d.x}}},
       colour);
}

TextSize Canvas::text(Point place, const std::string& words, const TextStyle& style) {
  if (words.empty() || !finite(place)) return {};
  const LayoutHandle layout = text_layout(inside_->cairo, words, style);
  const PangoRectangle extent = logical_extent(layout.get());
  const TextSize size = size_of(extent);
  const double left = left_of(place.x, size.width, style.align);
  set_colour(inside_->cairo, style.colour);
  cairo_move_to(inside_->cairo, left - static_cast<double>(extent.x) / PANGO_SCALE,
                place.y - static_cast<double>(extent.y) / PANGO_SCALE);
  pango_cairo_show_layout(inside_->cairo, layout.get());
  inside_->text_boxes.push_back({left, place.y, size.width, size.height});
  return size;
}

TextSize Canvas::measure(const std::string& words, const TextStyle& style) {
  if (words.empty()) return {};
  const LayoutHandle layout = text_layout(inside_->cairo, words, style);
  return size_of(logical_extent(layout.get()));
}

const std::vector<Box>& Canvas::text_boxes() const {
  return inside_->text_boxes;
}

}  // namespace updraught
