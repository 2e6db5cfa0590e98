#include "solver/step/step_error.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/rows.h"
#include "solver/step/iterate.h"

namespace updraught {

namespace {

double square(double x) {
  return x * x;
}

/// Root of the mean square of value(c), weighed by weight(c).
template <class Value, class Weight>
double weighed_rms(std::size_t count, const Value& value, const Weight& weight) {
  return std::sqrt(ordered_sum(count, [&](std::size_t c) { return weight(c) * square(value(c)); }) /
                   ordered_sum(count, weight));
}

}  // namespace

StepChange change_over_step(const Bed& bed, const State& old, const State& next) {
  const auto cells = static_cast<std::size_t>(bed.grid.cells());
  StepChange change;
  change.temperature =
      largest_of(cells, [&](std::size_t c) { return std::abs(next.temperature[c] - old.temperature[c]); });
  change.oxygen = largest_of(cells, [&](std::size_t c) {
    return std::abs(next.oxygen[c] / next.dry_gas[c] - old.oxygen[c] / old.dry_gas[c]);
  });
  return change;
}

StepError departure_from_prediction(const Bed& bed, const State& old, double ratio, const Properties& now,
                                    const State& next) {
  const auto cells = static_cast<std::size_t>(bed.grid.cells());
  const auto temperature = [&](std::size_t c) {
    return next.temperature[c] - old.temperature[c] - ratio * old.last_temperature[c];
  };
  const auto oxygen = [&](std::size_t c) {
    return next.oxygen[c] / next.dry_gas[c] - predicted(old, ratio, c).oxygen;
  };
  StepError error;
  error.temperature = weighed_rms(cells, temperature, [&](std::size_t c) {
    return now.dry_mass[c] * bed.setup->dry_heat_capacity +
           std::max(next.water[c], 0.0) * heat_capacity_water;
  });
  error.worst_temperature = largest_of(cells, [&](std::size_t c) { return std::abs(temperature(c)); });
  error.oxygen = weighed_rms(cells, oxygen, [&](std::size_t c) { return now.volume[c]; });
  for (std::size_t n = 0; n < bed.setup->nodes.size(); ++n)
    error.node_oxygen = larger_of(
        std::abs(next.node_oxygen[n] / next.node_dry_gas[n] - predicted(old, ratio, cells + n).oxygen),
        error.node_oxygen);
  return error;
}

}  // namespace updraught
