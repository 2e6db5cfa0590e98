#include "solver/scratch/trial.h"

#include <algorithm>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"

namespace updraught {

ConsumedMass consumed_mass(const Bed& bed, const Trial& trial, std::size_t cell) {
  ConsumedMass out;
  if (bed.setup->blends.empty() || bed.setup->problem.prescribed.uptake ||
      trial.uptake.potential[cell] <= 0.0)
    return out;
  const double share = trial.used[cell] / trial.uptake.potential[cell];
  for (float rate : trial.uptake.pool_rate[cell]) out.dry += static_cast<double>(rate) * share;
  out.water = out.dry + trial.used[cell] * (molar_oxygen - bed.setup->problem.microbes.respiratory_quotient *
                                                               molar_carbon_dioxide);
  return out;
}

void refresh_vapour(const Bed& bed, Trial& trial) {
  const auto cells = at(bed.grid.cells());
  for (auto* field : {&trial.vapour_slope, &trial.enthalpy_slope}) field->resize(cells);
  for_rows(bed.grid.ny, cells, [&](int j) {
    const int slab = bed.grid.nx * bed.grid.nz;
    for (int cell = j * slab; cell < (j + 1) * slab; ++cell) {
      const auto c = at(cell);
      const double t = trial.temperature[c];
      const Gas::Vapour vapour = bed.setup->gas.vapour(t, trial.activity[c]);
      trial.vapour_ratio[c] = vapour.ratio;
      trial.vapour_slope[c] = vapour.slope * static_cast<double>(trial.yielding[c]);
      trial.enthalpy_slope[c] =
          bed.setup->gas.enthalpy_slope(t, trial.vapour_ratio[c], trial.vapour_slope[c]);
    }
  });
}

void refresh_gas(const Bed& bed, const Frame& frame, Trial& trial) {
  const auto all = trial.temperature.size();
  const Gas& gas = bed.setup->gas;
  for (auto* field : {&trial.gas.density, &trial.gas.dry_density, &trial.gas.viscosity}) field->resize(all);
  for_rows(static_cast<int>((all + 1023) / 1024), all, [&](int block) {
    const std::size_t end = std::min(all, (at(block) + 1) * 1024);
    for (std::size_t c = at(block) * 1024; c < end; ++c) {
      const double t = trial.temperature[c], ratio = trial.vapour_ratio[c];
      trial.gas.density[c] = gas.density(t, ratio, trial.oxygen[c], trial.carbon_dioxide[c]);
      trial.gas.dry_density[c] = gas.dry_density(t, ratio);
      trial.gas.viscosity[c] = gas.viscosity(t, ratio);
    }
  });
  const double reference = gas.constant() ? bed.setup->problem.constant_air->at : frame.outside.temperature;
  trial.gas.outside_density =
      gas.density(reference, frame.outside.vapour_ratio, air_oxygen, air_carbon_dioxide);
  trial.gas.outside_dry_density = gas.dry_density(reference, frame.outside.vapour_ratio);
  trial.gas.outside_viscosity = gas.viscosity(reference, frame.outside.vapour_ratio);
}

}  // namespace updraught
