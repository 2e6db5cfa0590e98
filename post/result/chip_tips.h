// At which share of woodchip a bed tips: the least with which it keeps its air, the most with which it still
// gets hot. Each plausible bed has its own; they are found by halving.
#pragma once

#include <optional>
#include <vector>

#include "post/result/course.h"

namespace updraught {

/// What counts as having air and as being hot, and where the search ends.
struct TipAims {
  double air_within = 3.0 * 86400.0;  ///< the draught strikes within this time (s); our choice
  double hours_hot =
      72.0;  ///< hottest part above 55 degC for so long in all (h); the hours that a common rule
             ///< asks for in closed bins (US 40 CFR 503, from memory), there of every part
  double moisture = 0.40;  ///< kg/kg wet at the end: drier beds stall and dust; practice
  double least = 0.0;      ///< shares that are tried (0..1)
  double most = 0.70;      ///< beyond, fewer than three buckets in ten are waste; our choice
  double fine = 0.02;      ///< two shares closer than this are not halved
};

/// One bed with one share of chips.
struct ShareTried {
  double share = 0.0;  ///< chip buckets over all buckets
  Course course;
};

/// Whether a bed keeps its air from early on, and whether it gets hot for long without drying out.
bool keeps_air(const Course& course, const TipAims& aims);
bool gets_hot(const Course& course, const TipAims& aims);

/// What is known of a tip.
struct Tip {
  std::optional<double> next;  ///< share to try next; empty: found, or nothing to be found
  /// The tip to `fine`: the least share tried with air and air in all tried above, the most share tried that
  /// is hot; empty where there is none within least to most.
  std::optional<double> share;
};

/// The least share with air. `start` is where to begin.
Tip least_with_air(const std::vector<ShareTried>& tried, double start, const TipAims& aims);

/// The most share that is hot, looked for from the least with air on upward.
Tip most_that_is_hot(const std::vector<ShareTried>& tried, double least_with_air, const TipAims& aims);

/// Both tips of one bed; empty ones do not exist within the shares tried.
struct ChipTips {
  int number = 0;  ///< of the plausible bed, from 1; 0: the case as it is
  std::optional<double> least;
  std::optional<double> most;
  /// Whether a share works for this bed.
  bool works(double share) const;
};

}  // namespace updraught
