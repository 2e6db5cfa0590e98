// The day that a sheet should show.
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

#include "post/sheets/sheets.h"

namespace updraught {

namespace {

constexpr double day = 86400.0;
/// Beds with at least this share of air are short of it nowhere; our choice, as for the sentences.
constexpr double all_aired = 0.985;
/// Shares that differ by less are not told apart; our choice, as in comparisons.
constexpr double hardly = 0.02;

/// What no reader of a sheet tells apart: of days that look alike the first is shown.
constexpr double same_share = 0.005;
constexpr double same_warmth = 0.5;  ///< degC

using Value = double SeriesRow::*;

SeriesRow row_of(const Result& result, double time) {
  return row_at(result.run.series, std::clamp(time, 0.0, result.run.series.back().time));
}

/// By how much the designs differ at a time; less than nothing where one of them holds no picture of it.
double spread(std::span<const Result> results, double time, Value value) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const Result& result : results) {
    const bool shown =
        std::any_of(result.pictures.begin(), result.pictures.end(),
                    [time](const Picture& picture) { return std::abs(picture.time - time) < 0.02 * day; });
    if (!shown) return -1.0;
    const double here = row_of(result, time).*value;
    low = std::min(low, here);
    high = std::max(high, here);
  }
  return high - low;
}

/// The largest value of a measure over the pictures' times, and the first time that comes near enough to it.
template <class Measure>
std::pair<double, double> most_of(const std::vector<Picture>& pictures, double near_enough,
                                  const Measure& measure) {
  double most = -std::numeric_limits<double>::infinity();
  for (const Picture& picture : pictures) most = std::max(most, measure(picture.time));
  const auto first = std::find_if(pictures.begin(), pictures.end(), [&](const Picture& picture) {
    return measure(picture.time) >= most - near_enough;
  });
  return {first == pictures.end() ? pictures.front().time : first->time, most};
}

/// A day and what it is that it shows.
struct TellingDay {
  double day;
  const char* why;
};

TellingDay telling(std::span<const Result> results) {
  if (results.empty()) throw std::invalid_argument("without results there is no day to show");
  for (const Result& result : results)
    if (result.pictures.empty() || result.run.series.empty())
      throw std::invalid_argument("the case '" + result.name + "' holds no pictures");
  const Result& first = results.front();
  if (first.problem.told_day > 0.0)
    return {std::min(first.problem.told_day, first.pictures.back().time / day), "which the case names"};
  const bool alone = results.size() == 1;
  const auto [time, air] = most_of(first.pictures, same_share, [&](double at) {
    return alone ? 1.0 - row_of(first, at).aired_share : spread(results, at, &SeriesRow::aired_share);
  });
  if (air > (alone ? 1.0 - all_aired : hardly))
    return {time / day, alone ? "when it has least air" : "when they differ most in air"};
  const auto warmest = most_of(first.pictures, same_warmth, [&](double at) {
    return alone ? row_of(first, at).hottest : spread(results, at, &SeriesRow::hottest);
  });
  return {warmest.first / day, alone ? "when it is hottest" : "when they differ most in warmth"};
}

}  // namespace

double day_to_draw(std::span<const Result> results) {
  return telling(results).day;
}

std::string why_drawn(std::span<const Result> results, double drawn) {
  const TellingDay shown = telling(results);
  return std::abs(shown.day - drawn) < 1e-9 ? shown.why : "";
}

}  // namespace updraught
