#include "solver/step/planted_leak.h"

#include <cmath>
#include <numeric>

#include "solver/balance/balances.h"
#include "solver/bed/enthalpy.h"

namespace updraught {

namespace {

double sum(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

void take(std::vector<double>& values, double amount) {
  const double keep = 1.0 - amount / sum(values);
  for (double& value : values) value *= keep;
}

/// Heat leaves while everything that carries it stays: the cells cool.
void cool(const Bed& bed, double heat, State& s) {
  std::vector<double> cells(s.temperature.size()), dry(cells.size()), activity(cells.size());
  for (std::size_t c = 0; c < cells.size(); ++c) {
    dry[c] = dry_of(s, c);
    activity[c] = activity_of(dry[c], s.water[c]);
    cells[c] = cell_enthalpy(bed, dry[c], s.water[c], s.dry_gas[c], s.temperature[c], activity[c]);
  }
  take(cells, heat);
  for (std::size_t c = 0; c < cells.size(); ++c)
    s.temperature[c] =
        recover_temperature(bed, dry[c], s.water[c], s.dry_gas[c], activity[c], cells[c], s.temperature[c])
            .value;
}

}  // namespace

void let_leak(const Bed& bed, State& next) {
  if (!bed.setup->problem.planted_leak) return;
  const PlantedLeak& leak = *bed.setup->problem.planted_leak;
  const auto booked = [&](Booked entry) {
    return leak.share * next.last_booked[static_cast<std::size_t>(entry)];
  };
  switch (leak.of) {
    case PlantedLeak::Of::dry_gas:
      take(next.dry_gas, booked(gas_in) + std::abs(booked(gas_made)));
      break;
    case PlantedLeak::Of::oxygen:
      take(next.oxygen, booked(oxygen_in) + booked(oxygen_used));
      break;
    case PlantedLeak::Of::heat:
      cool(bed, booked(heat_in) + booked(heat_made), next);
      break;
    case PlantedLeak::Of::water:
      take(next.water, booked(water_in) + booked(water_made));
      break;
    case PlantedLeak::Of::dry_mass:
      take(next.pool[pool_of::easy], booked(dry_lost));
      break;
  }
}

}  // namespace updraught
