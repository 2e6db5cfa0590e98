#include "solver/step/carrier.h"

#include <algorithm>

#include "mesh/parallel/index.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

bool sealed(const Frame& frame) {
  return std::none_of(frame.paths.begin(), frame.paths.end(),
                      [](const AirPath& path) { return path.outer < 0; });
}

/// What the gas in each cell and node must take up or give off, as a rate.
void carrier_storage(const Bed& bed, const State& old, const Frame& frame, Trial& trial, AirWork& air) {
  const auto cells = at(bed.grid.cells());
  const auto all = cells + bed.setup->nodes.size();
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  air.storage.resize(all);
  const bool first = old.last_dry_gas.empty();
  const auto target = [&](std::size_t c) {
    return trial.gas.dry_density[c] * (c < cells ? frame.now.volume[c] * frame.now.free_air[c]
                                                 : node_volume(bed, static_cast<int>(c - cells)));
  };
  for_items(all, [&](std::size_t c) {
    const double was = c < cells ? old.dry_gas[c] : old.node_dry_gas[c - cells];
    const double carried = first ? 0.0 : frame.rule.history * old.last_dry_gas[c];
    const double made = c < cells ? (quotient - 1.0) * trial.used[c] : 0.0;
    air.storage[c] = (target(c) - was - carried) / frame.rule.beta_dt - made;
  });
  if (!sealed(frame)) return;
  // Nothing can leave: one pressure for all takes up the difference.
  const double wanted = ordered_sum(all, target);
  const double present =
      ordered_sum(all, [&](std::size_t c) { return target(c) - frame.rule.beta_dt * air.storage[c]; });
  const double squeeze = present / wanted;
  for_items(all, [&](std::size_t c) { air.storage[c] += (squeeze - 1.0) * target(c) / frame.rule.beta_dt; });
}

}  // namespace

void move_carrier(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work) {
  const auto cells = at(bed.grid.cells());
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  divergence(bed.grid, trial.flow.faces, work.scratch);
  work.scratch.resize(cells + bed.setup->nodes.size());
  std::fill(work.scratch.begin() + bed.grid.cells(), work.scratch.end(), 0.0);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    work.scratch[at(frame.paths[n].inner)] += trial.flow.net[n];
    if (frame.paths[n].outer >= 0) work.scratch[at(frame.paths[n].outer)] -= trial.flow.net[n];
  }
  const bool first = old.last_dry_gas.empty();
  for_items(trial.dry_gas.size(), [&](std::size_t c) {
    const double was = c < cells ? old.dry_gas[c] : old.node_dry_gas[c - cells];
    const double made = c < cells ? (quotient - 1.0) * trial.used[c] : 0.0;
    const double carried = first ? 0.0 : frame.rule.history * old.last_dry_gas[c];
    trial.dry_gas[c] = was + carried + frame.rule.beta_dt * (made - work.scratch[c]);
  });
}

void fill_with_air(const Bed& bed, const Properties& now, State& s) {
  const auto cells = at(bed.grid.cells());
  const auto fill = [&](double volume, double temperature, double ratio, double& gas, double& o2,
                        double& co2) {
    gas = bed.setup->gas.dry_density(temperature, ratio) * volume;
    o2 = gas * air_oxygen;
    co2 = gas * air_carbon_dioxide;
  };
  for (std::size_t c = 0; c < cells; ++c)
    fill(now.volume[c] * now.free_air[c], s.temperature[c],
         bed.setup->gas.vapour_ratio(s.temperature[c], now.activity[c]), s.dry_gas[c], s.oxygen[c],
         s.carbon_dioxide[c]);
  const OutsideAir outside = outside_air(bed, s.time());
  for (std::size_t n = 0; n < bed.setup->nodes.size(); ++n) {
    s.node_temperature[n] = outside.temperature;
    fill(node_volume(bed, static_cast<int>(n)), outside.temperature, outside.vapour_ratio, s.node_dry_gas[n],
         s.node_oxygen[n], s.node_carbon_dioxide[n]);
    s.node_vapour[n] = s.node_dry_gas[n] * outside.vapour_ratio * molar_water;
  }
  s.booked.assign(booked_count, 0.0);
}

/// The flow goes over to the next state, which needs its memory no longer twice.
void keep_flow(const Bed& bed, const Frame& frame, Trial& trial, State& next) {
  const auto cells = at(bed.grid.cells());
  for (auto* field : {&next.dry_gas, &next.pressure}) field->resize(cells);
  for (auto* field : {&next.node_dry_gas, &next.node_pressure}) field->resize(bed.setup->nodes.size());
  for_items(trial.dry_gas.size(), [&](std::size_t c) {
    (c < cells ? next.dry_gas[c] : next.node_dry_gas[c - cells]) = trial.dry_gas[c];
    (c < cells ? next.pressure[c] : next.node_pressure[c - cells]) = trial.flow.pressure[c];
  });
  std::vector<double>().swap(trial.flow.pressure);
  next.flux_x = std::move(trial.flow.faces.x);
  next.flux_y = std::move(trial.flow.faces.y);
  next.flux_z = std::move(trial.flow.faces.z);
  trial.flow.faces = Faces();
  next.flux_top.assign(at(bed.grid.columns()), 0.0);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    if (path.surface() && at_top(bed, path))
      next.flux_top[at(bed.grid.column_of(path.inner))] += trial.flow.net[n];
  }
}

void solve_air(const Bed& bed, const State& old, bool first, const Frame& frame, Trial& trial, Books& books,
               TransportWork& work, AirWork& air, SolverMemory& memory) {
  give_back(work);
  refresh_gas(bed, frame, trial);
  carrier_storage(bed, old, frame, trial, air);
  const bool given = bed.setup->problem.freeze_flow || bed.setup->problem.prescribed.volume_flow;
  if (given)
    prescribe_flow(bed, trial.gas, frame.paths, bed.setup->problem.prescribed.volume_flow.value_or(0.0),
                   trial.flow);
  else
    FlowEngine(memory).solve(bed, frame.now, trial.gas, frame.paths, air.storage, first, trial.flow);
  if (!given) note_solve(trial.flow.solved, "the flow of air", books);
  for (auto* field : {&air.storage, &trial.gas.density, &trial.gas.viscosity})
    std::vector<double>().swap(*field);
  move_carrier(bed, old, frame, trial, work);
}

}  // namespace updraught
