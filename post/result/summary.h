// The figures that people quote of a computed case: one row per day, and the whole. Everything that is
// printed, compared or written as JSON is taken from here.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "post/result/course.h"
#include "post/result/result.h"

namespace updraught {

/// The bed on one day, at its end (day 3: three times 24 hours after the start).
struct Day {
  double day = 0.0;  ///< days since the start; a whole number but for a last row between two days
  double mean_temperature = 0.0;   ///< degC, by volume
  double hottest = 0.0;            ///< degC
  double coldest = 0.0;            ///< degC
  double aired_share = 0.0;        ///< of the bed's volume, dry oxygen above 5 %
  double well_aired_share = 0.0;   ///< above 10 %
  double air_in = 0.0;             ///< m3/h at outside conditions
  double oxygen_uptake = 0.0;      ///< g/h
  double height = 0.0;             ///< m
  double moisture = 0.0;           ///< water per wet mass (kg/kg); NaN where the bed has no mass of its own
  double base_air_between = 0.0;   ///< air between the pieces in the lowest layer (m3/m3)
  double base_stress = 0.0;        ///< Pa
  double coldest_hours_hot = 0.0;  ///< h above 55 degC so far, of the part with the fewest
  DayBands bands;                  ///< low and high by headline name; empty when not computed
};

/// Air through one opening.
struct OpeningSummary {
  std::string name;
  double air_in = 0.0;   ///< m3/h
  double air_out = 0.0;  ///< m3/h
};

/// A computed case in figures.
struct Summary {
  std::string name;  ///< of the case
  std::string mode;  ///< "whole", "rings" or "slice"
  int cells = 0;
  double wall_seconds = 0.0;    ///< of the asked computation alone (s)
  double band_seconds = 0.0;    ///< of the quick computations behind low and high, summed (s)
  double peak_memory = 0.0;     ///< MB
  double settled_height = 0.0;  ///< m, right after filling
  LooseFacts loose;
  std::vector<Day> days;                       ///< by time
  std::optional<Course> course;                ///< of the whole run; empty without any step
  int plausible_beds = 0;                      ///< tried beside it
  int seed = 0;                                ///< of their sample
  std::map<std::string, Band> likely;          ///< low and high of key figures over them; empty without any
  std::map<std::string, double> heat_by_path;  ///< W out of the bed at the end, by path
  int steps = 0;
  int unknowns = 0;
  std::map<std::string, double> seconds;  ///< s by phase
  std::vector<OpeningSummary> openings;   ///< at the end
  Balances balances;
  bool stopped = false;  ///< ended before its time because it was asked to
  std::string ended;     ///< why it ended before its time by itself, a sentence; empty: it did not
  std::vector<std::string> verdict;
  std::vector<std::string> cautions;
};

/// A headline number of a day, which carries a low and a high.
struct Headline {
  std::string name;
  double Day::*value;
};

/// All of them, in the order in which they are shown.
const std::array<Headline, 5>& headlines();

/// Sums up a result, with its bands and its verdict where it holds them.
Summary summarise(const Result& result);

/// The day nearest to the asked one. Throws std::invalid_argument when there is none.
const Day& day_at(const Summary& summary, double day);

/// The day that pictures and places speak of, since most is to be seen on it: the one with least air where
/// the bed is ever short of it, else the hottest.
double telling_day(const Summary& summary);

/// The mode in one word.
std::string mode_name(Mode mode);

}  // namespace updraught
