#include "solver/transport/heat.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "mesh/parallel/index.h"
#include "solver/bed/enthalpy.h"
#include "solver/linear/transport_solver.h"
#include "solver/transport/air_spaces.h"
#include "solver/transport/boundary_heat.h"
#include "solver/transport/heat_system.h"
#include "solver/transport/water.h"

namespace updraught {

namespace {

/// Nodes are in balance with the bed's surfaces to this (K), after at most so many accelerated cycles.
constexpr double node_tolerance = 1e-4;
constexpr int most_node_cycles = 8;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// Nodes and the surfaces that face them, for the present cells: each node's temperature is a fixed point of
/// "surfaces for this node, node for these surfaces", found with Aitken's acceleration. Where the cycles do
/// not come to rest the passes of the step go on from there, since nodes count among what moves.
void balance_nodes(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books) {
  const int nodes = static_cast<int>(bed.setup->nodes.size());
  const auto cells = at(bed.grid.cells());
  update_surfaces(bed, frame, trial);
  const std::vector<NodeTerms> of_cells = terms_of_cells(bed, frame, trial);
  std::vector<double> before(at(nodes)), first(at(nodes));
  bool found = true;
  for (int cycle = 0; cycle < most_node_cycles; ++cycle) {
    double moved = 0.0;
    found = true;  // what counts is where the cycles end
    for (int stage = 0; stage < 2; ++stage) {
      for (int n = 0; n < nodes; ++n) {
        double& t = trial.temperature[cells + at(n)];
        (stage == 0 ? before : first)[at(n)] = t;
        found = solve_node(bed, old, n, of_cells[at(n)], frame, trial) && found;
        moved = std::max(moved, std::abs(t - (stage == 0 ? before : first)[at(n)]));
        if (stage == 0) continue;
        const double bend = t - 2.0 * first[at(n)] + before[at(n)];
        const double run = first[at(n)] - before[at(n)];
        if (std::abs(bend) > 0.1 * std::abs(run)) t = before[at(n)] - run * run / bend;
      }
      update_surfaces(bed, frame, trial);
    }
    if (moved < node_tolerance) break;
  }
  for (int n = 0; n < nodes; ++n) found = solve_node(bed, old, n, of_cells[at(n)], frame, trial) && found;
  for (const SurfaceState& s : trial.surfaces) found = found && s.found;
  note_found(found, "the warmth beside the bed", books);
}

Booked booked_path(Boundary boundary) {
  return boundary == Boundary::wall ? heat_walls : boundary == Boundary::floor ? heat_floor : heat_top;
}

/// One Newton step at the present iterate: w.change for cells and nodes. After the `last` one w.correction
/// holds the enthalpy flux at the iterate, w.transport its slopes.
void newton_step(const Bed& bed, const State& old, bool last, const Frame& frame, Trial& trial, Books& books,
                 TransportWork& work, SolverMemory& memory) {
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  conduction_faces(bed, frame, trial, work);
  prepare_surfaces(bed, frame, trial);
  balance_nodes(bed, old, frame, trial, books);
  heat_system(bed, old, frame, trial, work);
  work.change.assign(cells + bed.setup->nodes.size(), 0.0);
  work.rhs.resize(cells + bed.setup->nodes.size());
  std::fill(work.rhs.begin() + g.cells(), work.rhs.end(), 0.0);
  if (bed.setup->problem.hold_temperature) return;
  // A millionth of a degree of the mean cell's store, at the step's rate. What conducts does not count: where
  // it is large against the store, smooth changes would be lost.
  const double mean = ordered_sum(cells,
                                  [&](std::size_t c) {
                                    return frame.now.dry_mass[c] * bed.setup->dry_heat_capacity +
                                           std::max(trial.water[c], 0.0) * heat_capacity_water;
                                  }) /
                      static_cast<double>(cells) / frame.rule.beta_dt;
  if (!last) work.correction = Faces();
  std::vector<double>().swap(work.scratch);
  const StoppingCriterion rule{1e-10, 1e-6 * mean, 100};
  note_solve(solve_once(work.matrix, work.rhs, work.change, rule, memory), "heat", books);
}

/// Takes the Newton step, then balances the nodes against the new cells.
void take_newton_step(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                      TransportWork& work) {
  for_items(work.change.size(), [&](std::size_t c) { trial.temperature[c] += work.change[c]; });
  refresh_vapour(bed, trial);
  balance_nodes(bed, old, frame, trial, books);
}

/// Net heat that leaves each cell through its faces (W): the fluxes that the Newton step was solved with, not
/// fluxes at the new temperatures. Where much air passes a small store, the least difference between the two
/// would be a large one in temperature (theory 9.2).
void heat_of_cells(const Bed& bed, TransportWork& work, std::vector<double>& leaving) {
  const TransportOperator& a = work.matrix;
  for_faces(bed.grid, [&](auto direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    const double up = (direction == 0 ? a.up_x : direction == 1 ? a.up_y : a.up_z)[hi];
    const double down = (direction == 0 ? a.down_x : direction == 1 ? a.down_y : a.down_z)[hi];
    along(work.correction, direction)[hi] += up * work.change[lo] - down * work.change[hi];
  });
  divergence(bed.grid, work.correction, leaving);
}

/// What microbes make and water drains, booked; the heat of both goes to what leaves each cell.
void book_sources(const Bed& bed, const Frame& frame, const Trial& trial, Books& books, TransportWork& work,
                  Leaving& leaving) {
  const auto cells = at(bed.grid.cells());
  work.scratch.resize(cells);
  for_items(cells, [&](std::size_t c) {
    work.scratch[c] = heat_source(bed, frame, trial, c);
    leaving.heat[c] += trickle(frame, trial, bed.grid, static_cast<int>(c)) - work.scratch[c];
  });
  books.rates[heat_made] += ordered_sum(cells, [&](std::size_t c) { return work.scratch[c]; });
  books.rates[water_made] +=
      ordered_sum(cells, [&](std::size_t c) { return consumed_mass(bed, trial, c).water; });
  books.rates[dry_lost] +=
      ordered_sum(cells, [&](std::size_t c) { return consumed_mass(bed, trial, c).dry; });
  for (const Patch& patch : bed.grid.patches) {
    if (patch.boundary != Boundary::floor) continue;
    const auto c = at(patch.cell);
    books.rates[water_drained] += frame.drained[c];
    book_heat(books, heat_floor, heat_capacity_water * frame.drained[c] * trial.temperature[c]);
  }
}

/// What crosses the bounds of cells and nodes, booked and added to what leaves them.
void book_boundaries(const Bed& bed, const Frame& frame, Trial& trial, Books& books, Leaving& leaving) {
  const auto all = at(bed.grid.cells()) + bed.setup->nodes.size();
  leaving.heat.resize(all, 0.0);
  leaving.water.resize(all, 0.0);
  book_paths(bed, frame, trial, books, leaving.heat, leaving.water);
  for (const ConductingPatch& patch : frame.heat) {
    const double q = patch.conductance * (trial.temperature[at(patch.cell)] - patch.far) - patch.flux_in;
    leaving.heat[at(patch.cell)] += q;
    book_heat(books, booked_path(patch.boundary), q);
  }
  book_nodes(bed, frame, trial, books, leaving.heat, leaving.water);
}

/// New water of the cells and the temperature that their heat then makes. Into `extra` for each cell: heat
/// that a thermostat adds (J), or the temperature recovered less the one solved for (K), no number where
/// there is none that holds the cell's heat.
void move_cells(const Bed& bed, const State& old, const Frame& frame, const Trial& trial,
                const Leaving& leaving, std::vector<double>& extra, State& next) {
  const bool first = old.last_water.empty();
  const std::optional<double>& held = bed.setup->problem.hold_temperature;
  for_items(extra.size(), [&](std::size_t c) {
    const double was = cell_enthalpy(bed, frame.now.dry_mass[c], old.water[c], old.dry_gas[c],
                                     old.temperature[c], frame.now.activity[c]);
    const double heat_change =
        (first ? 0.0 : frame.rule.history * old.last_heat[c]) - frame.rule.beta_dt * leaving.heat[c];
    const double water_change =
        (first ? 0.0 : frame.rule.history * old.last_water[c]) - frame.rule.beta_dt * leaving.water[c];
    next.water[c] = old.water[c] + water_change;
    next.last_heat[c] = heat_change;
    const double dry = dry_of(next, c);
    const double activity = activity_of(dry, next.water[c]);
    if (held) {
      next.temperature[c] = *held;
      const double is = cell_enthalpy(bed, dry, next.water[c], next.dry_gas[c], *held, activity);
      extra[c] = is - was - heat_change;
      next.last_heat[c] = is - was;
      return;
    }
    const Root recovered = recover_temperature(bed, dry, next.water[c], next.dry_gas[c], activity,
                                               was + heat_change, trial.temperature[c]);
    next.temperature[c] = recovered.value;
    extra[c] = recovered.found ? recovered.value - trial.temperature[c] : nan;
  });
}

}  // namespace

void solve_heat(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                TransportWork& work, SolverMemory& memory) {
  newton_step(bed, old, false, frame, trial, books, work, memory);
  take_newton_step(bed, old, frame, trial, books, work);
  update_water(bed, old, frame, trial, work);
}

Leaving last_heat_pass(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                       TransportWork& work, SolverMemory& memory) {
  newton_step(bed, old, true, frame, trial, books, work, memory);
  Leaving leaving;
  heat_of_cells(bed, work, leaving.heat);
  water_of_cells(bed, frame, trial, work, work.change, leaving.water);
  give_back_operators(work);
  return leaving;
}

void apply_heat_and_water_fluxes(const Bed& bed, const State& old, Leaving leaving, const Frame& frame,
                                 Trial& trial, Books& books, TransportWork& work, State& next) {
  const auto cells = at(bed.grid.cells());
  take_newton_step(bed, old, frame, trial, books, work);
  book_surfaces(bed, frame, trial);
  book_sources(bed, frame, trial, books, work, leaving);
  book_boundaries(bed, frame, trial, books, leaving);
  next.last_heat.resize(cells + bed.setup->nodes.size());
  std::vector<double>& extra = work.scratch;
  move_cells(bed, old, frame, trial, leaving, extra, next);
  apply_node_fluxes(bed, old, frame, leaving.heat, leaving.water, next);
  books.heat_mismatch = 0.0;
  if (bed.setup->problem.hold_temperature) {
    // The heat that the thermostat adds or takes, as a rate of this step.
    const double held = ordered_sum(cells, [&](std::size_t c) { return extra[c]; });
    books.rates[held > 0.0 ? heat_in : heat_out] += std::abs(held) / frame.rule.beta_dt;
  } else {
    books.heat_mismatch = largest_of(cells, [&](std::size_t c) { return std::abs(extra[c]); });
    note_found(!std::isnan(books.heat_mismatch), "the warmth of a part of the bed", books);
  }
}

}  // namespace updraught
