// What people ask of a whole run rather than of one day (theory 8.6): does it get going, does it keep its
// air, how much of the bed goes without enough air, when is it worst, how long is it hot.
#pragma once

#include <optional>
#include <vector>

#include "solver/output/snapshot.h"

namespace updraught {

/// Times are seconds since the start; empty where it does not happen within the run.
struct Course {
  double duration = 0.0;  ///< that was computed (s)

  // Warmth
  std::optional<double> going;       ///< the hottest part first has 45 degC: microbes of the heat take over
  std::optional<double> hot;         ///< the hottest part first has 55 degC
  std::optional<double> mean_going;  ///< the bed's mean first has 45 degC
  double hours_hot = 0.0;            ///< hottest part above 55 degC (h)
  double hours_mean_going = 0.0;     ///< mean above 45 degC (h)
  double hours_coldest_hot = 0.0;    ///< h above 55 degC of the part with the fewest
  double hottest = 0.0;              ///< degC, of the whole run
  double hottest_at = 0.0;           ///< s
  double mean_temperature = 0.0;     ///< degC, of bed and time

  // Air: enough is dry oxygen above 5 %
  double airless_share = 0.0;        ///< of bed and time: volume without enough air, averaged over the run
  double airless_since_going = 0.0;  ///< the same from `going` on; 0 where it does not get going
  std::optional<double> lost;      ///< from here less than half of the bed has enough air, for a day at least
  std::optional<double> regained;  ///< after that: from here at least half has, for a day at least
  std::optional<double> died;      ///< after that: from here less than half has again, for a day at least
  double worst_share = 1.0;        ///< smallest share of the bed with enough air
  double worst_at = 0.0;           ///< s
  double mean_air_in = 0.0;        ///< m3/h at outside conditions, mean over the run

  // Matter
  double height_at_end = 0.0;    ///< m
  double moisture_at_end = 0.0;  ///< water per wet mass (kg/kg); NaN where the bed has no mass of its own
  double dry_mass_lost = 0.0;    ///< share of all dry mass that went in; NaN likewise
};

/// When the draught strikes: from here to the end of the run at least half of the bed has enough air (but for
/// spans shorter than a day); 0 where it never goes short; empty where that does not come.
std::optional<double> airs_from(const Course& course);

/// From the rows of a run, one per step, in the order of time; between two rows all goes straight. Throws
/// std::invalid_argument without rows.
Course course_of(const std::vector<SeriesRow>& series);

}  // namespace updraught
