#include "post/result/course.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace updraught {

namespace {

constexpr double going_from = 45.0;
constexpr double hot_from = 55.0;
/// A bed has its air where at least this share has enough ...
constexpr double half = 0.5;
/// ... and loses or regains it where that has changed for so long (s): a day, so that neither a cold night
/// nor a step's noise counts.
constexpr double for_so_long = 86400.0;

using Value = double SeriesRow::*;

/// Where a straight line between two rows passes a value, as a share of the way.
double crossing(double from, double to, double value) {
  return (value - from) / (to - from);
}

double time_between(const SeriesRow& a, const SeriesRow& b, double share) {
  return a.time + share * (b.time - a.time);
}

/// First time at which a value reaches a threshold.
std::optional<double> first_reach(const std::vector<SeriesRow>& rows, Value value, double threshold) {
  if (rows.front().*value >= threshold) return rows.front().time;
  for (std::size_t n = 1; n < rows.size(); ++n) {
    const double from = rows[n - 1].*value, to = rows[n].*value;
    if (to >= threshold) return time_between(rows[n - 1], rows[n], crossing(from, to, threshold));
  }
  return {};
}

double hours_above(const std::vector<SeriesRow>& rows, Value value, double threshold) {
  double seconds = 0.0;
  for (std::size_t n = 1; n < rows.size(); ++n) {
    const double from = rows[n - 1].*value - threshold, to = rows[n].*value - threshold;
    const double length = rows[n].time - rows[n - 1].time;
    if (from >= 0.0 && to >= 0.0) seconds += length;
    if ((from >= 0.0) != (to >= 0.0)) seconds += length * std::max(from, to) / std::abs(to - from);
  }
  return seconds / 3600.0;
}

/// Mean over time of a value that goes straight from row to row.
double mean_over_time(const std::vector<SeriesRow>& rows, Value value) {
  double sum = 0.0;
  for (std::size_t n = 1; n < rows.size(); ++n)
    sum += 0.5 * (rows[n].*value + rows[n - 1].*value) * (rows[n].time - rows[n - 1].time);
  const double length = rows.back().time - rows.front().time;
  return length > 0.0 ? sum / length : rows.back().*value;
}

/// Mean over time of the share without enough air, from a time on.
double airless_from(const std::vector<SeriesRow>& rows, double start) {
  double sum = 0.0;
  for (std::size_t n = 1; n < rows.size(); ++n) {
    const SeriesRow &a = rows[n - 1], &b = rows[n];
    const double begin = std::max(a.time, start);
    if (b.time <= begin) continue;
    const double share = crossing(a.time, b.time, begin);
    const double there = a.aired_share + share * (b.aired_share - a.aired_share);
    sum += (b.time - begin) * (1.0 - 0.5 * (there + b.aired_share));
  }
  const double length = rows.back().time - start;
  return length > 0.0 ? sum / length : 1.0 - rows.back().aired_share;
}

/// First time, not before `start`, from which the aired share stays at or above (or below) a half for a day.
std::optional<double> stays(const std::vector<SeriesRow>& rows, double start, bool above) {
  const auto holds = [&](const SeriesRow& row) { return (row.aired_share >= half) == above; };
  std::optional<double> since;
  for (std::size_t n = 0; n < rows.size(); ++n) {
    if (rows[n].time < start) continue;
    if (!holds(rows[n])) {
      since.reset();
      continue;
    }
    if (!since) {
      const bool crossed = n > 0 && !holds(rows[n - 1]);
      const auto passed = [&] {
        return time_between(rows[n - 1], rows[n],
                            crossing(rows[n - 1].aired_share, rows[n].aired_share, half));
      };
      since = crossed ? std::max(start, passed()) : rows[n].time;
    }
    if (rows[n].time - *since >= for_so_long) return since;
  }
  return {};
}

void note_air(const std::vector<SeriesRow>& rows, Course& out) {
  const auto worst = std::min_element(rows.begin(), rows.end(), [](const SeriesRow& a, const SeriesRow& b) {
    return a.aired_share < b.aired_share;
  });
  out.worst_share = worst->aired_share;
  out.worst_at = worst->time;
  out.airless_share = airless_from(rows, rows.front().time);
  if (out.going) out.airless_since_going = airless_from(rows, *out.going);
  out.lost = stays(rows, rows.front().time, false);
  if (out.lost) out.regained = stays(rows, *out.lost, true);
  if (out.regained) out.died = stays(rows, *out.regained, false);
  out.mean_air_in = mean_over_time(rows, &SeriesRow::air_in);
}

void note_matter(const std::vector<SeriesRow>& rows, Course& out) {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  const SeriesRow& last = rows.back();
  const double wet = last.water + last.dry_mass;
  out.height_at_end = last.height;
  out.moisture_at_end = wet > 0.0 ? last.water / wet : none;
  const double went_in = rows.front().dry_mass + last.filled_dry;
  out.dry_mass_lost = went_in > 0.0 ? (went_in - last.dry_mass) / went_in : none;
}

void note_warmth(const std::vector<SeriesRow>& rows, Course& out) {
  out.going = first_reach(rows, &SeriesRow::hottest, going_from);
  out.hot = first_reach(rows, &SeriesRow::hottest, hot_from);
  out.mean_going = first_reach(rows, &SeriesRow::mean_temperature, going_from);
  out.hours_hot = hours_above(rows, &SeriesRow::hottest, hot_from);
  out.hours_mean_going = hours_above(rows, &SeriesRow::mean_temperature, going_from);
  out.hours_coldest_hot = rows.back().coldest_hours_hot;
  out.mean_temperature = mean_over_time(rows, &SeriesRow::mean_temperature);
  const auto hottest = std::max_element(
      rows.begin(), rows.end(), [](const SeriesRow& a, const SeriesRow& b) { return a.hottest < b.hottest; });
  out.hottest = hottest->hottest;
  out.hottest_at = hottest->time;
}

}  // namespace

Course course_of(const std::vector<SeriesRow>& series) {
  if (series.empty()) throw std::invalid_argument("a run without rows has no course");
  Course out;
  out.duration = series.back().time - series.front().time;
  note_warmth(series, out);
  note_air(series, out);
  note_matter(series, out);
  return out;
}

std::optional<double> airs_from(const Course& course) {
  if (!course.lost) return 0.0;
  return course.died ? std::nullopt : course.regained;
}

}  // namespace updraught
