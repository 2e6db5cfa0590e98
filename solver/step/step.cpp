#include "solver/step/step.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/step/carrier.h"
#include "solver/step/iterate.h"
#include "solver/step/predictor.h"
#include "solver/step/step_error.h"
#include "solver/transport/air_spaces.h"
#include "solver/transport/boundary_heat.h"
#include "solver/transport/gases.h"
#include "solver/transport/heat.h"
#include "solver/transport/microbes.h"
#include "solver/transport/water.h"

namespace updraught {

namespace {

constexpr int most_passes = 6;
/// A first step starts without a flow to go by.
constexpr int most_first_passes = 12;

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
  out.temperature = outside_temperature(bed.setup->problem.outside, time);
  out.vapour_ratio = bed.setup->gas.vapour_ratio(out.temperature, bed.setup->problem.outside.humidity);
  out.enthalpy = bed.setup->gas.enthalpy(out.temperature, out.vapour_ratio);
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
  for (auto* field : {&next.node_dry_gas, &next.node_pressure}) field->resize(bed.setup->nodes.size());
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
    const Connection& link = w.links[n];
    if (link.surface() && at_top(bed, link))
      next.flux_top[at(bed.grid.column_of(link.inner))] += w.flow.net[n];
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
    gas = bed.setup->gas.dry_density(temperature, ratio) * volume;
    o2 = gas * air_oxygen;
    co2 = gas * air_carbon_dioxide;
  };
  for (std::size_t c = 0; c < cells; ++c)
    fill(now.volume[c] * now.free_air[c], s.temperature[c],
         bed.setup->gas.vapour_ratio(s.temperature[c], now.activity[c]), s.dry_gas[c], s.oxygen[c],
         s.carbon_dioxide[c]);
  OutsideAir outside;
  set_weather(bed, s.time(), outside);
  for (std::size_t n = 0; n < bed.setup->nodes.size(); ++n) {
    s.node_temperature[n] = outside.temperature;
    fill(node_volume(bed, static_cast<int>(n)), outside.temperature, outside.vapour_ratio, s.node_dry_gas[n],
         s.node_oxygen[n], s.node_carbon_dioxide[n]);
    s.node_vapour[n] = s.node_dry_gas[n] * outside.vapour_ratio * molar_water;
  }
  s.booked.assign(booked_count, 0.0);
}

Advanced advance(const Bed& before, const State& old, double dt, StepWork& w, Phases& seconds) {
  Advanced after{before, {}, {}};
  StepOutcome& outcome = after.outcome;
  State& next = after.next;
  Bed& bed = after.bed;
  const bool restart = old.clock.since_event < 1.0;
  const double ratio = restart ? 0.0 : dt / old.clock.last_step;
  {
    const Stopwatch watch(seconds["settle"]);
    begin_state(old, next);
    w.rule = time_rule(dt, old.clock.last_step, restart);
    foresee_matter(old, dt, ratio, next);
    settle_bed(before, next);
    bed = with_layers(before, next.thickness);
    compute_properties(bed, next, w.now);
    forget_matter(old, next, w.now);
    set_weather(bed, old.time() + dt, w.outside);
    w.links = connect(bed, w.now, w.known_spreads);
    w.heat = heat_links(bed, w.now, w.links, w.outside.temperature);
    first_guess(bed, old, ratio, w);
    w.surfaces.clear();
    drain(bed, old, w);
    refresh_vapour(bed, w);
  }
  const int limit = old.clock.steps < 1.0 ? most_first_passes : most_passes;
  PassMoves moves;
  OpeningWatch openings;
  w.anderson.restart();
  for (outcome.passes = 1;; ++outcome.passes) {
    begin_pass(bed, w);
    w.unsolved = nullptr;
    {
      const Stopwatch watch(seconds["flow"]);
      solve_air(bed, old, outcome.passes == 1, w);
    }
    {
      const Stopwatch watch(seconds["microbes"]);
      compute_uptake(bed, old, w.now, w.temperature, w.oxygen, w.rule, w.uptake);
    }
    {
      const Stopwatch watch(seconds["gases"]);
      solve_oxygen(bed, old, w);
    }
    {
      const Stopwatch watch(seconds["heat"]);
      solve_heat(bed, old, w);
    }
    moves = moves_of_pass(bed, w, openings);
    if ((outcome.passes >= 2 && settled(moves, change_so_far(bed, old, w))) || outcome.passes >= limit) break;
    next_iterate(bed, old, ratio, moves, w);
  }
  outcome.flow_residual = w.flow.residual;
  outcome.failed = w.unsolved != nullptr ? w.unsolved : what_moves(moves);
  give_back_mixing(w);
  if (outcome.failed != nullptr) return after;

  const Stopwatch watch(seconds["finish"]);
  w.rates.assign(booked_count, 0.0);
  // Uptake, pools and gases move by the oxygen that was solved for with the flow of the last pass.
  solve_oxygen(bed, old, w, true);
  // Where carbon dioxide does not replace oxygen mole by mole, the carrier follows that last uptake too.
  if (bed.setup->problem.microbes.respiratory_quotient != 1.0) move_carrier(bed, old, w);
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
  w.rates[gas_made] += (bed.setup->problem.microbes.respiratory_quotient - 1.0) * w.rates[oxygen_used];
  book_step(old, w, next);

  outcome.failed = w.unsolved;
  outcome.change = change_over_step(bed, old, next);
  outcome.error = departure_from_prediction(bed, old, ratio, w.now, next);
  give_back_transport(w);
  next.clock = {old.time() + dt, dt, old.clock.next_step, old.clock.steps + 1.0, old.clock.since_event + 1.0};
  return after;
}

}  // namespace updraught
