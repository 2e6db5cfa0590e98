#include "solver/transport/gases.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

double free_diffusivity(GasKind kind, double temperature, double pressure) {
  return kind == GasKind::oxygen ? diffusivity_oxygen(temperature, pressure)
                                 : diffusivity_carbon_dioxide(temperature, pressure);
}

/// Effective diffusivity of a cell (m2/s).
double effective(const Bed& bed, const StepWork& w, GasKind kind, std::size_t c) {
  if (bed.setup->problem.prescribed.diffusivity) return w.now.diffusion[c];
  return w.now.diffusion[c] * free_diffusivity(kind, w.temperature[c], bed.setup->gas.pressure());
}

/// Diffusive conductances of all inner faces (mol/s per mole fraction).
void diffusion_faces(const Bed& bed, GasKind kind, StepWork& w) {
  w.spreading.assign(at(bed.grid.cells()), 0.0);
  w.scratch.resize(at(bed.grid.cells()));
  for_rows(bed.grid.ny, at(bed.grid.cells()), [&](int j) {
    const int slab = bed.grid.nx * bed.grid.nz;
    for (int c = j * slab; c < (j + 1) * slab; ++c) w.scratch[at(c)] = effective(bed, w, kind, at(c));
  });
  for_faces(bed.grid, [&](int direction, const FacePair& f) {
    const double lo = w.scratch[at(f.low)], hi = w.scratch[at(f.high)];
    if (f.area <= 0.0 || lo <= 0.0 || hi <= 0.0) return;
    const double c_mean =
        (w.gas.dry_density[at(f.low)] * f.to_high + w.gas.dry_density[at(f.high)] * f.to_low) / f.distance();
    along(w.spreading, direction)[at(f.high)] = c_mean * f.area / (f.to_low / lo + f.to_high / hi);
  });
}

/// Diffusion through a connection (mol/s per mole fraction).
double diffusion(const Bed& bed, const StepWork& w, GasKind kind, std::size_t n) {
  const Connection& link = w.links[n];
  if (!link.diffuses) return 0.0;
  const bool cell = link.inner < bed.grid.cells();
  const double free = free_diffusivity(kind, w.temperature[at(link.inner)], bed.setup->gas.pressure());
  double resistance = link.diffusive_plate / free;
  if (cell) {
    const double inside = effective(bed, w, kind, at(link.inner));
    if (inside <= 0.0) return 0.0;
    resistance += link.diffusive_bed / inside;
  }
  return resistance > 0.0 ? w.gas.dry_density[at(link.inner)] / resistance : 0.0;
}

/// Two-way part of a connection: exchange and diffusion (mol/s per mole fraction).
double two_way(const Bed& bed, const StepWork& w, GasKind kind, std::size_t n) {
  return w.flow.exchange[n] + diffusion(bed, w, kind, n);
}

/// Upwind operator of one gas without its sinks: storage m/time, faces, connections.
void assemble(const Bed& bed, GasKind kind, StepWork& w, double outside_value) {
  const Grid& g = bed.grid;
  const int cells = g.cells();
  const auto nodes = at(static_cast<int>(bed.setup->nodes.size()));
  TransportOperator& a = w.transport;
  a.nx = g.nx;
  a.ny = g.ny;
  a.nz = g.nz;
  a.nodes = static_cast<int>(nodes);
  for (auto* field : {&a.up_x, &a.down_x, &a.up_y, &a.down_y, &a.up_z, &a.down_z})
    field->assign(at(cells), 0.0);
  a.diagonal.resize(at(cells));
  a.links.clear();
  a.node_matrix.assign(nodes * nodes, 0.0);
  for_faces(g, [&](int direction, const FacePair& f) {
    const double q = along(w.flow.faces, direction)[at(f.high)];
    const double d = along(w.spreading, direction)[at(f.high)];
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
        a.diagonal[at(c)] = w.dry_gas[at(c)] / w.rule.time + out;
      }
  });
  for (std::size_t n = 0; n < nodes; ++n)
    a.node_matrix[n * (nodes + 1)] = w.dry_gas[at(cells) + n] / w.rule.time;
  for (std::size_t n = 0; n < w.links.size(); ++n) {
    const Connection& link = w.links[n];
    const double both = two_way(bed, w, kind, n);
    const double out = std::max(w.flow.net[n], 0.0) + both;
    const double in = std::max(-w.flow.net[n], 0.0) + both;
    const bool inner_cell = link.inner < cells;
    if (inner_cell)
      a.diagonal[at(link.inner)] += out;
    else
      a.node_matrix[at(link.inner - cells) * (nodes + 1)] += out;
    if (link.outer < 0) {
      w.rhs[at(link.inner)] += in * outside_value;
    } else {
      a.links.push_back({link.inner, link.outer - cells, in, out});
      a.node_matrix[at(link.outer - cells) * (nodes + 1)] += in;
    }
  }
}

/// Right-hand side from storage, carried increments and the second-order part of the face fluxes.
void right_side(const Bed& bed, const std::vector<double>& old_cells, const std::vector<double>& old_nodes,
                const std::vector<double>& last, StepWork& w, const std::vector<double>& lagged) {
  const auto cells = at(bed.grid.cells());
  second_order_part(bed.grid, w.flow.faces, lagged, nullptr, nullptr, w.spreading, w.correction);
  divergence(bed.grid, w.correction, w.scratch);
  w.rhs.resize(cells + bed.setup->nodes.size());
  for_items(w.rhs.size(), [&](std::size_t c) {
    const double before = c < cells ? old_cells[c] : old_nodes[c - cells];
    const double carried = last.empty() ? 0.0 : w.rule.carried * last[c];
    w.rhs[c] = (before + carried) / w.rule.time - (c < cells ? w.scratch[c] : 0.0);
  });
}

/// Residuals are measured as a share of the mean cell's gas over the step. What the last solve of a step
/// leaves goes into the amounts, and oxygen and carbon dioxide must still add up, so it is taken further.
constexpr double pass_residual = 1e-8;
constexpr double last_residual = 1e-15;

StopRule gas_stop(const StepWork& w, double share) {
  const double mean = ordered_sum(w.dry_gas.size(), [&](std::size_t c) { return w.dry_gas[c]; }) /
                      static_cast<double>(w.dry_gas.size());
  // Against the whole right-hand side a small cell's error would be lost in that of the large ones: the last
  // solve goes on until rounding ends it.
  return StopRule{share == last_residual ? 1e-17 : 1e-15, share * mean / w.rule.time, 100};
}

}  // namespace

double solve_oxygen(const Bed& bed, const State& old, StepWork& w, bool last) {
  const auto cells = at(bed.grid.cells());
  diffusion_faces(bed, GasKind::oxygen, w);
  right_side(bed, old.oxygen, old.node_oxygen, old.last_oxygen, w, w.oxygen);
  assemble(bed, GasKind::oxygen, w, air_oxygen);
  w.used.resize(cells);
  std::vector<double>& slope = w.scratch;
  slope.resize(cells);
  for_rows(static_cast<int>((cells + 1023) / 1024), cells, [&](int block) {
    const std::size_t end = std::min(cells, (at(block) + 1) * 1024);
    for (std::size_t c = at(block) * 1024; c < end; ++c) {
      const OxygenResponse r = w.uptake.response(c);
      const double x = w.oxygen[c];
      const double full = w.uptake.potential[c] * r(x);
      const double tangent = w.uptake.potential[c] * r.slope(x);
      // Where oxygen is short a tangent would overshoot below zero; the secant through zero cannot.
      const bool secant = x < 2.0 * r.half || full - tangent * x > 0.5 * w.dry_gas[c] / w.rule.time * x;
      slope[c] = secant && x > 1e-9 ? full / x : tangent;
      w.used[c] = full - slope[c] * x;
      w.transport.diagonal[c] += slope[c];
      w.rhs[c] -= w.used[c];
    }
  });
  w.change = w.oxygen;
  const StopRule rule = gas_stop(w, last ? last_residual : pass_residual);
  note_solve(solve_once(w.transport, w.rhs, w.oxygen, rule, w.solver_memory), "oxygen", w);
  for_items(cells, [&](std::size_t c) { w.used[c] += slope[c] * w.oxygen[c]; });
  return largest_of(cells, [&](std::size_t c) { return std::abs(w.oxygen[c] - w.change[c]); });
}

void solve_carbon_dioxide(const Bed& bed, const State& old, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  diffusion_faces(bed, GasKind::carbon_dioxide, w);
  // Carbon dioxide follows oxygen as one diffusivity would have it: its face values start from the oxygen
  // that oxygen's own face values were taken from (w.change), its first guess from the oxygen solved for.
  for_items(cells, [&](std::size_t c) {
    w.carbon_dioxide[c] =
        old.carbon_dioxide[c] / old.dry_gas[c] + quotient * (old.oxygen[c] / old.dry_gas[c] - w.change[c]);
  });
  right_side(bed, old.carbon_dioxide, old.node_carbon_dioxide, old.last_carbon_dioxide, w, w.carbon_dioxide);
  for_items(cells, [&](std::size_t c) { w.carbon_dioxide[c] += quotient * (w.change[c] - w.oxygen[c]); });
  assemble(bed, GasKind::carbon_dioxide, w, air_carbon_dioxide);
  for_items(cells, [&](std::size_t c) { w.rhs[c] += quotient * w.used[c]; });
  const StopRule rule = gas_stop(w, last_residual);
  note_solve(solve_once(w.transport, w.rhs, w.carbon_dioxide, rule, w.solver_memory), "carbon dioxide", w);
}

void finish_gas(const Bed& bed, const State& old, GasKind kind, StepWork& w, State& next) {
  const bool oxygen = kind == GasKind::oxygen;
  const auto cells = at(bed.grid.cells());
  std::vector<double>& x = oxygen ? w.oxygen : w.carbon_dioxide;
  const std::vector<double>& before = oxygen ? old.oxygen : old.carbon_dioxide;
  const std::vector<double>& before_node = oxygen ? old.node_oxygen : old.node_carbon_dioxide;
  const std::vector<double>& last = oxygen ? old.last_oxygen : old.last_carbon_dioxide;
  std::vector<double>& after = oxygen ? next.oxygen : next.carbon_dioxide;
  std::vector<double>& after_node = oxygen ? next.node_oxygen : next.node_carbon_dioxide;
  const double outside = oxygen ? air_oxygen : air_carbon_dioxide;
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  const Booked in_entry = oxygen ? oxygen_in : carbon_dioxide_in;
  const Booked out_entry = oxygen ? oxygen_out : carbon_dioxide_out;

  for_faces(bed.grid, [&](int direction, const FacePair& f) {
    const double q = along(w.flow.faces, direction)[at(f.high)];
    const double d = along(w.spreading, direction)[at(f.high)];
    double& flux = along(w.correction, direction)[at(f.high)];
    flux += (std::max(q, 0.0) + d) * x[at(f.low)] - (std::max(-q, 0.0) + d) * x[at(f.high)];
  });
  divergence(bed.grid, w.correction, w.scratch);
  std::vector<double>& out = w.rhs;
  out.assign(cells + bed.setup->nodes.size(), 0.0);
  double made = 0.0;
  for (std::size_t c = 0; c < cells; ++c)
    out[c] = w.scratch[c] + (oxygen ? w.used[c] : -quotient * w.used[c]);
  for (std::size_t n = 0; n < w.links.size(); ++n) {
    const Connection& link = w.links[n];
    const double beyond = link.outer < 0 ? outside : x[at(link.outer)];
    const double diffusing = diffusion(bed, w, kind, n) * (x[at(link.inner)] - beyond);
    const double leaving = (std::max(w.flow.net[n], 0.0) + w.flow.exchange[n]) * x[at(link.inner)];
    const double entering = (std::max(-w.flow.net[n], 0.0) + w.flow.exchange[n]) * beyond;
    out[at(link.inner)] += leaving - entering + diffusing;
    if (link.outer >= 0) {
      out[at(link.outer)] -= leaving - entering + diffusing;
    } else {
      // Air that flows counts both ways; what diffuses is one flux, in or out.
      w.rates[at(in_entry)] += entering + std::max(-diffusing, 0.0);
      w.rates[at(out_entry)] += leaving + std::max(diffusing, 0.0);
    }
  }
  made = ordered_sum(cells, [&](std::size_t c) { return w.used[c]; });
  w.rates[oxygen ? oxygen_used : carbon_dioxide_made] += oxygen ? made : quotient * made;
  after.resize(cells);
  after_node.resize(bed.setup->nodes.size());
  for_items(out.size(), [&](std::size_t c) {
    const double was = c < cells ? before[c] : before_node[c - cells];
    double& is = c < cells ? after[c] : after_node[c - cells];
    is = was + (last.empty() ? 0.0 : w.rule.carried * last[c]) - w.rule.time * out[c];
    out[c] = std::max(-is, 0.0);
    is = std::max(is, 0.0);
  });
  const double clipped = ordered_sum(out.size(), [&](std::size_t c) { return out[c]; });
  // What is lifted to zero counts among the step's increments, so it is booked by the same rule.
  if (oxygen) w.rates[oxygen_clipped] += clipped / w.rule.time;
}

}  // namespace updraught
