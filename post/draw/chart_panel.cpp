#include "post/draw/chart_panel.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace updraught {

namespace {

const TextStyle mark_style{7.2, false, soft_ink, Align::left, 0.0};

double placed(double value, const Axis& axis, double from, double to) {
  return from + (value - axis.low) / (axis.high - axis.low) * (to - from);
}

std::string number(double value) {
  const std::string out = fmt::format("{:g}", std::abs(value) < 1e-12 ? 0.0 : value);
  return out[0] == '-' ? "−" + out.substr(1) : out;
}

Axis upright_axis(const Panel& panel) {
  double low = panel.low;
  double high = panel.high;
  const auto reach = [&](double v) {
    if (!std::isfinite(v)) return;
    low = std::min(low, v);
    high = std::max(high, v);
  };
  for (const Curve& curve : panel.curves) {
    for (const Point& p : curve.points) reach(p.y);
    for (const Between& b : curve.band) {
      reach(b.low);
      reach(b.high);
    }
  }
  // At least 14 pt between marks, or their numbers would touch.
  return round_axis(low, high, static_cast<int>(panel.height / 14.0));
}

/// Outline of a band, both ends included; pieces without numbers are left out.
Loop band_outline(const std::vector<Between>& band, const Axis& level, const Axis& upright,
                  const Box& frame) {
  Loop out;
  const auto at = [&](double x, double y) {
    return Point{placed(x, level, frame.left, frame.right()), placed(y, upright, frame.bottom(), frame.top)};
  };
  const auto known = [](const Between& b) { return std::isfinite(b.low) && std::isfinite(b.high); };
  for (const Between& b : band)
    if (known(b)) out.push_back(at(b.x, b.high));
  for (auto b = band.rbegin(); b != band.rend(); ++b)
    if (known(*b)) out.push_back(at(b->x, b->low));
  return out;
}

void draw_curve(Canvas& canvas, const Curve& curve, const Axis& level, const Axis& upright,
                const Box& frame) {
  Loop line;
  for (const Point& p : curve.points)
    line.push_back(
        {placed(p.x, level, frame.left, frame.right()), placed(p.y, upright, frame.bottom(), frame.top)});
  canvas.line(line, curve.stroke);
  if (!curve.dots) return;
  for (const Point& p : line)
    if (std::isfinite(p.x) && std::isfinite(p.y))
      canvas.fill(Box{p.x - 1.6, p.y - 1.6, 3.2, 3.2}, curve.stroke.colour);
}

/// Names beside the curves' right ends, moved apart where they would overlap.
void draw_names(Canvas& canvas, const Panel& panel, const Axis& upright, const Box& frame,
                double name_width) {
  struct Name {
    double wanted;
    const Curve* curve;
  };
  std::vector<Name> names;
  for (const Curve& curve : panel.curves) {
    const auto last = std::find_if(curve.points.rbegin(), curve.points.rend(),
                                   [](const Point& p) { return std::isfinite(p.y); });
    if (curve.name.empty() || last == curve.points.rend()) continue;
    names.push_back({placed(last->y, upright, frame.bottom(), frame.top) - 4.5, &curve});
  }
  std::stable_sort(names.begin(), names.end(),
                   [](const Name& a, const Name& b) { return a.wanted < b.wanted; });
  double least = frame.top - 4.0;
  std::vector<double> y;
  for (const Name& name : names) {
    y.push_back(std::max(name.wanted, least));
    least = y.back() + 10.0;
  }
  double limit = frame.bottom() - 5.0;
  for (std::size_t n = y.size(); n-- > 0;) {
    y[n] = std::min(y[n], limit);
    limit = y[n] - 10.0;
  }
  for (std::size_t n = 0; n < y.size(); ++n) {
    const Stroke stroke = names[n].curve->stroke;
    canvas.line({frame.right() + 3.0, y[n] + 4.5}, {frame.right() + 13.0, y[n] + 4.5}, stroke);
    canvas.text({frame.right() + 16.0, y[n]}, names[n].curve->name,
                {7.5, false, ink, Align::left, name_width - 16.0});
  }
}

void draw_marks(Canvas& canvas, const Axis& level, const Axis& upright, const Box& frame, bool level_marks) {
  for (const double mark : upright.marks) {
    const double y = placed(mark, upright, frame.bottom(), frame.top);
    canvas.line({frame.left, y}, {frame.right(), y}, {faint, 0.5, {}});
    TextStyle style = mark_style;
    style.align = Align::right;
    canvas.text({frame.left - 4.0, y - 4.5}, number(mark), style);
  }
  for (const double mark : level.marks) {
    const double x = placed(mark, level, frame.left, frame.right());
    canvas.line({x, frame.bottom()}, {x, frame.bottom() + 3.0}, {soft_ink, 0.6, {}});
    TextStyle style = mark_style;
    style.align = Align::centre;
    if (level_marks) canvas.text({x, frame.bottom() + 4.0}, number(mark), style);
  }
}

}  // namespace

Axis round_axis(double low, double high, int count) {
  if (!std::isfinite(low) || !std::isfinite(high)) throw std::invalid_argument("an axis needs two numbers");
  if (!(high - low > 1e-9 * std::max(std::abs(low), std::abs(high))))
    high = low + std::max(1.0, std::abs(low));
  const double rough = (high - low) / std::max(count, 1);
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  double step = 10.0 * power;
  for (const double factor : {5.0, 2.0, 1.0})
    if (factor * power >= rough * 0.999) step = factor * power;
  Axis out{std::floor(low / step + 1e-9) * step, std::ceil(high / step - 1e-9) * step, {}};
  for (int n = 0; out.low + n * step <= out.high + 0.5 * step; ++n) out.marks.push_back(out.low + n * step);
  return out;
}

namespace {

/// The ends of the shaded stretch, which a curve's band may hide, and the marked place.
void draw_places(Canvas& canvas, const Shaded& shaded, const Axis& level, const Box& frame) {
  const auto upright = [&](double value, const Stroke& stroke) {
    if (value <= level.low || value >= level.high) return;
    const double x = placed(value, level, frame.left, frame.right());
    canvas.line({x, frame.top}, {x, frame.bottom()}, stroke);
  };
  if (shaded.to > shaded.from) {
    upright(shaded.from, {soft_ink, 0.6, {}});
    upright(shaded.to, {soft_ink, 0.6, {}});
  }
  if (shaded.mark) upright(*shaded.mark, {ink, 0.9, {3.0, 2.0}});
}

/// The line's height at a place, by straight lines between its points.
double height_at(const std::vector<Point>& line, double x) {
  const auto next =
      std::lower_bound(line.begin(), line.end(), x, [](const Point& p, double at) { return p.x < at; });
  if (next == line.end()) return line.back().y;
  if (next == line.begin() || next->x <= x) return next->y;
  const Point before = *std::prev(next);
  return before.y + (next->y - before.y) * (x - before.x) / (next->x - before.x);
}

}  // namespace

std::vector<Between> band_along(const std::vector<Point>& line, const std::vector<Between>& known,
                                double floor, double ceiling) {
  std::vector<Between> out;
  if (line.empty()) return out;
  const auto add = [&](double x, double y, double below, double above) {
    out.push_back({x, std::max(y + below, floor), std::min(y + above, ceiling)});
  };
  for (std::size_t k = 0; k < known.size(); ++k) {
    const Between& here = known[k];
    const double y = height_at(line, here.x);
    add(here.x, y, here.low - y, here.high - y);
    if (k + 1 == known.size()) break;
    const Between& next = known[k + 1];
    const double y_next = height_at(line, next.x);
    for (const Point& p : line) {
      if (p.x <= here.x || p.x >= next.x) continue;
      const double part = (p.x - here.x) / (next.x - here.x);
      add(p.x, p.y, std::lerp(here.low - y, next.low - y_next, part),
          std::lerp(here.high - y, next.high - y_next, part));
    }
  }
  return out;
}

double draw_panel(Canvas& canvas, const Panel& panel, const Axis& level, const Shaded& shaded, double left,
                  double right, double top, double name_width, bool level_marks) {
  const double caption =
      canvas.text({left, top}, panel.caption, {8.0, true, ink, Align::left, right - left + name_width})
          .height;
  const Box frame{left, top + caption + 4.0, right - left, panel.height};
  const Axis upright = upright_axis(panel);
  if (shaded.to > shaded.from) {
    const double from = placed(std::max(shaded.from, level.low), level, frame.left, frame.right());
    const double to = placed(std::min(shaded.to, level.high), level, frame.left, frame.right());
    canvas.fill(Box{from, frame.top, to - from, frame.height}, shade);
  }
  for (const Curve& curve : panel.curves)
    canvas.fill(std::vector<Loop>{band_outline(curve.band, level, upright, frame)}, curve.band_colour);
  draw_marks(canvas, level, upright, frame, level_marks);
  draw_places(canvas, shaded, level, frame);
  for (const Curve& curve : panel.curves) draw_curve(canvas, curve, level, upright, frame);
  canvas.line({{frame.left, frame.top}, {frame.left, frame.bottom()}, {frame.right(), frame.bottom()}},
              {soft_ink, 0.8, {}});
  draw_names(canvas, panel, upright, frame, name_width);
  return frame.bottom() + (level_marks ? 14.0 : 5.0);
}

}  // namespace updraught
