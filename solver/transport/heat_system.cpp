#include "solver/transport/heat_system.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "solver/bed/enthalpy.h"
#include "solver/transport/air_spaces.h"
#include "solver/transport/boundary_heat.h"
#include "solver/transport/water.h"

namespace updraught {

namespace {

/// Enthalpy flux through all faces at the present iterate, with its second-order part, into w.correction (W).
void enthalpy_faces(const Bed& bed, Trial& trial, TransportWork& work) {
  second_order_part(bed.grid, trial.flow.faces, trial.temperature, &trial.enthalpy_slope,
                    &trial.enthalpy_slope, work.spreading, FirstCell::linear, work.correction);
  for_faces(bed.grid, [&](auto direction, const FacePair& f) {
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
  for_faces(g, [&](auto direction, const FacePair& f) {
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

/// What leaves cells through openings, films and what conducts at the bed's bounds.
void add_boundaries(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work) {
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    if (frame.paths[n].inner >= bed.grid.cells()) continue;
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
}

}  // namespace

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
  for_faces(bed.grid, [&](auto direction, const FacePair& f) {
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

double trickle(const Frame& frame, const Trial& trial, const Grid& g, int cell) {
  const bool top = g.layer_of(cell) == g.nz - 1;
  const double brought = top ? 0.0 : drained_into(frame, g, cell) * trial.temperature[at(cell + g.nx)];
  return heat_capacity_water * (frame.drained[at(cell)] * trial.temperature[at(cell)] - brought);
}

double heat_source(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t cell) {
  const Problem& p = bed.setup->problem;
  if (p.prescribed.heat) return prescribed_heat(bed, static_cast<int>(cell)) * frame.now.volume[cell];
  const double oxygen = trial.used[cell] * molar_oxygen;
  const ConsumedMass used = consumed_mass(bed, trial, cell);
  return oxygen * p.microbes.heat_per_oxygen +
         trial.temperature[cell] *
             (used.water * heat_capacity_water - used.dry * bed.setup->dry_heat_capacity);
}

void heat_system(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work) {
  cell_matrix(bed, frame, trial, work);
  cell_residual(bed, old, frame, trial, work);
  add_boundaries(bed, frame, trial, work);
  node_rows(bed, frame, trial, work);
}

}  // namespace updraught
