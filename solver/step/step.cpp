#include "solver/step/step.h"

#include <utility>

#include "solver/step/carrier.h"
#include "solver/step/hours.h"
#include "solver/step/iterate.h"
#include "solver/step/predictor.h"
#include "solver/step/step_error.h"
#include "solver/transport/boundary_heat.h"
#include "solver/transport/gases.h"
#include "solver/transport/heat.h"
#include "solver/transport/microbes.h"
#include "solver/transport/water.h"

namespace updraught {

// THE LIST.
Advanced advance(const Bed& before, const State& old, double dt, StepWork& w, Phases& seconds) {
  auto& [frame, trial, books, work, air, mixing, memory] = w;
  Advanced after{before, {}, {}};
  StepOutcome& outcome = after.outcome;
  State& next = after.next;
  Bed& bed = after.bed;
  const bool restart = old.clock.since_event < 1.0;
  const double ratio = restart ? 0.0 : dt / old.clock.last_step;
  Laps laps(seconds);
  laps.to("settle");
  begin_state(old, next);
  frame.rule = time_rule(dt, old.clock.last_step, restart);
  predict_matter(old, dt, ratio, next);
  settle_bed(before, next);
  bed = with_layers(before, next.thickness);
  compute_properties(bed, next, frame.now);
  drain(bed, next, frame);
  discard_matter(old, next, frame.now);
  frame.outside = outside_air(bed, old.time() + dt);
  frame.paths = air_paths(bed, frame.now, air.resistances);
  frame.heat = conducting_patches(bed, frame.now, frame.paths, frame.outside.temperature);
  first_guess(bed, old, ratio, frame, trial);
  trial.surfaces.clear();
  refresh_vapour(bed, trial);
  const int most = most_passes(old);
  PassMoves moves;
  OpeningWatch openings;
  mixing.anderson.restart();
  for (outcome.passes = 1;; ++outcome.passes) {
    begin_pass(bed, trial, mixing);
    books.unsolved = nullptr;
    laps.to("flow");
    solve_air(bed, old, outcome.passes == 1, frame, trial, books, work, air, memory);
    laps.to("microbes");
    compute_uptake(bed, old, frame.now, trial.temperature, trial.oxygen, frame.rule, trial.uptake);
    laps.to("gases");
    solve_oxygen(bed, old, frame, trial, books, work, memory);
    laps.to("heat");
    solve_heat(bed, old, frame, trial, books, work, memory);
    laps.end();
    moves = moves_of_pass(bed, frame, trial, mixing, openings);
    if ((outcome.passes >= 2 && settled(moves, change_so_far(bed, old, trial))) || outcome.passes >= most)
      break;
    next_iterate(bed, old, ratio, moves, trial, mixing);
  }
  outcome.flow_residual = trial.flow.residual;
  outcome.failed = books.unsolved != nullptr ? books.unsolved : what_moves(moves);
  mixing = Mixing();
  if (outcome.failed != nullptr) return after;

  laps.to("finish");
  books.rates.assign(booked_count, 0.0);
  // Uptake, pools and gases move by the oxygen that was solved for with the flow of the last pass.
  solve_oxygen(bed, old, frame, trial, books, work, memory, true);
  // Where carbon dioxide does not replace oxygen mole by mole, the carrier follows that last uptake too.
  if (bed.setup->problem.microbes.respiratory_quotient != 1.0) move_carrier(bed, old, frame, trial, work);
  apply_gas_fluxes(bed, old, GasKind::oxygen, frame, trial, books, work, next);
  solve_carbon_dioxide(bed, old, frame, trial, books, work, memory);
  apply_gas_fluxes(bed, old, GasKind::carbon_dioxide, frame, trial, books, work, next);
  Leaving leaving = last_heat_pass(bed, old, frame, trial, books, work, memory);
  for (auto* field : {&frame.now.along, &frame.now.inertia}) std::vector<double>().swap(*field);
  keep_flow(bed, frame, trial, next);
  complete_state(old, next);
  use_up_pools(bed, old, frame, trial, next);
  apply_heat_and_water_fluxes(bed, old, std::move(leaving), frame, trial, books, work, next);
  grow(bed, frame.now, old, trial.oxygen, dt, next);
  count_hours(bed, old, dt, next);
  books.rates[gas_made] +=
      (bed.setup->problem.microbes.respiratory_quotient - 1.0) * books.rates[oxygen_used];
  book_step(old, frame.rule, books, next);

  outcome.failed = books.unsolved;
  outcome.heat_mismatch = books.heat_mismatch;
  outcome.change = change_over_step(bed, old, next);
  outcome.error = departure_from_prediction(bed, old, ratio, frame.now, next);
  give_back(work);
  next.clock = {old.time() + dt, dt, old.clock.next_step, old.clock.steps + 1.0, old.clock.since_event + 1.0};
  return after;
}

}  // namespace updraught
