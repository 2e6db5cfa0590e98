#include "solver/march.h"

#include <algorithm>
#include <cmath>

#include "solver/enthalpy.h"
#include "solver/nodes.h"
#include "solver/planted_leak.h"
#include "solver/run.h"

namespace updraught {

namespace {

std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

/// Largest change in a step that is aimed at: temperature (K), oxygen (mole fraction), departure from the
/// predictor over the bed and in one cell (K). One thin cell at a drying front may depart further than the
/// bed does: its heat is small and its jump from wet to dry is the grid's, not time's.
constexpr double aim_temperature = 3.0;
constexpr double aim_oxygen = 0.05;
constexpr double aim_error = 0.07;
constexpr double aim_worst_error = 1.0;
/// A step that overshoots its aims by this is taken again.
constexpr double worst_overshoot = 3.0;
constexpr double largest_growth = 1.6;
constexpr double shortest_step = 1.0;

/// By how much the step missed its aims; 1 hits them.
double overshoot(const StepOutcome& o) {
  return std::max({o.temperature_change / aim_temperature, std::sqrt(o.error / aim_error),
                   std::sqrt(o.worst_error / aim_worst_error)});
}

double wished_length(const StepOutcome& o, double dt, double longest) {
  const double miss = std::max(overshoot(o), 0.5 * o.oxygen_change / aim_oxygen);
  const double factor = std::clamp(0.9 / std::max(miss, 1e-6), 0.3, largest_growth);
  return std::min(dt * factor, longest);
}

}  // namespace

double first_step(const Problem& problem) {
  return std::min({60.0, problem.longest_step, problem.duration});
}

MarchStep take_step(Bed& bed, State& state, double end, StepWork& work, State& next, RunResult& result) {
  double dt = std::min(state.clock[2], bed.problem.longest_step);
  for (;;) {
    const double left = end - state.time();
    // Two equal last steps rather than a long and a tiny one.
    double length = dt >= left ? left : dt > 0.5 * left ? 0.5 * left : dt;
    StepOutcome outcome = advance(bed, state, length, work, next, result.seconds);
    if (outcome.converged && (overshoot(outcome) <= worst_overshoot || length <= 2.0 * shortest_step)) {
      next.clock[2] = wished_length(outcome, length, bed.problem.longest_step);
      next.take_increments(state);
      let_leak(bed, next);
      const double per_day = 86400.0 / length;
      return {outcome.flow_residual, state.clock[3] > 10.0 && outcome.temperature_change * per_day < 1e-4 &&
                                         outcome.oxygen_change * per_day < 1e-6};
    }
    ++result.rejected;
    bed.grid.set_layers(state.thickness);
    dt = 0.5 * length;
    if (dt < shortest_step)
      throw CannotCompute("the computation found no step that holds; the case may ask for something extreme");
  }
}

Inventory inventory(const Bed& bed, const State& s) {
  const auto cells = at(bed.grid.cells());
  Inventory all;
  all.dry_gas = ordered_sum(cells, [&](std::size_t c) { return s.dry_gas[c]; });
  all.oxygen = ordered_sum(cells, [&](std::size_t c) { return s.oxygen[c]; });
  all.carbon_dioxide = ordered_sum(cells, [&](std::size_t c) { return s.carbon_dioxide[c]; });
  all.water = ordered_sum(cells, [&](std::size_t c) { return s.water[c]; });
  all.dry_mass = ordered_sum(cells, [&](std::size_t c) { return dry_of(s, c); });
  all.heat = ordered_sum(cells, [&](std::size_t c) {
    const double dry = dry_of(s, c);
    const double activity = dry > 0.0 ? water_activity(std::max(s.water[c], 0.0) / dry) : 1.0;
    return cell_enthalpy(bed, dry, s.water[c], s.dry_gas[c], s.temperature[c], activity);
  });
  for (std::size_t n = 0; n < bed.nodes.size(); ++n) {
    all.dry_gas += s.node_dry_gas[n];
    all.oxygen += s.node_oxygen[n];
    all.carbon_dioxide += s.node_carbon_dioxide[n];
    all.water += s.node_vapour[n];
    all.heat += node_enthalpy(bed, s, static_cast<int>(n));
  }
  return all;
}

void close_balances(const Bed& bed, const Inventory& a, const Inventory& b, const State& s, Balances& out) {
  const auto& k = s.booked;
  const double scale = bed.problem.plan_scale;
  out.dry_gas = balance_error(a.dry_gas, b.dry_gas, k[gas_in] - k[gas_out] + k[gas_made],
                              k[gas_in] + std::abs(k[gas_made]));
  out.oxygen =
      balance_error(a.oxygen, b.oxygen, k[oxygen_in] - k[oxygen_out] - k[oxygen_used] + k[oxygen_clipped],
                    k[oxygen_in] + k[oxygen_used]);
  out.heat = balance_error(a.heat, b.heat, k[heat_in] - k[heat_out] + k[heat_made],
                           k[heat_in] + std::abs(k[heat_made]));
  out.water = balance_error(a.water, b.water, k[water_in] - k[water_out] + k[water_made] - k[water_drained],
                            k[water_in] + std::abs(k[water_made]));
  out.dry_mass = balance_error(a.dry_mass, b.dry_mass, -k[dry_lost], k[dry_lost]);
  out.clipped_oxygen = scale * k[oxygen_clipped];
}

}  // namespace updraught
