// The flow through a laid bed at gas densities that a test chooses.
#pragma once

#include <vector>

#include "solver/air/flow.h"
#include "tests/unit/ready_bed.h"

namespace updraught::step_tests {

inline constexpr double outside_density = 1.2;
inline constexpr double outside_dry = 40.0;
inline constexpr double viscosity = 1.8e-5;

/// Gas of one warmth in all cells and spaces, lighter than outside by so much (kg/m3).
inline GasState even_gas(const Ready& ready, double lighter) {
  const std::size_t all = at(ready.bed.grid.cells()) + ready.bed.setup->nodes.size();
  GasState gas;
  gas.density.assign(all, outside_density - lighter);
  gas.dry_density.assign(all, outside_dry);
  gas.viscosity.assign(all, viscosity);
  gas.outside_density = outside_density;
  gas.outside_dry_density = outside_dry;
  gas.outside_viscosity = viscosity;
  return gas;
}

/// The flow once openings and inertia have found their law, with what is stored in each cell and space.
inline Flow settled_flow(const Ready& ready, const GasState& gas, const std::vector<AirPath>& paths,
                         const StorageRate& storage, int passes = 40) {
  Flow flow;
  flow.pressure.assign(gas.density.size(), 0.0);
  flow.faces.assign(at(ready.bed.grid.cells()), 0.0);
  SolverMemory memory;
  FlowEngine engine(memory);
  for (int pass = 0; pass < passes; ++pass)
    engine.solve(ready.bed, ready.work.frame.now, gas, paths, storage, pass == 0, flow);
  return flow;
}

inline Flow settled_flow(const Ready& ready, const GasState& gas, const std::vector<AirPath>& paths) {
  return settled_flow(ready, gas, paths, StorageRate(gas.density.size(), 0.0));
}

}  // namespace updraught::step_tests
