#include "solver/scratch/workspace.h"

#include <algorithm>

#include "mesh/parallel/index.h"

namespace updraught {

TimeRule time_rule(double dt, double last_dt, bool restart) {
  if (restart || last_dt <= 0.0) return {dt, dt, 0.0};
  const double ratio = dt / last_dt;
  return {dt, (1.0 + ratio) / (1.0 + 2.0 * ratio) * dt, ratio * ratio / (1.0 + 2.0 * ratio)};
}

void note_solve(const SolveReport& report, const char* what, StepWork& w) {
  // Solves are asked for more digits than a step needs; a residual of a millionth moves nothing that is read.
  constexpr double bearable = 1e-6;
  if (!report.converged && !(report.residual <= bearable)) w.unsolved = what;
}

void give_back_operators(StepWork& w) {
  w.transport = TransportOperator();
  for (Faces* faces : {&w.correction, &w.spreading, &w.vapour_flow}) *faces = Faces();
}

void give_back_transport(StepWork& w) {
  give_back_operators(w);
  for (auto* field : {&w.rhs, &w.change, &w.scratch, &w.image}) std::vector<double>().swap(*field);
}

void give_back_flow(StepWork& w) {
  for (auto* field : {&w.storage, &w.gas.density, &w.gas.viscosity}) std::vector<double>().swap(*field);
}

void give_back_mixing(StepWork& w) {
  w.anderson = Anderson();
  std::vector<double>().swap(w.image);
}

UsedUp used_up(const Bed& bed, const StepWork& w, std::size_t cell) {
  UsedUp out;
  if (bed.setup->blends.empty() || bed.setup->problem.prescribed.uptake || w.uptake.potential[cell] <= 0.0)
    return out;
  const double share = w.used[cell] / w.uptake.potential[cell];
  for (float rate : w.uptake.pool_rate[cell]) out.dry += static_cast<double>(rate) * share;
  out.water = out.dry + w.used[cell] * (molar_oxygen - bed.setup->problem.microbes.respiratory_quotient *
                                                           molar_carbon_dioxide);
  return out;
}

void book_heat(StepWork& w, Booked path, double heat) {
  w.rates[at(path)] += heat;
  w.rates[heat > 0.0 ? at(heat_out) : at(heat_in)] += heat > 0.0 ? heat : -heat;
}

void refresh_vapour(const Bed& bed, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  for (auto* field : {&w.vapour_slope, &w.enthalpy_slope}) field->resize(cells);
  for_rows(bed.grid.ny, cells, [&](int j) {
    const int slab = bed.grid.nx * bed.grid.nz;
    for (int cell = j * slab; cell < (j + 1) * slab; ++cell) {
      const auto c = at(cell);
      const double t = w.temperature[c];
      const Gas::Vapour vapour = bed.setup->gas.vapour(t, w.activity[c]);
      w.vapour_ratio[c] = vapour.ratio;
      w.vapour_slope[c] = vapour.slope * static_cast<double>(w.yielding[c]);
      w.enthalpy_slope[c] = bed.setup->gas.enthalpy_slope(t, w.vapour_ratio[c], w.vapour_slope[c]);
    }
  });
}

void refresh_gas(const Bed& bed, StepWork& w) {
  const auto all = w.temperature.size();
  const Gas& gas = bed.setup->gas;
  for (auto* field : {&w.gas.density, &w.gas.dry_density, &w.gas.viscosity}) field->resize(all);
  for_rows(static_cast<int>((all + 1023) / 1024), all, [&](int block) {
    const std::size_t end = std::min(all, (at(block) + 1) * 1024);
    for (std::size_t c = at(block) * 1024; c < end; ++c) {
      const double t = w.temperature[c], ratio = w.vapour_ratio[c];
      w.gas.density[c] = gas.density(t, ratio, w.oxygen[c], w.carbon_dioxide[c]);
      w.gas.dry_density[c] = gas.dry_density(t, ratio);
      w.gas.viscosity[c] = gas.viscosity(t, ratio);
    }
  });
  const double reference = gas.constant() ? bed.setup->problem.constant_air->at : w.outside.temperature;
  w.gas.outside_density = gas.density(reference, w.outside.vapour_ratio, air_oxygen, air_carbon_dioxide);
  w.gas.outside_dry_density = gas.dry_density(reference, w.outside.vapour_ratio);
  w.gas.outside_viscosity = gas.viscosity(reference, w.outside.vapour_ratio);
}

}  // namespace updraught
