#include "post/result/summary.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "post/result/key_figures.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;
// A bed with less air than this on a day is short of it.
constexpr double short_of_air = 0.985;
// A last row closer than this to a whole day is that day.
constexpr double day_tolerance = 1e-3;

Day day_of(const SeriesRow& row, double day) {
  Day out;
  out.day = day;
  out.mean_temperature = row.mean_temperature;
  out.hottest = row.hottest;
  out.coldest = row.coldest;
  out.aired_share = row.aired_share;
  out.well_aired_share = row.well_aired_share;
  out.air_in = row.air_in;
  out.oxygen_uptake = row.oxygen_uptake;
  out.height = row.height;
  const double wet = row.water + row.dry_mass;
  out.moisture = wet > 0.0 ? row.water / wet : std::numeric_limits<double>::quiet_NaN();
  out.base_air_between = row.base_air_between;
  out.base_stress = row.base_stress;
  out.coldest_hours_hot = row.coldest_hours_hot;
  return out;
}

std::vector<Day> days_of(const std::vector<SeriesRow>& series) {
  std::vector<Day> days;
  if (series.empty()) return days;
  const double end = series.back().time / seconds_a_day;
  const int whole = int(std::floor(end + day_tolerance));
  for (int day = 1; day <= whole; ++day) {
    days.push_back(day_of(row_at(series, std::min(day * seconds_a_day, series.back().time)), day));
  }
  // However short, a computation has an end to show.
  if (end - whole > day_tolerance || days.empty()) days.push_back(day_of(series.back(), end));
  return days;
}

void note_likely(const TriedBeds& tried, Summary& out) {
  out.plausible_beds = static_cast<int>(tried.beds.size());
  out.seed = tried.seed;
  if (tried.beds.empty()) return;
  for (const KeyFigure& figure : key_figures()) {
    std::vector<double> values;
    for (const TriedBed& bed : tried.beds) values.push_back(figure.value(bed.course));
    out.likely[figure.key] = band_of(values);
  }
}

}  // namespace

const std::array<Headline, 5>& headlines() {
  static const std::array<Headline, 5> all{{{"mean_temperature_c", &Day::mean_temperature},
                                            {"hottest_c", &Day::hottest},
                                            {"aired_share", &Day::aired_share},
                                            {"air_in_m3_h", &Day::air_in},
                                            {"height_m", &Day::height}}};
  return all;
}

Summary summarise(const Result& result) {
  const RunResult& run = result.run;
  Summary out;
  out.name = result.name;
  out.mode = mode_name(result.problem.mode);
  out.cells = run.cells;
  out.wall_seconds = run.wall_seconds;
  out.band_seconds = result.quick.seconds;
  note_likely(result.quick.tried, out);
  out.peak_memory = run.peak_memory_mb;
  out.settled_height = run.settled_height;
  out.loose = run.loose;
  out.days = days_of(run.series);
  for (std::size_t i = 0; i < out.days.size() && i < result.bands.size(); ++i)
    out.days[i].bands = result.bands[i];
  if (!run.series.empty()) {
    out.course = course_of(run.series);
    const SeriesRow& last = run.series.back();
    out.heat_by_path = last.heat_by_path;
    for (const OpeningFlow& flow : last.openings) {
      out.openings.push_back({flow.name, flow.air_in, flow.air_out});
    }
  }
  out.steps = run.steps;
  out.unknowns = run.unknowns;
  out.seconds = run.seconds;
  out.balances = run.balances;
  out.ended = run.ended;
  out.stopped = run.stopped;
  out.verdict = result.verdict;
  return out;
}

const Day& day_at(const Summary& summary, double day) {
  if (summary.days.empty())
    throw std::invalid_argument("the computation ended before it had any day to show");
  return *std::min_element(summary.days.begin(), summary.days.end(), [day](const Day& a, const Day& b) {
    return std::abs(a.day - day) < std::abs(b.day - day);
  });
}

double telling_day(const Summary& summary) {
  if (summary.days.empty())
    throw std::invalid_argument("the computation ended before it had any day to show");
  const auto airless =
      std::min_element(summary.days.begin(), summary.days.end(),
                       [](const Day& a, const Day& b) { return a.aired_share < b.aired_share; });
  if (airless->aired_share < short_of_air) return airless->day;
  return std::max_element(summary.days.begin(), summary.days.end(),
                          [](const Day& a, const Day& b) { return a.hottest < b.hottest; })
      ->day;
}

std::string mode_name(Mode mode) {
  switch (mode) {
    case Mode::whole:
      return "whole";
    case Mode::rings:
      return "rings";
    case Mode::slice:
      return "slice";
  }
  throw std::invalid_argument("this mode has no name");
}

}  // namespace updraught
