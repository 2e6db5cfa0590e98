// Words broken into lines by Pango.
#include <pango/pangocairo.h>

#include <algorithm>
#include <utility>

#include "post/draw/paper.h"
#include "post/words/plain_text.h"

namespace updraught {

struct TextLayout::Inside {
  PangoLayout* layout = nullptr;
  std::string words;
  PangoRectangle extent{};
};

namespace {

const std::string joiner = "\u2060";
const std::string fixed_space = "\u00A0";

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

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

/// Keeps numbers and their units on one line.
std::string held_together(const std::string& words) {
  static const std::pair<std::string, std::string> pairs[] = {
      {" %", "\u00A0%"},      {" °C", "\u00A0°C"},       {" mm", "\u00A0mm"},        {" cm", "\u00A0cm"},
      {" L ", "\u00A0L "},    {" L/min", "\u00A0L/min"}, {" kPa", "\u00A0kPa"},      {"L/min", "L/\u2060min"},
      {"mm/s", "mm/\u2060s"}, {"min in", "min\u00A0in"}, {"min out", "min\u00A0out"}};
  std::string out = drawable(words);
  for (const auto& [from, to] : pairs) out = replaced(out, from, to);
  return out;
}

/// A line as people type it: once it is broken nothing has to be held together, and none could search for it.
std::string as_typed(const std::string& line) {
  std::string out = replaced(replaced(line, joiner, ""), fixed_space, " ");
  while (!out.empty() && (out.back() == ' ' || out.back() == '\n')) out.pop_back();
  return out;
}

PangoAlignment pango_alignment(Align align) {
  if (align == Align::centre) return PANGO_ALIGN_CENTER;
  return align == Align::right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT;
}

PangoLayout* empty_layout() {
  PangoContext* context = pango_font_map_create_context(pango_cairo_font_map_get_default());
  // No hinting: every surface must break lines at the same places.
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  // Whole points would be coarse at this size: spaces between words came out uneven.
  pango_context_set_round_glyph_positions(context, FALSE);
  PangoLayout* layout = pango_layout_new(context);
  g_object_unref(context);
  return layout;
}

double points(int pango_units) {
  return static_cast<double>(pango_units) / PANGO_SCALE;
}

}  // namespace

TextLayout::TextLayout(const std::string& words, const TextStyle& style)
    : inside_(std::make_unique<Inside>()) {
  inside_->words = held_together(words);
  PangoLayout* layout = inside_->layout = empty_layout();
  PangoFontDescription* font = pango_font_description_from_string("DejaVu Sans");
  pango_font_description_set_weight(font, style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(font, style.size * PANGO_SCALE);
  pango_layout_set_font_description(layout, font);
  pango_font_description_free(font);
  pango_layout_set_text(layout, inside_->words.data(), static_cast<int>(inside_->words.size()));
  pango_layout_set_alignment(layout, pango_alignment(style.align));
  if (style.wrap > 0.0) {
    pango_layout_set_width(layout, static_cast<int>(style.wrap * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  }
  pango_layout_get_extents(layout, nullptr, &inside_->extent);
}

TextLayout::~TextLayout() {
  g_object_unref(inside_->layout);
}

TextSize TextLayout::size() const {
  return {points(inside_->extent.width), points(inside_->extent.height)};
}

std::vector<TextLine> TextLayout::lines() const {
  std::vector<TextLine> out;
  PangoLayoutIter* at = pango_layout_get_iter(inside_->layout);
  do {
    const PangoLayoutLine* line = pango_layout_iter_get_line_readonly(at);
    PangoRectangle box;
    pango_layout_iter_get_line_extents(at, nullptr, &box);
    const auto start = static_cast<std::size_t>(line->start_index);
    const auto length = static_cast<std::size_t>(line->length);
    out.push_back({as_typed(inside_->words.substr(start, length)), points(box.x - inside_->extent.x),
                   points(box.width), points(pango_layout_iter_get_baseline(at) - inside_->extent.y)});
  } while (pango_layout_iter_next_line(at) != FALSE);
  pango_layout_iter_free(at);
  return out;
}

void TextLayout::show(void* cairo, Point corner) const {
  auto* context = static_cast<cairo_t*>(cairo);
  cairo_move_to(context, corner.x - points(inside_->extent.x), corner.y - points(inside_->extent.y));
  pango_cairo_show_layout(context, inside_->layout);
}

}  // namespace updraught
