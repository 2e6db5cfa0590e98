// The numbers of the sheets.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

#include "post/sheets/sheets.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double day_seconds = 86400.0;

SeriesRow row_on(const Result& result, double day) {
  if (result.run.series.empty()) throw std::invalid_argument("the case '" + result.name + "' holds no rows");
  return row_at(result.run.series, std::clamp(day * day_seconds, 0.0, result.run.series.back().time));
}

/// Low and high of a whole day; nothing on other days.
const Band* band_on(const Result& result, double day, const std::string& name) {
  const long number = std::lround(day);
  if (std::abs(day - static_cast<double>(number)) > 0.01 || number < 1) return nullptr;
  if (static_cast<std::size_t>(number) > result.bands.size()) return nullptr;
  const DayBands& bands = result.bands[static_cast<std::size_t>(number) - 1];
  const auto found = bands.find(name);
  return found == bands.end() ? nullptr : &found->second;
}

std::string with_band(double value, const Band* band, double factor, int digits, const std::string& unit) {
  if (!std::isfinite(value)) return "unknown";
  std::string middle = fmt::format("{:.{}f} {}", factor * value, digits, unit);
  if (band == nullptr || !std::isfinite(band->low) || !std::isfinite(band->high)) return middle;
  const std::string low = fmt::format("{:.{}f}", factor * band->low, digits);
  const std::string high = fmt::format("{:.{}f}", factor * band->high, digits);
  return low == high ? middle : fmt::format("{} ({}–{})", middle, low, high);
}

/// Temperatures are quoted no finer than 5 °C: nothing computed or published is better than that.
std::string temperature_with_band(double value, const Band* band) {
  if (!std::isfinite(value)) return "unknown";
  if (band == nullptr || !std::isfinite(band->low) || !std::isfinite(band->high))
    return rounded_temperature(value);
  const auto five = [](double t) { return 5 * std::lround(t / 5.0); };
  if (five(band->low) == five(band->high)) return rounded_temperature(value);
  return fmt::format("{} ({}–{})", rounded_temperature(value), five(band->low), five(band->high));
}

/// Rows of numbers, one column per case and day.
SheetTable numbers(const std::vector<std::pair<const Result*, double>>& columns) {
  SheetTable out(5);
  out[0] = {"Part with enough air (oxygen above 5 %)"};
  out[1] = {"Air that passes through"};
  out[2] = {"Hottest"};
  out[3] = {"Mean temperature"};
  out[4] = {"Height of the bed"};
  for (const auto& [result, day] : columns) {
    const SeriesRow row = row_on(*result, day);
    const double litres = 1000.0 / 60.0;
    out[0].push_back(with_band(row.aired_share, band_on(*result, day, "aired_share"), 100.0, 0, "%"));
    out[1].push_back(with_band(row.air_in, band_on(*result, day, "air_in_m3_h"), litres,
                               litres * row.air_in < 9.95 ? 1 : 0, "L/min"));
    out[2].push_back(temperature_with_band(row.hottest, band_on(*result, day, "hottest_c")));
    out[3].push_back(
        temperature_with_band(row.mean_temperature, band_on(*result, day, "mean_temperature_c")));
    out[4].push_back(with_band(row.height, band_on(*result, day, "height_m"), 100.0, 0, "cm"));
  }
  return out;
}

}  // namespace

std::size_t picture_near(const Result& result, double day) {
  if (result.pictures.empty())
    throw std::invalid_argument("the case '" + result.name + "' holds no pictures");
  std::size_t best = 0;
  for (std::size_t p = 1; p < result.pictures.size(); ++p) {
    const auto away = [&](std::size_t n) { return std::abs(result.pictures[n].time - day * day_seconds); };
    if (away(p) < away(best)) best = p;
  }
  return best;
}

SheetTable numbers_of_cases(const std::vector<Result>& results, double day) {
  std::vector<std::pair<const Result*, double>> columns;
  std::vector<std::string> heads{fmt::format("On day {:g}", day)};
  for (const Result& result : results) {
    columns.emplace_back(&result, day);
    heads.push_back(result.name);
  }
  SheetTable out = numbers(columns);
  out.insert(out.begin(), heads);
  return out;
}

SheetTable numbers_of_days(const Result& result, double shown_day) {
  if (result.run.series.empty()) throw std::invalid_argument("the case '" + result.name + "' holds no rows");
  const double end = result.run.series.back().time / day_seconds;
  std::set<double> days;
  // The picture's time is stored with a few digits less than a whole day has.
  const double shown = std::abs(shown_day - std::round(shown_day)) < 0.01 ? std::round(shown_day) : shown_day;
  for (const double day : {1.0, 3.0, 7.0, shown})
    if (day > 0.01 && day < end - 0.01) days.insert(day);
  // The last day counts as a whole one where it is, so that its bands are found.
  days.insert(std::abs(end - std::round(end)) < 0.01 && end > 0.5 ? std::round(end) : end);
  std::vector<std::pair<const Result*, double>> columns;
  std::vector<std::string> heads{""};
  for (const double day : days) {
    columns.emplace_back(&result, day);
    heads.push_back(std::abs(day - std::round(day)) < 0.01 ? fmt::format("Day {:.0f}", day)
                                                           : fmt::format("Day {:.1f}", day));
  }
  SheetTable out = numbers(columns);
  out.insert(out.begin(), heads);
  return out;
}

}  // namespace updraught
