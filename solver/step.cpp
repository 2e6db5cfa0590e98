#include "solver/step.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "solver/gases.h"
#include "solver/heat.h"
#include "solver/next_state.h"
#include "solver/nodes.h"
#include "solver/water.h"

namespace updraught {

namespace {

std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

constexpr int most_passes = 6;
/// A first step starts without a flow to go by.
constexpr int most_first_passes = 12;
/// Passes end when temperatures move less than this (K) and oxygen less than that (mole fraction).
constexpr double pass_temperature = 0.1;
constexpr double pass_oxygen = 0.002;
/// Oxygen that moves less than this is not mixed: the mixing would only add its rounding to an even
/// composition.
constexpr double mixed_oxygen = 1e-9;
/// A step whose last pass still moved temperatures more than this is not converged (K).
constexpr double worst_pass = 0.3;

class Stopwatch {
 public:
  explicit Stopwatch(double& sum) : sum_(sum), start_(std::chrono::steady_clock::now()) {}
  ~Stopwatch() { sum_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count(); }
  Stopwatch(const Stopwatch&) = delete;
  Stopwatch& operator=(const Stopwatch&) = delete;

 private:
  double& sum_;
  std::chrono::steady_clock::time_point start_;
};

void set_weather(const Bed& bed, double time, OutsideAir& out) {
  out.temperature = outside_temperature(bed.problem.outside, time);
  out.vapour_ratio = bed.gas.vapour_ratio(out.temperature, bed.problem.outside.humidity);
  out.enthalpy = bed.gas.enthalpy(out.temperature, out.vapour_ratio);
}

/// Shares of dry gas (mole fractions) in a cell or node.
struct Shares {
  double oxygen = 0.0;
  double carbon_dioxide = 0.0;
};

/// The shares at the end of the step, as the last one foresees them; `unknown` counts cells, then nodes.
Shares foreseen(const State& old, double ratio, std::size_t unknown) {
  const auto cells = old.temperature.size();
  const bool cell = unknown < cells;
  const std::size_t n = cell ? unknown : unknown - cells;
  const double gas = (cell ? old.dry_gas : old.node_dry_gas)[n];
  const double gas_before = ratio > 0.0 ? gas - old.last_dry_gas[unknown] : gas;
  const auto share = [&](double amount, const std::vector<double>& last) {
    if (ratio <= 0.0) return amount / gas;
    const double change = amount / gas - (amount - last[unknown]) / gas_before;
    return std::max(amount / gas + ratio * change, 0.0);
  };
  return {share((cell ? old.oxygen : old.node_oxygen)[n], old.last_oxygen),
          share((cell ? old.carbon_dioxide : old.node_carbon_dioxide)[n], old.last_carbon_dioxide)};
}

/// First guess of the step: temperatures and gases as the last step foresees them, in cells and nodes. Taken
/// as they were, gases would leave the draught a step behind wherever warmth and carbon dioxide nearly
/// cancel.
void first_guess(const Bed& bed, const State& old, double predict, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const auto nodes = bed.nodes.size();
  for (auto* field :
       {&w.temperature, &w.vapour_ratio, &w.oxygen, &w.carbon_dioxide, &w.dry_gas, &w.flow.pressure})
    field->resize(cells + nodes);
  for_items(cells, [&](std::size_t c) {
    w.temperature[c] = old.temperature[c] + predict * old.last_temperature[c];
    w.dry_gas[c] = old.dry_gas[c];
    w.flow.pressure[c] = old.pressure[c];
  });
  for (std::size_t n = 0; n < nodes; ++n) {
    w.temperature[cells + n] = old.node_temperature[n];
    w.vapour_ratio[cells + n] = old.node_vapour[n] / (old.node_dry_gas[n] * molar_water);
    w.dry_gas[cells + n] = old.node_dry_gas[n];
    w.flow.pressure[cells + n] = old.node_pressure[n];
  }
  for_items(cells + nodes, [&](std::size_t c) {
    const Shares shares = foreseen(old, predict, c);
    w.oxygen[c] = shares.oxygen;
    w.carbon_dioxide[c] = shares.carbon_dioxide;
  });
  w.flow.faces.x = old.flux_x;
  w.flow.faces.y = old.flux_y;
  w.flow.faces.z = old.flux_z;
  w.water = old.water;
  w.activity = w.now.activity;
  w.yielding.assign(cells, 1.0F);
  w.used.assign(cells, 0.0);
  w.condensed.assign(nodes, 0.0);
}

bool sealed(const StepWork& w) {
  return std::none_of(w.links.begin(), w.links.end(), [](const Connection& link) { return link.outer < 0; });
}

/// The coupled unknowns of the passes, scaled so that a kelvin counts as much as half a per cent of oxygen.
constexpr double oxygen_scale = 200.0;

void gather(const Bed& bed, const StepWork& w, std::vector<double>& out) {
  const auto cells = at(bed.grid.cells());
  out.resize(2 * cells);
  for_items(cells, [&](std::size_t c) {
    out[c] = w.temperature[c];
    out[cells + c] = oxygen_scale * w.oxygen[c];
  });
}

/// Takes the mixed iterate back; carbon dioxide follows oxygen as one diffusivity would have it.
void scatter(const Bed& bed, const State& old, double ratio, bool oxygen_moves, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const double quotient = bed.problem.microbes.respiratory_quotient;
  for_items(cells, [&](std::size_t c) {
    w.temperature[c] = w.image[c];
    if (oxygen_moves) w.oxygen[c] = std::max(w.image[cells + c] / oxygen_scale, 0.0);
    const Shares shares = foreseen(old, ratio, c);
    w.carbon_dioxide[c] = std::max(shares.carbon_dioxide + quotient * (shares.oxygen - w.oxygen[c]), 0.0);
  });
  refresh_vapour(bed, w);
}

/// What the gas in each cell and node must take up or give off, as a rate.
void carrier_storage(const Bed& bed, const State& old, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const auto all = cells + bed.nodes.size();
  const double quotient = bed.problem.microbes.respiratory_quotient;
  w.storage.resize(all);
  const bool first = old.last_dry_gas.empty();
  const auto target = [&](std::size_t c) {
    return w.gas.dry_density[c] *
           (c < cells ? w.now.volume[c] * w.now.free_air[c] : node_volume(bed, static_cast<int>(c - cells)));
  };
  for_items(all, [&](std::size_t c) {
    const double was = c < cells ? old.dry_gas[c] : old.node_dry_gas[c - cells];
    const double carried = first ? 0.0 : w.rule.carried * old.last_dry_gas[c];
    const double made = c < cells ? (quotient - 1.0) * w.used[c] : 0.0;
    w.storage[c] = (target(c) - was - carried) / w.rule.time - made;
  });
  if (!sealed(w)) return;
  // Nothing can leave: one pressure for all takes up the difference.
  const double wanted = ordered_sum(all, target);
  const double present =
      ordered_sum(all, [&](std::size_t c) { return target(c) - w.rule.time * w.storage[c]; });
  const double squeeze = present / wanted;
  for_items(all, [&](std::size_t c) { w.storage[c] += (squeeze - 1.0) * target(c) / w.rule.time; });
}

/// m := m_old + carried - time x (what leaves - what is made), exactly by the fluxes.
void move_carrier(const Bed& bed, const State& old, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const double quotient = bed.problem.microbes.respiratory_quotient;
  divergence(bed.grid, w.flow.faces, w.scratch);
  w.scratch.resize(cells + bed.nodes.size());
  std::fill(w.scratch.begin() + bed.grid.cells(), w.scratch.end(), 0.0);
  for (std::size_t n = 0; n < w.links.size(); ++n) {
    w.scratch[at(w.links[n].inner)] += w.flow.net[n];
    if (w.links[n].outer >= 0) w.scratch[at(w.links[n].outer)] -= w.flow.net[n];
  }
  const bool first = old.last_dry_gas.empty();
  for_items(w.dry_gas.size(), [&](std::size_t c) {
    const double was = c < cells ? old.dry_gas[c] : old.node_dry_gas[c - cells];
    const double made = c < cells ? (quotient - 1.0) * w.used[c] : 0.0;
    const double carried = first ? 0.0 : w.rule.carried * old.last_dry_gas[c];
    w.dry_gas[c] = was + carried + w.rule.time * (made - w.scratch[c]);
  });
}

void solve_air(const Bed& bed, const State& old, bool first, StepWork& w) {
  give_back_transport(w);
  refresh_gas(bed, w);
  carrier_storage(bed, old, w);
  const bool given = bed.problem.freeze_flow || bed.problem.prescribed.volume_flow;
  if (given)
    prescribe_flow(bed, w.gas, w.links, bed.problem.prescribed.volume_flow.value_or(0.0), w.flow);
  else
    FlowEngine(w.solver_memory).solve(bed, w.now, w.gas, w.links, w.storage, first, w.flow);
  give_back_flow(w);
  move_carrier(bed, old, w);
}

/// Hours (theory 8.5): share of a step that a straight line from `from` to `to` spends above a threshold.
double share_above(double from, double to, double threshold) {
  if (from > threshold && to > threshold) return 1.0;
  if (from <= threshold && to <= threshold) return 0.0;
  const double share = (std::max(from, to) - threshold) / std::abs(to - from);
  return std::clamp(share, 0.0, 1.0);
}

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

void use_up_pools(const Bed& bed, const State& old, const StepWork& w, State& next) {
  const auto cells = at(bed.grid.cells());
  for (std::size_t p = 0; p < pool_count; ++p) {
    for_items(cells, [&](std::size_t c) {
      const double share = w.uptake.potential[c] > 0.0 ? w.used[c] / w.uptake.potential[c] : 0.0;
      const double change = w.rule.carried * old.last_pool[p][c] -
                            w.rule.time * static_cast<double>(w.uptake.pool_rate[c][p]) * share;
      next.pool[p][c] = old.pool[p][c] + change;
    });
  }
}

/// The flow goes over to the next state, which needs its memory no longer twice.
void keep_flow(const Bed& bed, StepWork& w, State& next) {
  const auto cells = at(bed.grid.cells());
  for (auto* field : {&next.dry_gas, &next.pressure}) field->resize(cells);
  for (auto* field : {&next.node_dry_gas, &next.node_pressure}) field->resize(bed.nodes.size());
  for_items(w.dry_gas.size(), [&](std::size_t c) {
    (c < cells ? next.dry_gas[c] : next.node_dry_gas[c - cells]) = w.dry_gas[c];
    (c < cells ? next.pressure[c] : next.node_pressure[c - cells]) = w.flow.pressure[c];
  });
  std::vector<double>().swap(w.flow.pressure);
  next.flux_x = std::move(w.flow.faces.x);
  next.flux_y = std::move(w.flow.faces.y);
  next.flux_z = std::move(w.flow.faces.z);
  w.flow.faces = Faces();
  next.flux_top.assign(at(bed.grid.columns()), 0.0);
  for (std::size_t n = 0; n < w.links.size(); ++n) {
    const int inner = w.links[n].inner;
    if (!w.links[n].surface || inner >= bed.grid.cells() || w.links[n].height <= 0.0) continue;
    next.flux_top[at(inner % bed.grid.nx + bed.grid.nx * (inner / (bed.grid.nx * bed.grid.nz)))] +=
        w.flow.net[n];
  }
}

void book_step(const State& old, const StepWork& w, State& next) {
  next.last_booked.assign(booked_count, 0.0);
  for (std::size_t b = 0; b < booked_count; ++b) {
    const double carried = old.last_booked.empty() ? 0.0 : w.rule.carried * old.last_booked[b];
    next.last_booked[b] = carried + w.rule.time * w.rates[b];
    next.booked[b] += next.last_booked[b];
  }
}

}  // namespace

void fill_with_air(const Bed& bed, const Properties& now, State& s) {
  const auto cells = at(bed.grid.cells());
  const auto fill = [&](double volume, double temperature, double ratio, double& gas, double& o2,
                        double& co2) {
    gas = bed.gas.dry_density(temperature, ratio) * volume;
    o2 = gas * air_oxygen;
    co2 = gas * air_carbon_dioxide;
  };
  for (std::size_t c = 0; c < cells; ++c)
    fill(now.volume[c] * now.free_air[c], s.temperature[c],
         bed.gas.vapour_ratio(s.temperature[c], now.activity[c]), s.dry_gas[c], s.oxygen[c],
         s.carbon_dioxide[c]);
  OutsideAir outside;
  set_weather(bed, s.time(), outside);
  for (std::size_t n = 0; n < bed.nodes.size(); ++n) {
    s.node_temperature[n] = outside.temperature;
    fill(node_volume(bed, static_cast<int>(n)), outside.temperature, outside.vapour_ratio, s.node_dry_gas[n],
         s.node_oxygen[n], s.node_carbon_dioxide[n]);
    s.node_vapour[n] = s.node_dry_gas[n] * outside.vapour_ratio * molar_water;
  }
  s.booked.assign(booked_count, 0.0);
}

StepOutcome advance(Bed& bed, const State& old, double dt, StepWork& w, State& next, Phases& seconds) {
  StepOutcome outcome;
  const bool restart = old.clock[4] < 1.0;
  const double ratio = restart ? 0.0 : dt / old.clock[1];
  {
    const Stopwatch watch(seconds["settle"]);
    begin_state(old, next);
    w.rule = time_rule(dt, old.clock[1], restart);
    foresee_matter(old, dt, ratio, next);
    settle_bed(bed, next);
    compute_properties(bed, next, w.now);
    forget_matter(old, next, w.now);
    set_weather(bed, old.time() + dt, w.outside);
    w.links = connect(bed, w.now);
    w.heat = heat_links(bed, w.now, w.links, w.outside.temperature);
    first_guess(bed, old, ratio, w);
    w.surfaces.clear();
    drain(bed, old, w);
    refresh_vapour(bed, w);
  }
  const int limit = old.clock[3] < 1.0 ? most_first_passes : most_passes;
  double moved = 0.0;
  w.anderson.restart();
  for (outcome.passes = 1;; ++outcome.passes) {
    gather(bed, w, w.image);
    w.anderson.begin(w.image);
    {
      const Stopwatch watch(seconds["flow"]);
      solve_air(bed, old, outcome.passes == 1, w);
    }
    {
      const Stopwatch watch(seconds["microbes"]);
      compute_uptake(bed, old, w.now, w.temperature, w.oxygen, w.rule, w.uptake);
    }
    double oxygen_moved = 0.0;
    {
      const Stopwatch watch(seconds["gases"]);
      oxygen_moved = solve_oxygen(bed, old, w);
    }
    {
      const Stopwatch watch(seconds["heat"]);
      moved = solve_heat(bed, old, w);
    }
    gather(bed, w, w.image);
    const bool done = moved < pass_temperature && oxygen_moved < pass_oxygen && w.flow.change < 0.01;
    if ((outcome.passes >= 2 && done) || outcome.passes >= limit) break;
    w.anderson.mix(w.image);
    scatter(bed, old, ratio, oxygen_moved > mixed_oxygen, w);
  }
  outcome.converged = moved < worst_pass;
  outcome.flow_residual = w.flow.residual;
  give_back_mixing(w);
  if (!outcome.converged || !std::isfinite(moved)) return outcome;

  const Stopwatch watch(seconds["finish"]);
  w.rates.assign(booked_count, 0.0);
  // Uptake, pools and gases move by the oxygen that was solved for with the flow of the last pass.
  solve_oxygen(bed, old, w, true);
  // Where carbon dioxide does not replace oxygen mole by mole, the carrier follows that last uptake too.
  if (bed.problem.microbes.respiratory_quotient != 1.0) move_carrier(bed, old, w);
  finish_gas(bed, old, GasKind::oxygen, w, next);
  solve_carbon_dioxide(bed, old, w);
  finish_gas(bed, old, GasKind::carbon_dioxide, w, next);
  Leaving leaving = last_heat_pass(bed, old, w);
  for (auto* field : {&w.now.along, &w.now.inertia}) std::vector<double>().swap(*field);
  keep_flow(bed, w, next);
  complete_state(old, next);
  use_up_pools(bed, old, w, next);
  finish_heat_and_water(bed, old, std::move(leaving), w, next);
  grow(bed, w.now, old, w.oxygen, dt, next);
  count_hours(bed, old, dt, next);
  w.rates[gas_made] += (bed.problem.microbes.respiratory_quotient - 1.0) * w.rates[oxygen_used];
  book_step(old, w, next);

  const auto cells = at(bed.grid.cells());
  const auto departure = [&](std::size_t c) {
    return next.temperature[c] - old.temperature[c] - ratio * old.last_temperature[c];
  };
  const auto heat_capacity = [&](std::size_t c) {
    return w.now.dry_mass[c] * bed.dry_heat_capacity + next.water[c] * heat_capacity_water;
  };
  outcome.error = std::sqrt(
      ordered_sum(cells, [&](std::size_t c) { return heat_capacity(c) * departure(c) * departure(c); }) /
      ordered_sum(cells, heat_capacity));
  outcome.temperature_change =
      largest_of(cells, [&](std::size_t c) { return std::abs(next.temperature[c] - old.temperature[c]); });
  outcome.worst_error = largest_of(cells, [&](std::size_t c) { return std::abs(departure(c)); });
  outcome.oxygen_change = largest_of(cells, [&](std::size_t c) {
    return std::abs(next.oxygen[c] / next.dry_gas[c] - old.oxygen[c] / old.dry_gas[c]);
  });
  give_back_transport(w);
  next.clock = {old.time() + dt, dt, old.clock[2], old.clock[3] + 1.0, old.clock[4] + 1.0};
  return outcome;
}

}  // namespace updraught
