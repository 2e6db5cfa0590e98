// A result as figures, tables and stores see it: the same whether it was just computed or read back.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "post/words/interval.h"
#include "solver/output/snapshot.h"
#include "solver/problem/problem.h"

namespace updraught {

/// What a picture needs to know of the bin around the bed.
struct Outline {
  Mode mode = Mode::whole;
  bool box_as_rings = false;
  double plan_scale = 1.0;
  BinShape bin;
  Base base;
  Lid lid;
  std::vector<Opening> openings;
  std::vector<double> wall_thickness{0.0, 0.0, 0.0, 0.0};  ///< by Side (m), of all layers; 0: unknown
  double lid_thickness = 0.0;                              ///< m, of all layers; 0: unknown

  double wall(Side side) const { return wall_thickness.at(static_cast<std::size_t>(side)); }
};

/// Bands of the headline numbers on one day, by the names used in the summary: mean_temperature_c, hottest_c,
/// aired_share, air_in_m3_h, height_m.
using DayBands = std::map<std::string, Band>;

/// One computed case.
struct Result {
  std::string name;       ///< file name without folder and ending
  std::string title;      ///< the question, or the name
  std::string case_text;  ///< the case file as read
  std::string version;    ///< of the program
  Outline outline;
  Setting setting;
  Grid grid;                      ///< plan and apertures; layer heights stand in each picture
  std::vector<Picture> pictures;  ///< by time
  RunResult run;
  std::vector<DayBands> bands;  ///< one per whole day 1, 2, ...; empty when not computed
  std::vector<std::string> verdict;
};

/// The outline of a problem.
Outline outline_of(const Problem& problem);

/// The row of the series at a time, interpolated between the two steps around it. Throws
/// std::invalid_argument when the series is empty.
SeriesRow row_at(const std::vector<SeriesRow>& series, double time);

}  // namespace updraught
