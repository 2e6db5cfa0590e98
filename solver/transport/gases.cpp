#include "solver/transport/gases.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "solver/linear/transport_solver.h"

namespace updraught {

namespace {

double free_diffusivity(GasKind kind, double temperature, double pressure) {
  return kind == GasKind::oxygen ? diffusivity_oxygen(temperature, pressure)
                                 : diffusivity_carbon_dioxide(temperature, pressure);
}

/// Effective diffusivity of a cell (m2/s).
double effective(const Bed& bed, const Frame& frame, const Trial& trial, GasKind kind, std::size_t c) {
  if (bed.setup->problem.prescribed.diffusivity) return frame.now.diffusion[c];
  return frame.now.diffusion[c] * free_diffusivity(kind, trial.temperature[c], bed.setup->gas.pressure());
}

/// Diffusive conductances of all inner faces (mol/s per mole fraction).
void diffusion_faces(const Bed& bed, GasKind kind, const Frame& frame, Trial& trial, TransportWork& work) {
  work.spreading.assign(at(bed.grid.cells()), 0.0);
  work.scratch.resize(at(bed.grid.cells()));
  for_rows(bed.grid.ny, at(bed.grid.cells()), [&](int j) {
    const int slab = bed.grid.nx * bed.grid.nz;
    for (int c = j * slab; c < (j + 1) * slab; ++c)
      work.scratch[at(c)] = effective(bed, frame, trial, kind, at(c));
  });
  for_faces(bed.grid, [&](auto direction, const FacePair& f) {
    const double lo = work.scratch[at(f.low)], hi = work.scratch[at(f.high)];
    if (f.area <= 0.0 || lo <= 0.0 || hi <= 0.0) return;
    const double c_mean =
        (trial.gas.dry_density[at(f.low)] * f.to_high + trial.gas.dry_density[at(f.high)] * f.to_low) /
        f.distance();
    along(work.spreading, direction)[at(f.high)] = c_mean * f.area / (f.to_low / lo + f.to_high / hi);
  });
}

/// Diffusion through a connection (mol/s per mole fraction).
double diffusion(const Bed& bed, const Frame& frame, const Trial& trial, GasKind kind, std::size_t n) {
  const AirPath& path = frame.paths[n];
  if (!path.diffuses) return 0.0;
  const bool cell = path.inner < bed.grid.cells();
  const double free = free_diffusivity(kind, trial.temperature[at(path.inner)], bed.setup->gas.pressure());
  double resistance = path.diffusive_plate / free;
  if (cell) {
    const double inside = effective(bed, frame, trial, kind, at(path.inner));
    if (inside <= 0.0) return 0.0;
    resistance += path.diffusive_bed / inside;
  }
  return resistance > 0.0 ? trial.gas.dry_density[at(path.inner)] / resistance : 0.0;
}

/// Two-way part of a connection: exchange and diffusion (mol/s per mole fraction).
double two_way(const Bed& bed, const Frame& frame, const Trial& trial, GasKind kind, std::size_t n) {
  return trial.flow.exchange[n] + diffusion(bed, frame, trial, kind, n);
}

/// Upwind operator of one gas without its sinks: storage m/time, faces, connections.
void assemble(const Bed& bed, GasKind kind, const Frame& frame, Trial& trial, TransportWork& work,
              double outside_value) {
  const Grid& g = bed.grid;
  const int cells = g.cells();
  const auto nodes = at(static_cast<int>(bed.setup->nodes.size()));
  TransportOperator& a = work.matrix;
  a.nx = g.nx;
  a.ny = g.ny;
  a.nz = g.nz;
  a.nodes = static_cast<int>(nodes);
  for (auto* field : {&a.up_x, &a.down_x, &a.up_y, &a.down_y, &a.up_z, &a.down_z})
    field->assign(at(cells), 0.0);
  a.diagonal.resize(at(cells));
  a.links.clear();
  a.node_matrix.assign(nodes * nodes, 0.0);
  for_faces(g, [&](auto direction, const FacePair& f) {
    const double q = along(trial.flow.faces, direction)[at(f.high)];
    const double d = along(work.spreading, direction)[at(f.high)];
    (direction == 0 ? a.up_x : direction == 1 ? a.up_y : a.up_z)[at(f.high)] = std::max(q, 0.0) + d;
    (direction == 0 ? a.down_x : direction == 1 ? a.down_y : a.down_z)[at(f.high)] = std::max(-q, 0.0) + d;
  });
  const int slab = g.nx * g.nz;
  for_rows(g.ny, at(cells), [&](int j) {
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const int c = g.cell(i, j, k);
        double out = a.down_x[at(c)] + a.down_y[at(c)] + a.down_z[at(c)];
        if (i < g.nx - 1) out += a.up_x[at(c + 1)];
        if (j < g.ny - 1) out += a.up_y[at(c + slab)];
        if (k < g.nz - 1) out += a.up_z[at(c + g.nx)];
        a.diagonal[at(c)] = trial.dry_gas[at(c)] / frame.rule.beta_dt + out;
      }
  });
  for (std::size_t n = 0; n < nodes; ++n)
    a.node_matrix[n * (nodes + 1)] = trial.dry_gas[at(cells) + n] / frame.rule.beta_dt;
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    const double both = two_way(bed, frame, trial, kind, n);
    const double out = std::max(trial.flow.net[n], 0.0) + both;
    const double in = std::max(-trial.flow.net[n], 0.0) + both;
    const bool inner_cell = path.inner < cells;
    if (inner_cell)
      a.diagonal[at(path.inner)] += out;
    else
      a.node_matrix[at(path.inner - cells) * (nodes + 1)] += out;
    if (path.outer < 0) {
      work.rhs[at(path.inner)] += in * outside_value;
    } else {
      a.links.push_back({path.inner, path.outer - cells, in, out});
      a.node_matrix[at(path.outer - cells) * (nodes + 1)] += in;
    }
  }
}

/// Right-hand side from storage, carried increments and the second-order part of the face fluxes.
void right_side(const Bed& bed, const std::vector<double>& old_cells, const std::vector<double>& old_nodes,
                const std::vector<double>& last, const Frame& frame, Trial& trial, TransportWork& work,
                const std::vector<double>& lagged) {
  const auto cells = at(bed.grid.cells());
  second_order_part(bed.grid, trial.flow.faces, lagged, nullptr, nullptr, work.spreading, FirstCell::level,
                    work.correction);
  divergence(bed.grid, work.correction, work.scratch);
  work.rhs.resize(cells + bed.setup->nodes.size());
  for_items(work.rhs.size(), [&](std::size_t c) {
    const double before = c < cells ? old_cells[c] : old_nodes[c - cells];
    const double carried = last.empty() ? 0.0 : frame.rule.history * last[c];
    work.rhs[c] = (before + carried) / frame.rule.beta_dt - (c < cells ? work.scratch[c] : 0.0);
  });
}

/// Residuals are measured as a share of the mean cell's gas over the step. What the last solve of a step
/// leaves goes into the amounts, and oxygen and carbon dioxide must still add up, so it is taken further.
constexpr double pass_residual = 1e-8;
constexpr double last_residual = 1e-15;

StoppingCriterion gas_stop(const Frame& frame, const Trial& trial, double share) {
  const double mean = ordered_sum(trial.dry_gas.size(), [&](std::size_t c) { return trial.dry_gas[c]; }) /
                      static_cast<double>(trial.dry_gas.size());
  // Against the whole right-hand side a small cell's error would be lost in that of the large ones: the last
  // solve goes on until rounding ends it.
  return StoppingCriterion{share == last_residual ? 1e-17 : 1e-15, share * mean / frame.rule.beta_dt, 100};
}

}  // namespace

double solve_oxygen(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                    TransportWork& work, SolverMemory& memory, bool last) {
  const auto cells = at(bed.grid.cells());
  diffusion_faces(bed, GasKind::oxygen, frame, trial, work);
  right_side(bed, old.oxygen, old.node_oxygen, old.last_oxygen, frame, trial, work, trial.oxygen);
  assemble(bed, GasKind::oxygen, frame, trial, work, air_oxygen);
  trial.used.resize(cells);
  std::vector<double>& slope = work.scratch;
  slope.resize(cells);
  for_rows(static_cast<int>((cells + 1023) / 1024), cells, [&](int block) {
    const std::size_t end = std::min(cells, (at(block) + 1) * 1024);
    for (std::size_t c = at(block) * 1024; c < end; ++c) {
      const OxygenResponse r = trial.uptake.response(c);
      const double x = trial.oxygen[c];
      const double full = trial.uptake.potential[c] * r(x);
      const double tangent = trial.uptake.potential[c] * r.slope(x);
      // Where oxygen is short a tangent would overshoot below zero; the secant through zero cannot.
      const bool secant =
          x < 2.0 * r.half || full - tangent * x > 0.5 * trial.dry_gas[c] / frame.rule.beta_dt * x;
      slope[c] = secant && x > 1e-9 ? full / x : tangent;
      trial.used[c] = full - slope[c] * x;
      work.matrix.diagonal[c] += slope[c];
      work.rhs[c] -= trial.used[c];
    }
  });
  work.start = trial.oxygen;
  const StoppingCriterion rule = gas_stop(frame, trial, last ? last_residual : pass_residual);
  note_solve(solve_once(work.matrix, work.rhs, trial.oxygen, rule, memory), "oxygen", books);
  for_items(cells, [&](std::size_t c) { trial.used[c] += slope[c] * trial.oxygen[c]; });
  return largest_of(cells, [&](std::size_t c) { return std::abs(trial.oxygen[c] - work.start[c]); });
}

void solve_carbon_dioxide(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                          TransportWork& work, SolverMemory& memory) {
  const auto cells = at(bed.grid.cells());
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  diffusion_faces(bed, GasKind::carbon_dioxide, frame, trial, work);
  // Carbon dioxide follows oxygen as one diffusivity would have it: its face values start from the oxygen
  // that oxygen's own face values were taken from (work.start), its first guess from the oxygen solved for.
  for_items(cells, [&](std::size_t c) {
    trial.carbon_dioxide[c] =
        old.carbon_dioxide[c] / old.dry_gas[c] + quotient * (old.oxygen[c] / old.dry_gas[c] - work.start[c]);
  });
  right_side(bed, old.carbon_dioxide, old.node_carbon_dioxide, old.last_carbon_dioxide, frame, trial, work,
             trial.carbon_dioxide);
  for_items(cells,
            [&](std::size_t c) { trial.carbon_dioxide[c] += quotient * (work.start[c] - trial.oxygen[c]); });
  assemble(bed, GasKind::carbon_dioxide, frame, trial, work, air_carbon_dioxide);
  for_items(cells, [&](std::size_t c) { work.rhs[c] += quotient * trial.used[c]; });
  const StoppingCriterion rule = gas_stop(frame, trial, last_residual);
  note_solve(solve_once(work.matrix, work.rhs, trial.carbon_dioxide, rule, memory), "carbon dioxide", books);
}

void apply_gas_fluxes(const Bed& bed, const State& old, GasKind kind, const Frame& frame, Trial& trial,
                      Books& books, TransportWork& work, State& next) {
  const bool oxygen = kind == GasKind::oxygen;
  const auto cells = at(bed.grid.cells());
  std::vector<double>& x = oxygen ? trial.oxygen : trial.carbon_dioxide;
  const std::vector<double>& before = oxygen ? old.oxygen : old.carbon_dioxide;
  const std::vector<double>& before_node = oxygen ? old.node_oxygen : old.node_carbon_dioxide;
  const std::vector<double>& last = oxygen ? old.last_oxygen : old.last_carbon_dioxide;
  std::vector<double>& after = oxygen ? next.oxygen : next.carbon_dioxide;
  std::vector<double>& after_node = oxygen ? next.node_oxygen : next.node_carbon_dioxide;
  const double outside = oxygen ? air_oxygen : air_carbon_dioxide;
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  const Booked in_entry = oxygen ? oxygen_in : carbon_dioxide_in;
  const Booked out_entry = oxygen ? oxygen_out : carbon_dioxide_out;

  for_faces(bed.grid, [&](auto direction, const FacePair& f) {
    const double q = along(trial.flow.faces, direction)[at(f.high)];
    const double d = along(work.spreading, direction)[at(f.high)];
    double& flux = along(work.correction, direction)[at(f.high)];
    flux += (std::max(q, 0.0) + d) * x[at(f.low)] - (std::max(-q, 0.0) + d) * x[at(f.high)];
  });
  divergence(bed.grid, work.correction, work.scratch);
  std::vector<double>& out = work.rhs;
  out.assign(cells + bed.setup->nodes.size(), 0.0);
  double made = 0.0;
  for (std::size_t c = 0; c < cells; ++c)
    out[c] = work.scratch[c] + (oxygen ? trial.used[c] : -quotient * trial.used[c]);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    const double beyond = path.outer < 0 ? outside : x[at(path.outer)];
    const double diffusing = diffusion(bed, frame, trial, kind, n) * (x[at(path.inner)] - beyond);
    const double leaving = (std::max(trial.flow.net[n], 0.0) + trial.flow.exchange[n]) * x[at(path.inner)];
    const double entering = (std::max(-trial.flow.net[n], 0.0) + trial.flow.exchange[n]) * beyond;
    out[at(path.inner)] += leaving - entering + diffusing;
    if (path.outer >= 0) {
      out[at(path.outer)] -= leaving - entering + diffusing;
    } else {
      // Air that flows counts both ways; what diffuses is one flux, in or out.
      books.rates[at(in_entry)] += entering + std::max(-diffusing, 0.0);
      books.rates[at(out_entry)] += leaving + std::max(diffusing, 0.0);
    }
  }
  made = ordered_sum(cells, [&](std::size_t c) { return trial.used[c]; });
  books.rates[oxygen ? oxygen_used : carbon_dioxide_made] += oxygen ? made : quotient * made;
  after.resize(cells);
  after_node.resize(bed.setup->nodes.size());
  for_items(out.size(), [&](std::size_t c) {
    const double was = c < cells ? before[c] : before_node[c - cells];
    double& is = c < cells ? after[c] : after_node[c - cells];
    is = was + (last.empty() ? 0.0 : frame.rule.history * last[c]) - frame.rule.beta_dt * out[c];
    out[c] = std::max(-is, 0.0);
    is = std::max(is, 0.0);
  });
  const double clipped = ordered_sum(out.size(), [&](std::size_t c) { return out[c]; });
  // What is lifted to zero counts among the step's increments, so it is booked by the same rule.
  if (oxygen) books.rates[oxygen_clipped] += clipped / frame.rule.beta_dt;
}

}  // namespace updraught
