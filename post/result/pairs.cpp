#include "post/result/pairs.h"

#include <cmath>
#include <stdexcept>

namespace updraught {

namespace {

// Nine of ten, and half, as whole numbers, so that no rounding decides.
bool clear(int for_it, int against, int pairs) {
  return pairs >= fewest_pairs && 10 * against <= pairs && 2 * for_it >= pairs;
}

/// Infinite where only one of the two has a time at all.
double less(double one, double other) {
  return one == other ? 0.0 : one - other;
}

}  // namespace

bool Paired::clearly_above() const {
  return clear(above, below, pairs);
}

bool Paired::clearly_below() const {
  return clear(below, above, pairs);
}

Paired paired(const std::vector<double>& differences, const std::vector<double>& counts) {
  if (differences.size() != counts.size())
    throw std::invalid_argument("each difference has its own that counts");
  Paired out;
  out.pairs = static_cast<int>(differences.size());
  if (differences.empty()) return out;
  for (std::size_t n = 0; n < differences.size(); ++n) {
    out.above += differences[n] > counts[n];
    out.below += differences[n] < -counts[n];
  }
  out.middle = quantile(differences, 0.5);
  out.band = band_of(differences);
  return out;
}

Paired paired(const TriedBeds& first, const TriedBeds& second, const KeyFigure& figure) {
  std::vector<double> differences;
  std::vector<double> counts;
  for (const TriedBed& one : first.beds) {
    const TriedBed* other = bed_of(second, one.number);
    if (other == nullptr) continue;
    const double a = figure.value(one.course), b = figure.value(other->course);
    differences.push_back(less(a, b));
    counts.push_back(std::isfinite(a) && std::isfinite(b) ? counts_between(figure, a, b) : figure.counts);
  }
  return paired(differences, counts);
}

int clearly_better(const Paired& pairs, const KeyFigure& figure) {
  return figure.better * (int(pairs.clearly_above()) - int(pairs.clearly_below()));
}

}  // namespace updraught
