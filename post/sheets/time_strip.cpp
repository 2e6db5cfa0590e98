#include "post/sheets/time_strip.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "post/result/course.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double day = 86400.0;
constexpr double axis_width = 20.0;  ///< pt, for the numbers beside a frame
constexpr double right_margin = 5.0;
/// So much more air than a day before is called a draught that strikes up; our choice.
constexpr double struck = 1.5;

/// A tenth of a day is finer than any of it is known.
std::string on_day(double seconds) {
  return day_name(std::round(10.0 * seconds / day) / 10.0);
}

/// What brings the air back: a draught, or microbes that breathe less.
std::string regained_words(const std::vector<SeriesRow>& series, double time) {
  const auto air = [&](double at) {
    return row_at(series, std::clamp(at, series.front().time, series.back().time)).air_in;
  };
  const bool draught = air(time + 0.5 * day) > struck * air(time - 0.5 * day);
  return (draught ? "draught brings air, " : "air back, ") + on_day(time);
}

Curve curve_of(const Result& result, double (*value)(const SeriesRow&), Colour line, Colour band) {
  Curve out;
  for (const SeriesRow& row : result.run.series) out.points.push_back({row.time / day, value(row)});
  out.stroke = {line, 1.3, {}};
  out.band_colour = band;
  return out;
}

Curve air_curve(const Result& result) {
  Curve out = curve_of(
      result, [](const SeriesRow& r) { return 100.0 * r.aired_share; }, air_line, air_band);
  out.band = bands_by_day(result, "aired_share", 100.0);
  return out;
}

Curve warmth_curve(const Result& result) {
  Curve out = curve_of(
      result, [](const SeriesRow& r) { return r.hottest; }, warm_line, warm_band);
  out.band = bands_by_day(result, "hottest_c", 1.0);
  return out;
}

double draw_part(Canvas& canvas, const TimeStrip& strip, std::size_t part, Point place, double width,
                 double frame_height, bool level_marks) {
  Panel panel = strip.panels.at(part);
  panel.height = frame_height;
  return draw_panel(canvas, panel, strip.days, {}, place.x + axis_width, place.x + width - right_margin,
                    place.y, right_margin, level_marks);
}

double room_of(Canvas& canvas, const TimeStrip& strip, std::size_t part, double width, bool level_marks) {
  return room_beside_frame(canvas, strip.panels.at(part), strip.days, axis_width, width - right_margin,
                           level_marks);
}

}  // namespace

std::vector<Between> bands_by_day(const Result& result, const std::string& name, double factor) {
  std::vector<Between> out;
  for (std::size_t d = 0; d < result.bands.size(); ++d) {
    const auto found = result.bands[d].find(name);
    if (found == result.bands[d].end()) continue;
    out.push_back({static_cast<double>(d) + 1.0, factor * found->second.low, factor * found->second.high});
  }
  return out;
}

std::vector<Moment> air_moments(const std::vector<SeriesRow>& series) {
  const Course course = course_of(series);
  if (!course.lost) return {};
  const double lost = *course.lost;
  const bool from_start = lost <= series.front().time;
  if (!course.regained)
    return {{lost / day, from_start ? "without air throughout" : "air lost from " + on_day(lost) + " on"}};
  const std::string words = from_start ? "no air at first" : "air lost, " + on_day(lost);
  return {{lost / day, words}, {*course.regained / day, regained_words(series, *course.regained)}};
}

StripScale strip_scale(std::span<const Result> results) {
  double end = 0.0;
  double low = 10.0;  // degC: what every bed passes through, so that the axis is one
  double high = 60.0;
  for (const Result& result : results) {
    end = std::max(end, result.run.series.back().time / day);
    const Curve warmth = warmth_curve(result);
    const auto reach = [&](double value) {
      if (!std::isfinite(value)) return;
      low = std::min(low, value);
      high = std::max(high, value);
    };
    for (const Point& p : warmth.points) reach(p.y);
    for (const Between& b : warmth.band) {
      reach(b.low);
      reach(b.high);
    }
  }
  StripScale out{round_axis(0.0, end, 5), round_axis(low, high, 4)};
  out.days.high = std::max(end, 1e-6);
  std::erase_if(out.days.marks, [&](double mark) { return mark > out.days.high * (1.0 + 1e-9); });
  out.days.first_mark = "day";
  return out;
}

TimeStrip time_strip(const Result& result, const StripScale& scale, double shown) {
  TimeStrip out;
  out.days = scale.days;
  Panel& air = out.panels[0];
  air.caption = "Part of the bed with enough air, %";
  air.curves = {air_curve(result)};
  air.upright = Axis{0.0, 100.0, {0.0, 50.0, 100.0}};
  air.moments = air_moments(result.run.series);
  Panel& warmth = out.panels[1];
  warmth.caption = "Hottest part, °C";
  warmth.curves = {warmth_curve(result)};
  warmth.upright = scale.warmth;
  for (Panel& panel : out.panels) {
    panel.letters = 7.2;
    if (shown > 0.02) panel.shown = shown;
  }
  return out;
}

double stacked_frame_height(Canvas& canvas, const TimeStrip& strip, double width, double height) {
  const double room = room_of(canvas, strip, 0, width, false) + room_of(canvas, strip, 1, width, true);
  return std::max(0.5 * (height - room), 14.0);
}

void draw_stacked_strip(Canvas& canvas, const TimeStrip& strip, Point place, double width,
                        double frame_height) {
  const double y = draw_part(canvas, strip, 0, place, width, frame_height, false);
  draw_part(canvas, strip, 1, {place.x, y}, width, frame_height, true);
}

double draw_strip_row(Canvas& canvas, const TimeStrip& strip, Point place, double width, double step,
                      double frame_height) {
  const double air = room_of(canvas, strip, 0, width, true);
  const double warmth = room_of(canvas, strip, 1, width, true);
  const double lower = std::max(air, warmth);
  // Both frames stand on one line.
  const double y = draw_part(canvas, strip, 0, {place.x, place.y + lower - air}, width, frame_height, true);
  draw_part(canvas, strip, 1, {place.x + step, place.y + lower - warmth}, width, frame_height, true);
  return y;
}

std::string strip_words(const Result& result) {
  const Course course = course_of(result.run.series);
  std::string out =
      fmt::format("Over {:.1f} days: the hottest part reaches about {} on {}; ", course.duration / day,
                  rounded_temperature(course.hottest), on_day(course.hottest_at));
  const std::vector<Moment> moments = air_moments(result.run.series);
  if (moments.empty()) return out + "at least half of the bed has enough air at nearly all times.";
  for (const Moment& moment : moments) out += moment.words + (&moment == &moments.back() ? "." : "; ");
  return out;
}

}  // namespace updraught
