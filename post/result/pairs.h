// Two designs held against each other bed by bed: what is uncertain in both alike cancels.
#pragma once

#include "post/result/key_figures.h"
#include "post/result/tried_beds.h"

namespace updraught {

/// Fewer pairs than this speak for neither: four that agree do so by chance one time in eight.
inline constexpr int fewest_pairs = 10;

/// One design less another, over the plausible beds that both were computed for.
struct Paired {
  int pairs = 0;
  int above = 0;        ///< pairs in which the first has more, by more than what counts
  int below = 0;        ///< in which it has less by more than that
  double middle = 0.0;  ///< median of the differences; may be infinite
  Band band;            ///< 10 to 90 % of them
  /// Clear differences: at least half of the pairs differ by more than what counts, and at most one of ten
  /// does so the other way; closer ones are alike and speak for neither. Never of fewer than fewest_pairs.
  bool clearly_above() const;
  bool clearly_below() const;
};

/// Pairs beds of one number. A time that comes in neither is no difference; one that comes in one alone is
/// an infinite one.
Paired paired(const TriedBeds& first, const TriedBeds& second, const KeyFigure& figure);

/// The same from differences and what counts in each.
Paired paired(const std::vector<double>& differences, const std::vector<double>& counts);

/// -1, 0 or 1: whether the first is clearly worse, neither, or clearly better, by what the figure calls
/// better.
int clearly_better(const Paired& pairs, const KeyFigure& figure);

}  // namespace updraught
