#include "solver/step/hours.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"

namespace updraught {

namespace {

/// Hours (theory 8.5): share of a step that a straight line from `from` to `to` spends above a threshold.
double share_above(double from, double to, double threshold) {
  if (from > threshold && to > threshold) return 1.0;
  if (from <= threshold && to <= threshold) return 0.0;
  const double share = (std::max(from, to) - threshold) / std::abs(to - from);
  return std::clamp(share, 0.0, 1.0);
}

}  // namespace

void count_hours(const Bed& bed, const State& old, double dt, State& next) {
  const double hours = dt / 3600.0;
  for_rows(bed.grid.ny, at(bed.grid.cells()), [&](int j) {
    const int slab = bed.grid.nx * bed.grid.nz;
    for (int cell = j * slab; cell < (j + 1) * slab; ++cell) {
      const auto c = at(cell);
      next.hours_hot[c] += hours * share_above(old.temperature[c], next.temperature[c], 55.0);
      const double was = old.oxygen[c] / old.dry_gas[c], is = next.oxygen[c] / next.dry_gas[c];
      next.hours_airless[c] += hours * (1.0 - share_above(was, is, 0.01));
    }
  });
}

}  // namespace updraught
