#include "tests/outside/bed_plots.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>
#include <utility>

#include "post/result/tried_beds.h"
#include "post/sheets/chart_panel.h"

namespace updraught::outside {

namespace {

constexpr double margin = 8.0;
constexpr double axis_width = 26.0;
constexpr double gap = 14.0;
constexpr double plot_height = 52.0;
constexpr int points_of_a_line = 240;
constexpr int points_of_a_band = 60;

/// What a plot has on its upright axis: a quantity by day, somewhere in the bed.
using Plotted = std::pair<std::string, std::string>;

/// The quantity by day behind a row: days and highest values are read off the same course.
std::string by_day(const MeasuredRow& row) {
  if (row.quantity == "day of" || row.quantity == "highest temperature") return "temperature";
  return row.quantity == "lowest oxygen" ? "oxygen" : row.quantity;
}

bool is_of(const MeasuredRow& row, const Plotted& what) {
  return row.other.empty() && Plotted{by_day(row), row.place} == what;
}

/// Temperature where any was measured, else what most values were measured of; differences of places last.
Plotted most_measured(const PublishedBed& bed) {
  std::map<Plotted, int> weight;
  for (const MeasuredRow& row : bed.rows) {
    if (!row.other.empty()) continue;
    const bool difference = row.place.find(" less ") != std::string::npos;
    weight[{by_day(row), row.place}] += difference ? 1 : by_day(row) == "temperature" ? 1000 : 10;
  }
  if (weight.empty()) throw std::invalid_argument(bed.name + " has only differences to other beds");
  return std::max_element(weight.begin(), weight.end(),
                          [](const auto& a, const auto& b) { return a.second < b.second; })
      ->first;
}

double value_at(const Plotted& what, const History& history, double day) {
  MeasuredRow row;
  row.quantity = what.first;
  row.place = what.second;
  row.from = row.to = day;
  return value_of(row, history, [](const std::string& name) -> const History& {
    throw std::invalid_argument("no difference to " + name + " is plotted");
  });
}

std::vector<Between> likely(const Plotted& what, const std::vector<History>& beds, double end) {
  std::vector<Between> out;
  for (int n = 0; n <= points_of_a_band && !beds.empty(); ++n) {
    const double day = end * n / points_of_a_band;
    std::vector<double> values;
    for (const History& bed : beds) values.push_back(value_at(what, bed, day));
    const Band band = band_of(values);
    out.push_back({day, band.low, band.high});
  }
  return out;
}

/// The span of the upright axis (at least).
std::pair<double, double> reach_of(const Plotted& what) {
  if (what.first == "temperature") return {0.0, 80.0};
  if (what.second.find(" less ") != std::string::npos) return {-10.0, 10.0};
  if (what.first == "oxygen") return {0.0, 21.0};
  if (what.first.ends_with("left")) return {0.0, 100.0};
  return {0.0, 40.0};
}

/// A box over days and values; one day's has dots at its ends. What is measured on one side only reaches to
/// the end.
Curve measured(const MeasuredRow& row, const std::pair<double, double>& reach) {
  double from = row.from, to = row.to;
  double low = row.low.value_or(reach.first), high = row.high.value_or(reach.second);
  if (row.quantity == "day of") {
    from = row.low.value_or(0.0);
    to = row.high.value_or(from);
    low = high = row.degrees;
  }
  Curve out;
  out.stroke = {ink, 1.4, {}};
  out.points = {{from, low}, {to, low}, {to, high}, {from, high}, {from, low}};
  out.dots = from == to;
  return out;
}

Panel panel_of(const ComputedBed& one) {
  const Plotted what = most_measured(one.bed);
  const std::pair<double, double> reach = reach_of(what);
  const double end = one.as_stated.back().day;
  Panel out;
  std::string name = one.bed.name;
  std::replace(name.begin(), name.end(), '-', ' ');
  const auto first = std::find_if(one.bed.rows.begin(), one.bed.rows.end(),
                                  [&](const MeasuredRow& row) { return is_of(row, what); });
  const std::string unit = what.first == "temperature"       ? "°C"
                           : what.first == "air that enters" ? "m³/(t h)"
                                                             : first->unit;
  out.caption =
      fmt::format("{}: {}{}, {}", name, what.first, what.second == "-" ? "" : " " + what.second, unit);
  out.letters = 7.2;
  out.height = plot_height;
  out.low = reach.first;
  out.high = reach.second;
  Curve computed;
  computed.stroke = {warm_line, 1.3, {}};
  computed.band = likely(what, one.plausible, end);
  computed.band_colour = warm_band;
  for (int n = 0; n <= points_of_a_line; ++n) {
    const double day = end * n / points_of_a_line;
    computed.points.push_back({day, value_at(what, one.as_stated, day)});
  }
  out.curves.push_back(std::move(computed));
  for (const MeasuredRow& row : one.bed.rows)
    if (is_of(row, what)) out.curves.push_back(measured(row, reach));
  return out;
}

Axis days_of(const ComputedBed& one) {
  const double end = one.as_stated.back().day;
  Axis level = round_axis(0.0, end, 6);
  level.high = end;
  std::erase_if(level.marks, [&](double mark) { return mark > end * (1.0 + 1e-9); });
  level.first_mark = "day";
  return level;
}

struct Plot {
  Panel panel;
  Axis days;
};

double draw_plots(Canvas& canvas, const std::vector<Plot>& plots, double width, double y) {
  const double half = 0.5 * (width - 2.0 * margin - gap);
  double lower = y;
  for (std::size_t n = 0; n < plots.size(); ++n) {
    const double left = margin + (n % 2 == 0 ? 0.0 : half + gap);
    if (n % 2 == 0) y = lower;
    const double end =
        draw_panel(canvas, plots[n].panel, plots[n].days, {}, left + axis_width, left + half, y, 0.0, true);
    lower = std::max(n % 2 == 0 ? end : lower, end) + (n % 2 == 0 ? 0.0 : 5.0);
  }
  return lower;
}

constexpr const char* legend =
    "Line: the case as its file states it. Shaded, where they were computed: 8 of 10 of the plausible beds. "
    "Dots and boxes: measured; a box is a range of values over a stretch of days, open sides reach to the "
    "end "
    "of the axis. Where a highest value was measured, the line need only touch its box; where the day of a "
    "temperature was, it should cross the bar.";

}  // namespace

Drawing bed_plots(const std::vector<ComputedBed>& beds, const std::string& use) {
  std::vector<Plot> plots;
  for (const ComputedBed& one : beds)
    if (one.bed.use == use) plots.push_back({panel_of(one), days_of(one)});
  if (plots.empty()) throw std::invalid_argument("no bed is " + use);
  Drawing out;
  out.name = "published-beds-" + use;
  out.title = use == "testing" ? "Beds that were built and measured, never used to set defaults"
                               : "Beds that were built and measured, which may have set defaults";
  out.description = fmt::format(
      "{} small plots over days: computed lines beside measured values; the table in "
      "checks.md holds the same in numbers.",
      plots.size());
  out.draw = [plots, title = out.title, width = out.width](Canvas& canvas) {
    const double inner = width - 2.0 * margin;
    double y =
        margin + canvas.text({margin, margin}, title, {11.0, true, ink, Align::left, inner}).height + 3.0;
    y += canvas.text({margin, y}, legend, {7.5, false, soft_ink, Align::left, inner}).height + 7.0;
    return draw_plots(canvas, plots, width, y) + margin;
  };
  return out;
}

}  // namespace updraught::outside
