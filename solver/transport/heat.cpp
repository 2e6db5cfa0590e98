#include "solver/transport/heat.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "mesh/parallel/index.h"
#include "solver/bed/enthalpy.h"
#include "solver/linear/transport_solver.h"
#include "solver/transport/air_spaces.h"
#include "solver/transport/boundary_heat.h"
#include "solver/transport/water.h"

namespace updraught {

namespace {

/// Nodes are in balance with the bed's surfaces to this (K), after at most so many accelerated cycles.
constexpr double node_tolerance = 1e-4;
constexpr int most_node_cycles = 8;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

void conduction_faces(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work) {
  work.spreading.assign(at(bed.grid.cells()), 0.0);
  work.vapour_flow.assign(at(bed.grid.cells()), 0.0);
  const bool vapour = !bed.setup->gas.constant();
  if (vapour) {
    work.scratch.resize(at(bed.grid.cells()));
    for_items(work.scratch.size(), [&](std::size_t c) {
      const bool given = bed.setup->problem.prescribed.diffusivity.has_value();
      work.scratch[c] = frame.now.diffusion[c] *
                        (given ? 1.0 : diffusivity_vapour(trial.temperature[c], bed.setup->gas.pressure()));
    });
  }
  for_faces(bed.grid, [&](int direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    if (f.area <= 0.0) return;
    along(work.spreading, direction)[hi] =
        f.area / (f.to_low / frame.now.conductivity[lo] + f.to_high / frame.now.conductivity[hi]);
    if (!vapour || work.scratch[lo] <= 0.0 || work.scratch[hi] <= 0.0) return;
    const double c_mean =
        (trial.gas.dry_density[lo] * f.to_high + trial.gas.dry_density[hi] * f.to_low) / f.distance();
    along(work.vapour_flow, direction)[hi] =
        c_mean * f.area / (f.to_low / work.scratch[lo] + f.to_high / work.scratch[hi]);
  });
}

/// Enthalpy flux through all faces at the present iterate, with its second-order part, into w.correction (W).
void enthalpy_faces(const Bed& bed, Trial& trial, TransportWork& work) {
  second_order_part(bed.grid, trial.flow.faces, trial.temperature, &trial.enthalpy_slope,
                    &trial.enthalpy_slope, work.spreading, work.correction);
  for_faces(bed.grid, [&](int direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    const double q = along(trial.flow.faces, direction)[hi];
    double& flux = along(work.correction, direction)[hi];
    const double h =
        bed.setup->gas.enthalpy(trial.temperature[q > 0.0 ? lo : hi], trial.vapour_ratio[q > 0.0 ? lo : hi]);
    flux += q * h + along(work.spreading, direction)[hi] * (trial.temperature[lo] - trial.temperature[hi]);
    const double vapour =
        along(work.vapour_flow, direction)[hi] * (trial.vapour_ratio[lo] - trial.vapour_ratio[hi]);
    if (vapour != 0.0)
      flux += vapour * bed.setup->gas.vapour_enthalpy(0.5 * (trial.temperature[lo] + trial.temperature[hi]));
  });
}

/// Nodes and the surfaces that face them, for the present cells: each node's temperature is a fixed point of
/// "surfaces for this node, node for these surfaces", found with Aitken's acceleration. Where the cycles do
/// not come to rest the passes of the step go on from there, since nodes count among what moves.
void balance_nodes(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books) {
  const int nodes = static_cast<int>(bed.setup->nodes.size());
  const auto cells = at(bed.grid.cells());
  update_surfaces(bed, frame, trial);
  std::vector<double> before(at(nodes)), first(at(nodes));
  bool found = true;
  for (int cycle = 0; cycle < most_node_cycles; ++cycle) {
    double moved = 0.0;
    found = true;  // what counts is where the cycles end
    for (int stage = 0; stage < 2; ++stage) {
      for (int n = 0; n < nodes; ++n) {
        double& t = trial.temperature[cells + at(n)];
        (stage == 0 ? before : first)[at(n)] = t;
        found = solve_node(bed, old, n, frame, trial) && found;
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
  for (int n = 0; n < nodes; ++n) found = solve_node(bed, old, n, frame, trial) && found;
  for (const SurfaceState& s : trial.surfaces) found = found && s.found;
  note_found(found, "the warmth beside the bed", books);
}

void cell_matrix(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work) {
  const Grid& g = bed.grid;
  const int cells = g.cells();
  const int slab = g.nx * g.nz;
  TransportOperator& a = work.matrix;
  a.nx = g.nx;
  a.ny = g.ny;
  a.nz = g.nz;
  for (auto* field : {&a.up_x, &a.down_x, &a.up_y, &a.down_y, &a.up_z, &a.down_z})
    field->assign(at(cells), 0.0);
  a.diagonal.resize(at(cells));
  for_faces(g, [&](int direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    const double q = along(trial.flow.faces, direction)[hi];
    const double d = along(work.spreading, direction)[hi];
    const double v = along(work.vapour_flow, direction)[hi];
    const double hv =
        v > 0.0 ? v * bed.setup->gas.vapour_enthalpy(0.5 * (trial.temperature[lo] + trial.temperature[hi]))
                : 0.0;
    (direction == 0   ? a.up_x
     : direction == 1 ? a.up_y
                      : a.up_z)[hi] =
        std::max(q, 0.0) * trial.enthalpy_slope[lo] + d + hv * trial.vapour_slope[lo];
    (direction == 0   ? a.down_x
     : direction == 1 ? a.down_y
                      : a.down_z)[hi] =
        std::max(-q, 0.0) * trial.enthalpy_slope[hi] + d + hv * trial.vapour_slope[hi];
  });
  for_rows(g.ny, at(cells), [&](int j) {
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const int cell = g.cell(i, j, k);
        const auto c = at(cell);
        double out = a.down_x[c] + a.down_y[c] + a.down_z[c];
        if (i < g.nx - 1) out += a.up_x[at(cell + 1)];
        if (j < g.ny - 1) out += a.up_y[at(cell + slab)];
        if (k < g.nz - 1) out += a.up_z[at(cell + g.nx)];
        const double vapour = trial.dry_gas[c] * molar_water;
        const double stored = frame.now.dry_mass[c] * bed.setup->dry_heat_capacity +
                              (trial.water[c] - vapour * trial.vapour_ratio[c] -
                               vapour * trial.vapour_slope[c] * trial.temperature[c]) *
                                  heat_capacity_water +
                              trial.dry_gas[c] * trial.enthalpy_slope[c];
        a.diagonal[c] = stored / frame.rule.beta_dt + out;
      }
  });
}

Booked booked_path(Boundary boundary) {
  return boundary == Boundary::wall ? heat_walls : boundary == Boundary::floor ? heat_floor : heat_top;
}

double trickle(const Frame& frame, const Trial& trial, const Grid& g, int cell) {
  const bool top = g.layer_of(cell) == g.nz - 1;
  const double brought = top ? 0.0 : drained_into(frame, g, cell) * trial.temperature[at(cell + g.nx)];
  return heat_capacity_water * (frame.drained[at(cell)] * trial.temperature[at(cell)] - brought);
}

/// Heat made in a cell (W), with what metabolic water brings and lost dry mass takes.
double heat_source(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t cell) {
  const Problem& p = bed.setup->problem;
  if (p.prescribed.heat) return prescribed_heat(bed, static_cast<int>(cell)) * frame.now.volume[cell];
  const double oxygen = trial.used[cell] * molar_oxygen;
  const ConsumedMass used = consumed_mass(bed, trial, cell);
  return oxygen * p.microbes.heat_per_oxygen +
         trial.temperature[cell] *
             (used.water * heat_capacity_water - used.dry * bed.setup->dry_heat_capacity);
}

/// Nodes in the linear system: a node follows the surfaces that face it, in heat and (as a stand-in) in
/// vapour, so a change of all of them together meets little resistance. A quasi-Newton part: what counts in
/// the end is the nodes' own balance.
void node_rows(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work) {
  const auto cells = at(bed.grid.cells());
  const auto nodes = bed.setup->nodes.size();
  TransportOperator& a = work.matrix;
  a.nodes = static_cast<int>(nodes);
  a.links.clear();
  a.node_matrix.assign(nodes * nodes, 0.0);
  std::vector<double> slope(nodes);
  for (std::size_t n = 0; n < nodes; ++n) {
    const double t = trial.temperature[cells + n];
    slope[n] =
        bed.setup->gas.enthalpy_slope(t, trial.vapour_ratio[cells + n], bed.setup->gas.vapour_slope(t, 1.0));
    a.node_matrix[n * (nodes + 1)] =
        trial.dry_gas[cells + n] / frame.rule.beta_dt * slope[n] + node_conductance(bed, static_cast<int>(n));
  }
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    const double out = std::max(trial.flow.net[n], 0.0) + trial.flow.exchange[n];
    const double in = std::max(-trial.flow.net[n], 0.0) + trial.flow.exchange[n];
    if (at(path.inner) >= cells) {
      const auto node = at(path.inner) - cells;
      a.node_matrix[node * (nodes + 1)] += out * slope[node];
    } else if (path.outer >= 0) {
      const auto node = at(path.outer) - cells;
      a.links.push_back(
          {path.inner, static_cast<int>(node), in * slope[node], out * trial.enthalpy_slope[at(path.inner)]});
      a.node_matrix[node * (nodes + 1)] += in * slope[node];
    }
  }
  for (const SurfaceState& s : trial.surfaces) {
    const AirPath& path = frame.paths[s.path];
    if (path.outer < 0) continue;
    const auto node = at(path.outer) - cells;
    a.links.push_back({path.inner, static_cast<int>(node), s.slope, s.slope});
    a.node_matrix[node * (nodes + 1)] += s.slope;
  }
}

void cell_residual(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work) {
  const Grid& g = bed.grid;
  enthalpy_faces(bed, trial, work);
  divergence(g, work.correction, work.rhs);
  for_items(at(g.cells()), [&](std::size_t c) {
    const int cell = static_cast<int>(c);
    const double was = cell_enthalpy(bed, frame.now.dry_mass[c], old.water[c], old.dry_gas[c],
                                     old.temperature[c], frame.now.activity[c]);
    const double carried = old.last_heat.empty() ? 0.0 : frame.rule.history * old.last_heat[c];
    const double is = cell_enthalpy_ratio(bed, frame.now.dry_mass[c], trial.water[c], trial.dry_gas[c],
                                          trial.temperature[c], trial.vapour_ratio[c]);
    const double made = heat_source(bed, frame, trial, c);
    work.rhs[c] =
        -work.rhs[c] - (is - was - carried) / frame.rule.beta_dt + made - trickle(frame, trial, g, cell);
  });
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
  cell_matrix(bed, frame, trial, work);
  cell_residual(bed, old, frame, trial, work);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    if (frame.paths[n].inner >= g.cells()) continue;
    const PathFlux carried = through_path(bed, frame, trial, n);
    work.rhs[at(frame.paths[n].inner)] -= carried.heat;
    work.matrix.diagonal[at(frame.paths[n].inner)] += carried.slope;
  }
  book_surfaces(bed, frame, trial);
  for (const SurfaceState& s : trial.surfaces) {
    work.rhs[at(frame.paths[s.path].inner)] -= s.heat;
    work.matrix.diagonal[at(frame.paths[s.path].inner)] += s.slope;
  }
  for (const ConductingPatch& patch : frame.heat) {
    work.rhs[at(patch.cell)] -=
        patch.conductance * (trial.temperature[at(patch.cell)] - patch.far) - patch.flux_in;
    work.matrix.diagonal[at(patch.cell)] += patch.conductance;
  }
  node_rows(bed, frame, trial, work);
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
  for_faces(bed.grid, [&](int direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    const double up = (direction == 0 ? a.up_x : direction == 1 ? a.up_y : a.up_z)[hi];
    const double down = (direction == 0 ? a.down_x : direction == 1 ? a.down_y : a.down_z)[hi];
    along(work.correction, direction)[hi] += up * work.change[lo] - down * work.change[hi];
  });
  divergence(bed.grid, work.correction, leaving);
}

}  // namespace

double solve_heat(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                  TransportWork& work, SolverMemory& memory) {
  newton_step(bed, old, false, frame, trial, books, work, memory);
  if (bed.setup->problem.hold_temperature) return 0.0;
  const double largest =
      largest_of(at(bed.grid.cells()), [&](std::size_t c) { return std::abs(work.change[c]); });
  take_newton_step(bed, old, frame, trial, books, work);
  update_water(bed, old, frame, trial, work);
  return largest;
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
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  take_newton_step(bed, old, frame, trial, books, work);
  book_surfaces(bed, frame, trial);
  work.scratch.resize(cells);
  for_items(cells, [&](std::size_t c) {
    const int cell = static_cast<int>(c);
    work.scratch[c] = heat_source(bed, frame, trial, c);
    leaving.heat[c] += trickle(frame, trial, g, cell) - work.scratch[c];
  });
  books.rates[heat_made] += ordered_sum(cells, [&](std::size_t c) { return work.scratch[c]; });
  books.rates[water_made] +=
      ordered_sum(cells, [&](std::size_t c) { return consumed_mass(bed, trial, c).water; });
  books.rates[dry_lost] +=
      ordered_sum(cells, [&](std::size_t c) { return consumed_mass(bed, trial, c).dry; });
  for (const Patch& patch : g.patches) {
    if (patch.boundary != Boundary::floor) continue;
    const auto c = at(patch.cell);
    books.rates[water_drained] += frame.drained[c];
    book_heat(books, heat_floor, heat_capacity_water * frame.drained[c] * trial.temperature[c]);
  }
  leaving.heat.resize(cells + bed.setup->nodes.size(), 0.0);
  leaving.water.resize(cells + bed.setup->nodes.size(), 0.0);
  book_paths(bed, frame, trial, books, leaving.heat, leaving.water);
  for (const ConductingPatch& patch : frame.heat) {
    const double q = patch.conductance * (trial.temperature[at(patch.cell)] - patch.far) - patch.flux_in;
    leaving.heat[at(patch.cell)] += q;
    book_heat(books, booked_path(patch.boundary), q);
  }
  book_nodes(bed, frame, trial, books, leaving.heat, leaving.water);

  next.last_heat.resize(cells + bed.setup->nodes.size());
  const bool first = old.last_water.empty();
  // Per cell: heat that a thermostat adds (J), or the temperature recovered less the one solved for (K), no
  // number where there is none that holds the cell's heat.
  std::vector<double>& extra = work.scratch;
  for_items(cells, [&](std::size_t c) {
    const double was = cell_enthalpy(bed, frame.now.dry_mass[c], old.water[c], old.dry_gas[c],
                                     old.temperature[c], frame.now.activity[c]);
    const double heat_change =
        (first ? 0.0 : frame.rule.history * old.last_heat[c]) - frame.rule.beta_dt * leaving.heat[c];
    const double water_change =
        (first ? 0.0 : frame.rule.history * old.last_water[c]) - frame.rule.beta_dt * leaving.water[c];
    next.water[c] = old.water[c] + water_change;
    next.last_heat[c] = heat_change;
    const double dry = dry_of(next, c);
    const double activity =
        bed.setup->gas.constant() ? 1.0 : water_activity(dry > 0.0 ? next.water[c] / dry : 1.0);
    if (bed.setup->problem.hold_temperature) {
      next.temperature[c] = *bed.setup->problem.hold_temperature;
      const double is =
          cell_enthalpy(bed, dry, next.water[c], next.dry_gas[c], next.temperature[c], activity);
      extra[c] = is - was - heat_change;
      next.last_heat[c] = is - was;
      return;
    }
    const Root recovered = recover_temperature(bed, dry, next.water[c], next.dry_gas[c], activity,
                                               was + heat_change, trial.temperature[c]);
    next.temperature[c] = recovered.value;
    extra[c] = recovered.found ? recovered.value - trial.temperature[c] : nan;
  });
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
