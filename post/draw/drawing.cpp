#include "post/draw/drawing.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>

#include "post/draw/paper.h"

namespace updraught {

namespace {

bool finite(Point p) {
  return std::isfinite(p.x) && std::isfinite(p.y);
}

Loop corners(const Box& box) {
  return {{box.left, box.top}, {box.right(), box.top}, {box.right(), box.bottom()}, {box.left, box.bottom()}};
}

/// Left edge of lines of a width that are aligned about x.
double left_of(double x, double width, Align align) {
  if (align == Align::centre) return x - 0.5 * width;
  return align == Align::right ? x - width : x;
}

/// Where an outline's edges cross parallel lines, by the number of the line: places along it.
using Crossings = std::map<int, std::vector<double>>;

/// Lines lie at whole multiples of `spacing` across the direction `along`, counted from the page's corner, so
/// that neighbouring outlines share them.
void add_crossings(Crossings& crossings, const Loop& outline, Point along, double spacing) {
  const Point across{-along.y, along.x};
  for (std::size_t n = 0; n < outline.size(); ++n) {
    const Point a = outline[n];
    const Point b = outline[(n + 1) % outline.size()];
    const double from = (a.x * across.x + a.y * across.y) / spacing;
    const double to = (b.x * across.x + b.y * across.y) / spacing;
    const int last = static_cast<int>(std::ceil(std::max(from, to))) - 1;
    for (int line = static_cast<int>(std::ceil(std::min(from, to))); line <= last; ++line) {
      const double share = (line - from) / (to - from);
      const Point at{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
      crossings[line].push_back(at.x * along.x + at.y * along.y);
    }
  }
}

}  // namespace

void Canvas::fill(const std::vector<Loop>& outlines, Colour colour, double overlap) {
  paper_.fill(outlines, colour, overlap);
}

void Canvas::fill(const Box& box, Colour colour) {
  fill(std::vector<Loop>{corners(box)}, colour);
}

void Canvas::line(const Loop& points, const Stroke& stroke, bool closed) {
  paper_.stroke({points}, stroke, closed, Ends::round);
}

void Canvas::line(Point from, Point to, const Stroke& stroke) {
  line(Loop{from, to}, stroke);
}

void Canvas::frame(const Box& box, const Stroke& stroke) {
  line(corners(box), stroke, true);
}

void Canvas::hatch(const std::vector<Loop>& outlines, const Stroke& stroke, double spacing, double angle) {
  const double turn = angle * std::numbers::pi / 180.0;
  const Point along{std::cos(turn), -std::sin(turn)};
  const Point across{-along.y, along.x};
  Crossings crossings;
  for (const Loop& outline : outlines)
    for (const Loop& piece : finite_pieces(outline)) add_crossings(crossings, piece, along, spacing);
  std::vector<Loop> lines;
  for (auto& [line, places] : crossings) {
    std::sort(places.begin(), places.end());
    const auto at = [&, offset = line * spacing](double place) {
      return Point{along.x * place + across.x * offset, along.y * place + across.y * offset};
    };
    for (std::size_t n = 0; n + 1 < places.size(); n += 2)
      lines.push_back({at(places[n]), at(places[n + 1])});
  }
  if (!lines.empty()) paper_.stroke(lines, stroke, false, Ends::flat);
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
  const TextLayout layout(words, style);
  const TextSize size = layout.size();
  const Point corner{left_of(place.x, size.width, style.align), place.y};
  paper_.write(layout, corner, style);
  text_boxes_.push_back({corner.x, corner.y, size.width, size.height});
  return size;
}

TextSize Canvas::measure(const std::string& words, const TextStyle& style) {
  return words.empty() ? TextSize{} : TextLayout(words, style).size();
}

Layout lay_out(const Drawing& drawing) {
  const std::unique_ptr<Paper> nothing = blank_paper();
  Canvas canvas(*nothing);
  const double height = drawing.draw(canvas);
  if (!(height > 0.0) || !std::isfinite(height))
    throw std::runtime_error("the picture '" + drawing.name + "' has no height");
  return {std::ceil(height), canvas.text_boxes()};
}

std::vector<Drawing> pages_of(const Drawing& drawing) {
  std::vector<Drawing> out{drawing};
  out.front().more_pages.clear();
  for (std::size_t n = 0; n < drawing.more_pages.size(); ++n) {
    Drawing page = out.front();
    const std::string number = std::to_string(n + 2);
    page.name += "-page-" + number;
    page.title += " (page " + number + ")";
    page.draw = drawing.more_pages[n].draw;
    page.description = drawing.more_pages[n].description;
    out.push_back(page);
  }
  return out;
}

}  // namespace updraught
