#include "post/sheets/charts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "post/sheets/chart_panel.h"
#include "post/sheets/time_strip.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double margin = 8.0;
constexpr double axis_width = 36.0;
constexpr double name_width = 96.0;
constexpr double day = 86400.0;

using Value = double (*)(const SeriesRow&);

std::vector<Point> over_days(const std::vector<SeriesRow>& series, Value value) {
  std::vector<Point> out;
  out.reserve(series.size());
  for (const SeriesRow& row : series) out.push_back({row.time / day, value(row)});
  return out;
}

std::vector<Panel> course_panels(const Result& result) {
  const std::vector<SeriesRow>& rows = result.run.series;
  const Curve hottest{"hottest part",
                      over_days(rows, [](const SeriesRow& r) { return r.hottest; }),
                      {warmth_colours[5], 1.5, {}},
                      bands_by_day(result, "hottest_c", 1.0),
                      warm_band,
                      false};
  const Curve mean{"mean",
                   over_days(rows, [](const SeriesRow& r) { return r.mean_temperature; }),
                   {warm_line, 1.5, {5.0, 1.5}},
                   {},
                   warm_band,
                   false};
  const Curve coldest{"coldest part",
                      over_days(rows, [](const SeriesRow& r) { return r.coldest; }),
                      {warmth_colours[3], 1.2, {2.5, 1.5}},
                      {},
                      warm_band,
                      false};
  const Curve outside{"outside",
                      over_days(rows, [](const SeriesRow& r) { return r.outside_temperature; }),
                      {soft_ink, 0.8, {1.0, 1.5}},
                      {},
                      warm_band,
                      false};
  const auto air = [&](Value value, const std::string& band, double factor) {
    return Curve{
        "", over_days(rows, value), {air_line, 1.5, {}}, bands_by_day(result, band, factor), air_band, false};
  };
  const Curve aired = air([](const SeriesRow& r) { return 100.0 * r.aired_share; }, "aired_share", 100.0);
  const Curve flow =
      air([](const SeriesRow& r) { return r.air_in * 1000.0 / 60.0; }, "air_in_m3_h", 1000.0 / 60.0);
  Curve height = air([](const SeriesRow& r) { return 100.0 * r.height; }, "height_m", 100.0);
  height.stroke.colour = wall_edge;
  height.band_colour = shade;
  Panel air_panel{"Part of the bed with enough air (oxygen above 5 %), %", {aired}, 0.0, 100.0, 70.0};
  air_panel.moments = air_moments(rows);
  return {{"Temperature, °C", {hottest, mean, coldest, outside}, 0.0, 60.0, 110.0},
          air_panel,
          {"Air that passes through, litres a minute", {flow}, 0.0, 0.0, 56.0},
          {"Height of the bed, cm", {height}, 0.0, 0.0, 46.0}};
}

double end_of_title(Canvas& canvas, const std::string& title, const std::string& below, double width) {
  double y =
      margin +
      canvas.text({margin, margin}, title, {13.0, true, ink, Align::left, width - 2.0 * margin}).height;
  y +=
      2.0 +
      canvas.text({margin, y + 2.0}, below, {8.5, false, soft_ink, Align::left, width - 2.0 * margin}).height;
  return y + 8.0;
}

bool any_name(const std::vector<Panel>& panels) {
  for (const Panel& panel : panels)
    for (const Curve& curve : panel.curves)
      if (!curve.name.empty()) return true;
  return false;
}

double draw_stack(Canvas& canvas, const std::vector<Panel>& panels, const Axis& level, const Shaded& shaded,
                  double width, double y, const std::string& level_caption) {
  const double left = margin + axis_width;
  const double names = any_name(panels) ? name_width : 12.0;
  const double right = width - margin - names;
  for (std::size_t p = 0; p < panels.size(); ++p)
    y = draw_panel(canvas, panels[p], level, shaded, left, right, y, names, p + 1 == panels.size()) + 6.0;
  y -= 4.0;
  y += canvas.text({0.5 * (left + right), y}, level_caption, {8.0, false, ink, Align::centre, 0.0}).height;
  return y;
}

std::string course_description(const Result& result) {
  const SeriesRow& last = result.run.series.back();
  double hottest = std::numeric_limits<double>::quiet_NaN();
  double when = 0.0;
  for (const SeriesRow& row : result.run.series) {
    if (!std::isfinite(row.hottest) || row.hottest <= hottest) continue;
    hottest = row.hottest;
    when = row.time / day;
  }
  return fmt::format(
      "Course over {:.1f} days. The hottest part reaches about {} on day {:.0f}. At the end the mean "
      "temperature is about "
      "{}, {} of the bed has enough air (oxygen above 5 %), {} litres of air a minute pass "
      "through and the bed is {} cm high. Computed, not measured.",
      last.time / day, rounded_temperature(hottest), when, rounded_temperature(last.mean_temperature),
      percent(last.aired_share), rounded(last.air_in * 1000.0 / 60.0, 1), rounded(100.0 * last.height));
}

std::vector<Panel> blend_panels(const std::vector<BlendChartPoint>& points) {
  Curve works{"", {}, {ink, 1.5, {}}, {}, shade, true};
  Curve airless{"", {}, {air_line, 1.5, {}}, {}, air_band, true};
  Curve hottest{"", {}, {warm_line, 1.5, {}}, {}, warm_band, true};
  Curve between{"", {}, {amount_colours[4], 1.5, {}}, {}, shade, true};
  for (const BlendChartPoint& p : points) {
    const double x = 100.0 * p.share;
    works.points.push_back({x, 10.0 * p.works_in});
    airless.points.push_back({x, 100.0 * p.airless_share});
    hottest.points.push_back({x, p.hottest});
    between.points.push_back({x, 100.0 * p.base_air_between});
  }
  std::vector<Panel> panels;
  if (std::isfinite(points.front().works_in))
    panels.push_back({"Works in so many of 10 plausible beds", {works}, 0.0, 10.0, 84.0});
  panels.push_back(
      {"This bed's hours without enough air (oxygen below 5 %), %", {airless}, 0.0, 100.0, 64.0});
  panels.push_back({"Hottest, °C", {hottest}, 0.0, 60.0, 64.0});
  panels.push_back(
      {"Open pores (air between the pieces) at the base, % of the space", {between}, 0.0, 40.0, 54.0});
  return panels;
}

std::string percent_range(const BlendChartRange& range) {
  return fmt::format("{:.0f}–{:.0f} %", 100.0 * range.from, 100.0 * range.to);
}

std::string blend_description(const std::vector<BlendChartPoint>& points,
                              const std::optional<BlendChartRange>& range) {
  std::string out = "Woodchip share in % of the buckets, hours of the bed without enough air, hottest: ";
  for (std::size_t n = 0; n < points.size(); ++n)
    out += fmt::format("{}{}: {}, {} °C", n == 0 ? "" : "; ", percent(points[n].share),
                       percent(points[n].airless_share), rounded(points[n].hottest));
  out += range ? ". Working range " + percent_range(*range) + ". " : ". No share works. ";
  return out + "Computed, not measured.";
}

/// What the marked share gives, in a sentence; empty without a mark.
std::string mark_sentence(const std::vector<BlendChartPoint>& points,
                          const std::optional<BlendChartMark>& mark) {
  if (!mark) return "";
  const auto there = std::find_if(points.begin(), points.end(), [&](const BlendChartPoint& p) {
    return std::abs(p.share - mark->share) < 1e-6;
  });
  if (there == points.end()) throw std::invalid_argument("the marked share is none of the computed ones");
  return fmt::format(
      "{} ({} chips): {} of the bed's hours go without air, the hottest part reaches about {}.", mark->words,
      percent(mark->share), percent(there->airless_share), rounded_temperature(there->hottest));
}

}  // namespace

Drawing time_course(const Result& result, const std::string& title, const std::string& file_name) {
  if (result.run.series.empty()) throw std::invalid_argument("a case without rows has no course to draw");
  Drawing out;
  out.name = file_name;
  out.title = title;
  out.description = course_description(result);
  const std::vector<Panel> panels = course_panels(result);
  Axis level = round_axis(0.0, result.run.series.back().time / day, 7);
  level.high = std::max(result.run.series.back().time / day, 1e-6);
  std::erase_if(level.marks, [&](double mark) { return mark > level.high * (1.0 + 1e-9); });
  const bool banded = !result.bands.empty();
  out.draw = [panels, level, banded, title, name = result.name, width = out.width](Canvas& canvas) {
    double y = end_of_title(canvas, title, name, width);
    y = draw_stack(canvas, panels, level, {}, width, y, "days since filling") + 6.0;
    const TextStyle note{7.5, false, soft_ink, Align::left, width - 2.0 * margin};
    if (banded)
      y += canvas.text({margin, y}, "Shaded: 8 of 10 plausible beds, at the end of each day.", note).height;
    y += canvas.text({margin, y}, "Computed, not measured.", {7.5, true, ink}).height;
    return y + margin;
  };
  return out;
}

Drawing blend_chart(const std::vector<BlendChartPoint>& points, const std::optional<BlendChartRange>& range,
                    const std::optional<BlendChartMark>& mark, const std::string& title,
                    const std::string& file_name) {
  if (points.size() < 2) throw std::invalid_argument("a curve needs at least two shares");
  Drawing out;
  out.name = file_name;
  out.title = title;
  const std::string marked = mark_sentence(points, mark);
  out.description = (marked.empty() ? "" : marked + " ") + blend_description(points, range);
  const auto [least, most] = std::minmax_element(
      points.begin(), points.end(),
      [](const BlendChartPoint& a, const BlendChartPoint& b) { return a.share < b.share; });
  const Axis level = round_axis(100.0 * least->share, 100.0 * most->share, 7);
  const std::vector<Panel> panels = blend_panels(points);
  Shaded shaded = range ? Shaded{100.0 * range->from, 100.0 * range->to} : Shaded{};
  if (mark) shaded.mark = 100.0 * mark->share;
  out.draw = [panels, level, shaded, range, marked, title, width = out.width](Canvas& canvas) {
    const std::string below = range
                                  ? "Shaded: the working range, " + percent_range(*range) + " of the buckets"
                                  : "No share works in this bin.";
    double y = end_of_title(canvas, title, below, width);
    y = draw_stack(canvas, panels, level, shaded, width, y, "woodchip, % of the buckets") + 8.0;
    const TextStyle words{8.5, false, ink, Align::left, width - 2.0 * margin};
    if (range && !range->below.empty())
      y +=
          canvas.text({margin, y}, fmt::format("Below {:.0f} %: ", 100.0 * range->from) + range->below, words)
              .height +
          2.0;
    if (range && !range->above.empty())
      y += canvas.text({margin, y}, fmt::format("Above {:.0f} %: ", 100.0 * range->to) + range->above, words)
               .height +
           2.0;
    if (!marked.empty()) y += canvas.text({margin, y}, "Dashed: " + marked, words).height + 2.0;
    const TextStyle note{7.5, false, soft_ink, Align::left, width - 2.0 * margin};
    y += canvas
             .text({margin, y + 2.0},
                   "Plausible beds: this case with all that is uncertain within its ranges.", note)
             .height +
         2.0;
    y += canvas.text({margin, y}, "Computed, not measured.", {7.5, true, ink}).height;
    return y + margin;
  };
  return out;
}

}  // namespace updraught
