// A result as figures, tables and stores see it: the same whether it was just computed or read back. All that
// is drawn or said of a case is made from it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "post/result/tried_beds.h"
#include "post/words/interval.h"
#include "solver/output/snapshot.h"
#include "solver/problem/problem.h"

namespace updraught {

/// What more chips in the recipe would do, from one more quick computation.
struct MoreChips {
  double share = 0.0;        ///< chip buckets over all buckets now
  double other_share = 0.0;  ///< the same with more chips
  double more_buckets =
      0.0;  ///< of chips, beside the waste of this recipe; where it has a depth, proportions
  double airless_share = 0.0;  ///< of the bed's hours (Course), in quick detail as it is
  double other_airless_share = 0.0;
};

/// What the quick computations beside a result told, but for its bands. Empty: not computed.
struct QuickRuns {
  double seconds = 0.0;                 ///< s, of all of them
  std::optional<Course> asked;          ///< the case as it is, in quick detail
  TriedBeds tried;                      ///< the plausible beds
  std::optional<MoreChips> more_chips;  ///< computed where want of air holds the bed back most
};

/// Low and high of the headline numbers on one day over the plausible beds, by the names used in the summary:
/// mean_temperature_c, hottest_c, aired_share, air_in_m3_h, height_m.
using DayBands = std::map<std::string, Band>;

/// One computed case.
struct Result {
  std::string name;                ///< file name without folder and ending
  std::string title;               ///< the question, or the name
  std::string case_text;           ///< the case file as read
  std::string version;             ///< of the program
  Problem problem;                 ///< what was computed
  std::vector<std::string> notes;  ///< what the reader of the case decided by itself, in plain sentences
  Grid grid;                       ///< plan and apertures; layer heights stand in each picture
  std::vector<Picture> pictures;   ///< by time
  RunResult run;
  bool whole =
      true;  ///< false: the run was killed or still goes on; what it left speaks of the time up to then
  std::vector<DayBands> bands;  ///< one per whole day 1, 2, ...; empty when not computed
  QuickRuns quick;
  std::vector<std::string> verdict;
};

/// The opening of a problem that a flow passes; none where it is the inlet of a raised base.
const Opening* opening_of(const OpeningFlow& flow, const Problem& problem);

/// The row of the series at a time, interpolated between the two steps around it. Throws
/// std::invalid_argument when the series is empty.
SeriesRow row_at(const std::vector<SeriesRow>& series, double time);

}  // namespace updraught
