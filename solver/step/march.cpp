#include "solver/step/march.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/bed/enthalpy.h"
#include "solver/output/measures.h"
#include "solver/step/planted_leak.h"
#include "solver/transport/air_spaces.h"

namespace updraught {

namespace {

/// Largest change of temperature in a step that is aimed at (K), and of oxygen (mole fraction), of which a
/// step may do twice as much.
constexpr double aim_temperature = 3.0;
constexpr double aim_oxygen = 0.05;
/// Departures from the prediction that are aimed at (StepError). One thin cell at a drying front may depart
/// further than the bed does: its heat is small and its jump from wet to dry is the grid's, not time's. The
/// bed's own temperature rules on days with a wave outside; with 0.07 and 0.3 K the ready boxes' days and
/// hours stand within 1 %. Oxygen and the air spaces beside the bed decide when a draught strikes: with these
/// aims the day came within 0.4 of a day of that of short steps in the ready box near its threshold, with
/// four times them 0.7 off (theory 9.6).
constexpr StepError aim{0.2, 1.0, 0.002, 0.002};
/// A step that overshoots its aims by this is taken again.
constexpr double worst_overshoot = 3.0;
constexpr double largest_growth = 1.6;
/// Below this length no step is tried (s).
constexpr double shortest_step = 1e-3;
/// Steps this short are taken however they overshoot: what jumps then jumps by itself (s).
constexpr double blind_step = 2.0;

/// By how much the step missed its aims; 1 hits them. A number that is none counts as a miss.
double overshoot(const StepOutcome& o) {
  const double departures[] = {o.error.temperature / aim.temperature,
                               o.error.worst_temperature / aim.worst_temperature, o.error.oxygen / aim.oxygen,
                               o.error.node_oxygen / aim.node_oxygen};
  double worst = o.change.temperature / aim_temperature;
  for (const double d : departures) worst = larger_of(std::sqrt(d), worst);
  return worst;
}

double wished_length(const StepOutcome& o, double dt, double longest, double share) {
  const double miss = std::max(overshoot(o), 0.5 * o.change.oxygen / aim_oxygen);
  const double factor = std::clamp(0.9 * share / std::max(miss, 1e-6), 0.3, largest_growth);
  return std::min(dt * factor, share * longest);
}

/// Between these temperatures the laws of moist air and of the bed are stated (degC); oxygen and carbon
/// dioxide may leave what air holds by what passes leave open (mole fraction).
constexpr double coldest_of_laws = -60.0;
constexpr double hottest_of_laws = 95.0;
constexpr double gas_overshoot = 0.002;
/// Water that a cell may give off beyond what it holds (kg per kg dry): what the last pass of a drying cell
/// leaves open, and rounding.
constexpr double water_overshoot = 1e-3;

/// Why a state cannot be believed, in words; null: it can. Air of constant properties has no such limits.
const char* beyond_laws(const Bed& bed, const State& s) {
  if (bed.setup->gas.constant()) return nullptr;
  const auto cells = s.temperature.size();
  const auto excess = [&](std::size_t c) {
    return larger_of(s.temperature[c] - hottest_of_laws, coldest_of_laws - s.temperature[c]);
  };
  if (largest_of(cells, excess) > 0.0) return "a temperature leaves -60 to 95 °C, where the laws hold";
  const auto too_much = [&](std::size_t c) {
    return larger_of(s.oxygen[c] / s.dry_gas[c] - air_oxygen, -s.carbon_dioxide[c] / s.dry_gas[c]);
  };
  if (largest_of(cells, too_much) > gas_overshoot) return "the gas in the bed leaves what air can become";
  const auto owed = [&](std::size_t c) { return -s.water[c] - water_overshoot * dry_of(s, c); };
  if (largest_of(cells, owed) > 0.0) return "a part of the bed gives off more water than it holds";
  return nullptr;
}

/// One trial; what the laws refuse there ends the trial, not the run.
Advanced try_step(const Bed& bed, const State& state, double length, StepWork& work, RunResult& result,
                  std::string& why) {
  try {
    Advanced after = advance(bed, state, length, work, result.seconds);
    const char*& failed = after.outcome.failed;
    if (failed != nullptr) {
      why = std::string(failed) + " found no balance";
    } else if (beyond_laws(bed, after.next) != nullptr) {
      failed = beyond_laws(bed, after.next);
      why = failed;
    }
    return after;
  } catch (const std::invalid_argument& refused) {
    why = refused.what();
    StepOutcome outcome;
    outcome.failed = "a law refused";
    return {bed, {}, outcome};
  }
}

}  // namespace

double first_step(const Problem& problem) {
  return std::min({60.0 * problem.step_share, problem.longest_step, problem.duration});
}

MarchStep March::take_step(const Bed& bed, State& state, double end, RunResult& result) {
  // A step that missed its aims by far may wish for one that is too short to be tried: the shortest is tried
  // still.
  double dt = std::max(std::min(state.clock.next_step, bed.setup->problem.longest_step), shortest_step);
  std::string why;
  while (dt >= shortest_step) {
    const double left = end - state.time();
    // Two equal last steps rather than a long and a tiny one.
    const double length = dt >= left ? left : dt > 0.5 * left ? 0.5 * left : dt;
    Advanced after = try_step(bed, state, length, work_, result, why);
    if (after.outcome.failed == nullptr) {
      const double miss = overshoot(after.outcome);
      if (miss <= worst_overshoot || (length <= blind_step && std::isfinite(miss))) {
        const Problem& p = bed.setup->problem;
        after.next.clock.next_step = wished_length(after.outcome, length, p.longest_step, p.step_share);
        after.next.take_increments(state);
        let_leak(after.bed, after.next);
        return {std::move(after), ""};
      }
      why = "it changes too fast";
    }
    ++result.rejected;
    dt = 0.5 * length;
  }
  return {{bed, {}, {}}, why};
}

SeriesRow March::row(const Bed& bed, const State& state) {
  const StepDone step{work_.frame, work_.trial, work_.books, work_.memory};
  return series_row(bed, state, work_.frame.now, &step);
}

bool nothing_changes(const StepOutcome& step, double length) {
  const double per_day = 86400.0 / length;
  return step.change.temperature * per_day < 1e-4 && step.change.oxygen * per_day < 1e-6;
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
    const double activity = activity_of(dry, s.water[c]);
    return cell_enthalpy(bed, dry, s.water[c], s.dry_gas[c], s.temperature[c], activity);
  });
  for (std::size_t n = 0; n < bed.setup->nodes.size(); ++n) {
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
  const double scale = bed.setup->problem.plan_scale;
  out.dry_gas = balance_error(a.dry_gas, b.dry_gas, k[gas_in] - k[gas_out] + k[gas_made],
                              k[gas_in] + std::abs(k[gas_made]));
  out.oxygen =
      balance_error(a.oxygen, b.oxygen, k[oxygen_in] - k[oxygen_out] - k[oxygen_used] + k[oxygen_clipped],
                    k[oxygen_in] + k[oxygen_used]);
  out.heat = balance_error(a.heat, b.heat, k[heat_in] - k[heat_out] + k[heat_made] + k[heat_filled],
                           k[heat_in] + std::abs(k[heat_made]));
  out.water = balance_error(a.water, b.water,
                            k[water_in] - k[water_out] + k[water_made] - k[water_drained] + k[water_filled],
                            k[water_in] + std::abs(k[water_made]));
  out.dry_mass = balance_error(a.dry_mass, b.dry_mass, k[dry_filled] - k[dry_lost], k[dry_lost]);
  out.clipped_oxygen = scale * k[oxygen_clipped];
}

}  // namespace updraught
