#include "post/sheets/chart_panel.h"

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

/// Every how many-th mark gets its number, so that numbers do not touch; the first and the last have theirs.
std::size_t numbered_every(const Axis& upright, const Box& frame) {
  const std::size_t steps = std::max<std::size_t>(upright.marks.size(), 2) - 1;
  const double apart = frame.height / static_cast<double>(steps);
  std::size_t every = 1;
  while (every < steps && (steps % every != 0 || apart * static_cast<double>(every) < 9.0)) ++every;
  return every;
}

void draw_marks(Canvas& canvas, const Axis& level, const Axis& upright, const Box& frame, bool level_marks) {
  const std::size_t every = numbered_every(upright, frame);
  for (std::size_t n = 0; n < upright.marks.size(); ++n) {
    const double y = placed(upright.marks[n], upright, frame.bottom(), frame.top);
    canvas.line({frame.left, y}, {frame.right(), y}, {faint, 0.5, {}});
    TextStyle style = mark_style;
    style.align = Align::right;
    if (n % every == 0) canvas.text({frame.left - 4.0, y - 4.5}, number(upright.marks[n]), style);
  }
  for (const double mark : level.marks) {
    const double x = placed(mark, level, frame.left, frame.right());
    canvas.line({x, frame.bottom()}, {x, frame.bottom() + 3.0}, {soft_ink, 0.6, {}});
    TextStyle style = mark_style;
    style.align = Align::centre;
    const bool named = !level.first_mark.empty() && mark == level.marks.front();
    if (level_marks)
      canvas.text({x, frame.bottom() + 4.0}, (named ? level.first_mark + " " : "") + number(mark), style);
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

/// Words above the frame at their moments, those that would meet one line lower.
struct Lanes {
  std::vector<double> left;       ///< of each moment's words (pt)
  std::vector<std::size_t> lane;  ///< counted from the frame upwards
  std::size_t count = 0;
};

const TextStyle moment_style{7.2, false, ink, Align::left, 0.0};
constexpr double lane_height = 9.0;

Lanes lanes_of(Canvas& canvas, const Panel& panel, const Axis& level, double left, double right) {
  Lanes out;
  std::vector<double> ends;
  for (const Moment& moment : panel.moments) {
    const double width = canvas.measure(moment.words, moment_style).width;
    const double middle = placed(moment.x, level, left, right);
    out.left.push_back(std::max(left, std::min(middle - 0.5 * width, right - width)));
    std::size_t lane = 0;
    while (lane < ends.size() && ends[lane] + 5.0 > out.left.back()) ++lane;
    if (lane == ends.size()) ends.push_back(0.0);
    ends[lane] = out.left.back() + width;
    out.lane.push_back(lane);
  }
  out.count = ends.size();
  // Read from above, what comes first stands first.
  for (std::size_t& lane : out.lane) lane = out.count - 1 - lane;
  return out;
}

void draw_moments(Canvas& canvas, const Panel& panel, const Axis& level, const Box& frame) {
  const Lanes lanes = lanes_of(canvas, panel, level, frame.left, frame.right());
  const auto upright = [&](double x, const Stroke& stroke) {
    const double at = placed(x, level, frame.left, frame.right());
    canvas.line({at, frame.top}, {at, frame.bottom()}, stroke);
  };
  for (std::size_t n = 0; n < panel.moments.size(); ++n) {
    upright(panel.moments[n].x, {ink, 0.9, {3.0, 2.0}});
    const double top = frame.top - 1.0 - lane_height * static_cast<double>(lanes.lane[n] + 1);
    canvas.text({lanes.left[n], top}, panel.moments[n].words, moment_style);
  }
  if (panel.shown) upright(*panel.shown, {soft_ink, 0.7, {}});
}

TextStyle caption_style(const Panel& panel, double width) {
  return {panel.letters, true, ink, Align::left, width};
}

double room_above(Canvas& canvas, const Panel& panel, const Axis& level, double left, double right,
                  double caption_width) {
  const double caption = canvas.measure(panel.caption, caption_style(panel, caption_width)).height;
  const Lanes lanes = lanes_of(canvas, panel, level, left, right);
  return caption + 0.5 * panel.letters + lane_height * static_cast<double>(lanes.count);
}

double room_below(bool level_marks) {
  return level_marks ? 14.0 : 5.0;
}

}  // namespace

double room_beside_frame(Canvas& canvas, const Panel& panel, const Axis& level, double left, double right,
                         bool level_marks) {
  return room_above(canvas, panel, level, left, right, right - left) + room_below(level_marks);
}

double draw_panel(Canvas& canvas, const Panel& panel, const Axis& level, const Shaded& shaded, double left,
                  double right, double top, double name_width, bool level_marks) {
  const double caption_width = right - left + name_width;
  canvas.text({left, top}, panel.caption, caption_style(panel, caption_width));
  const Box frame{left, top + room_above(canvas, panel, level, left, right, caption_width), right - left,
                  panel.height};
  const Axis upright = panel.upright ? *panel.upright : upright_axis(panel);
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
  draw_moments(canvas, panel, level, frame);
  draw_names(canvas, panel, upright, frame, name_width);
  return frame.bottom() + room_below(level_marks);
}

}  // namespace updraught
