#include "solver/air/flow.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Openings follow their law by Newton's method: passes end when no path departs from it by more than this
/// share of the largest opening flow.
constexpr double law_tolerance = 2e-3;
constexpr int most_law_passes = 6;

/// What drives air up through an upright face: buoyancy between the two centres (Pa).
double lift_over(const FacePair& f, const GasState& gas) {
  return gravity * (f.to_low * (gas.outside_density - gas.density[at(f.low)]) +
                    f.to_high * (gas.outside_density - gas.density[at(f.high)]));
}

}  // namespace

void FlowEngine::face_conductances(const Bed& bed, const Properties& now, const GasState& gas,
                                   const Flow& flow) {
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  operator_.nx = g.nx;
  operator_.ny = g.ny;
  operator_.nz = g.nz;
  operator_.nodes = static_cast<int>(bed.setup->nodes.size());
  operator_.x.assign(cells, 0.0);
  operator_.y.assign(cells, 0.0);
  operator_.z.assign(cells, 0.0);
  operator_.robin.assign(cells, 0.0);
  const bool zone = bed.setup->wall_zone > 0.0;
  for_faces(g, [&](auto direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    if (f.area <= 0.0) return;
    // Across the zone at a wall the bed itself rules; along it (and up it) the looser packing and the gap do.
    const auto leaves = [&](std::size_t other) {
      return zone && direction != 2 && now.along[other] <= now.across[other];
    };
    const auto slow = [&](std::size_t c, std::size_t other) {
      return gas.viscosity[c] / (leaves(other) ? now.across[c] : now.along[c]);
    };
    const auto fast = [&](std::size_t c, std::size_t other) {
      return gas.density[c] * now.inertia[leaves(other) ? other : c];
    };
    const double a = f.to_low * slow(lo, hi) + f.to_high * slow(hi, lo);
    const double b = f.to_low * fast(lo, hi) + f.to_high * fast(hi, lo);
    const double c_mean = (gas.dry_density[lo] * f.to_high + gas.dry_density[hi] * f.to_low) / f.distance();
    // The root of drop = a u + b u^2 at the drop of the last flow. At its speed instead, fast air would go
    // round in a cycle of two passes: a resistance of b u lets u' = drop/(b u) through, and that lets u.
    const double drop =
        std::abs(flow.pressure[lo] - flow.pressure[hi] + (direction == 2 ? lift_over(f, gas) : 0.0));
    const double resistance = b > 0.0 ? 0.5 * (a + std::sqrt(a * a + 4.0 * b * drop)) : a;
    const double conductance = c_mean * f.area / resistance;
    (direction == 0 ? operator_.x : direction == 1 ? operator_.y : operator_.z)[hi] = conductance;
  });
}

void FlowEngine::reference_column(const Bed& bed, const GasState& gas) {
  const Grid& g = bed.grid;
  lift_.assign(at(g.cells()), 0.0);
  for_faces(g, [&](auto direction, const FacePair& f) {
    if (direction != 2) return;
    lift_[at(f.high)] = lift_over(f, gas);
  });
  std::vector<double> means(at(g.nz), 0.0);
  for_rows(g.nz, at(g.cells()), [&](int k) {
    if (k == 0) return;
    double sum = 0.0, area = 0.0, first = 0.0, spread = 0.0;
    for (int j = 0; j < g.ny; ++j)
      for (int i = 0; i < g.nx; ++i) {
        const double open = g.area_z(i, j, k);
        if (open <= 0.0) continue;
        const double lift = lift_[at(g.cell(i, j, k))];
        if (area <= 0.0) first = lift;
        spread = std::max(spread, std::abs(lift - first));
        sum += open * lift;
        area += open;
      }
    // A layer of equal lifts must give exactly that lift, so that a stratified sealed bed stays at rest.
    const double mean = spread == 0.0 || area <= 0.0 ? first : sum / area;
    for (int j = 0; j < g.ny; ++j)
      for (int i = 0; i < g.nx; ++i) lift_[at(g.cell(i, j, k))] -= mean;
    means[at(k)] = mean;
  });
  reference_.assign(at(g.nz), 0.0);
  for (int k = 1; k < g.nz; ++k) reference_[at(k)] = reference_[at(k) - 1] + means[at(k)];
}

void FlowEngine::path_terms(const Bed& bed, const GasState& gas, const std::vector<AirPath>& paths,
                            bool first, Flow& flow) {
  const Grid& g = bed.grid;
  const int cells = g.cells();
  const auto nodes = at(operator_.nodes);
  operator_.links.clear();
  operator_.node_matrix.assign(nodes * nodes, 0.0);
  offset_.assign(paths.size(), 0.0);
  conductance_.resize(paths.size(), 0.0);
  flow.exchange.assign(paths.size(), 0.0);
  flow.net.resize(paths.size(), 0.0);
  law_.resize(paths.size());
  const auto height_of = [&](int u) {
    return u < cells ? g.centre_z(g.layer_of(u)) : node_height(bed, u - cells);
  };
  const auto lift_to = [&](int u, double z) {
    return gravity * (gas.outside_density - gas.density[at(u)]) * (z - height_of(u));
  };
  for (std::size_t n = 0; n < paths.size(); ++n) {
    const AirPath& path = paths[n];
    const bool out = path.outer < 0;
    const double hydro =
        lift_to(path.inner, path.height) -
        (out ? path.imposed + path.wind * gas.outside_density : lift_to(path.outer, path.height));
    const double drop = flow.pressure[at(path.inner)] - (out ? 0.0 : flow.pressure[at(path.outer)]) + hydro;
    const double outer_density = out ? gas.outside_density : gas.density[at(path.outer)];
    const double outer_dry = out ? gas.outside_dry_density : gas.dry_density[at(path.outer)];
    const double outer_viscosity = out ? gas.outside_viscosity : gas.viscosity[at(path.outer)];
    const double density = 0.5 * (outer_density + gas.density[at(path.inner)]);
    const double c_mean = 0.5 * (outer_dry + gas.dry_density[at(path.inner)]);
    const double viscosity = 0.5 * (outer_viscosity + gas.viscosity[at(path.inner)]);
    const double lift = outer_density - gas.density[at(path.inner)];
    // Newton in the flow, whose law dp(Q) is convex (in dp(Q)'s inverse it would overshoot): dp = dp(Q0) + R
    // (Q - Q0).
    const double flow_now = first ? passage(path, drop, viscosity, density, lift).net : flow.net[n] / c_mean;
    const double law_drop = drop_for(path, flow_now, viscosity, density, lift);
    const Passage there = passage(path, law_drop, viscosity, density, lift);
    const double conductance = c_mean * there.slope;
    conductance_[n] = conductance;
    flow.exchange[n] = c_mean * there.exchange;
    law_[n] = c_mean * there.net;
    // In terms of the unknown (p' less the layer's reference) the new drop is p_inner - p_outer + hydro +
    // ref.
    const double ref = path.inner < cells ? reference_[at(g.layer_of(path.inner))] : 0.0;
    offset_[n] = hydro + ref - law_drop + (conductance > 0.0 ? law_[n] / conductance : 0.0);
    rhs_[at(path.inner)] -= conductance * offset_[n];
    if (path.inner < cells && out) operator_.robin[at(path.inner)] += conductance;
    if (path.inner < cells && !out) {
      operator_.links.push_back({path.inner, path.outer - cells, conductance});
      rhs_[at(path.outer)] += conductance * offset_[n];
    }
    if (path.inner >= cells) operator_.node_matrix[at(path.inner - cells) * (nodes + 1)] += conductance;
  }
}

void FlowEngine::book_flows(const Bed& bed, const StorageRate& storage, const std::vector<AirPath>& paths,
                            Flow& flow) {
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  flow.faces.x.resize(cells);
  flow.faces.y.resize(cells);
  flow.faces.z.resize(cells);
  for_faces(g, [&](auto direction, const FacePair& f) {
    const double conductance = (direction == 0   ? operator_.x
                                : direction == 1 ? operator_.y
                                                 : operator_.z)[at(f.high)];
    const double lift = direction == 2 ? lift_[at(f.high)] : 0.0;
    along(flow.faces, direction)[at(f.high)] =
        conductance * (unknown_[at(f.low)] - unknown_[at(f.high)] + lift);
  });
  divergence(g, flow.faces, divergence_);
  divergence_.resize(cells + at(operator_.nodes), 0.0);
  std::fill(divergence_.begin() + g.cells(), divergence_.end(), 0.0);
  double largest = 0.0;
  double departure = 0.0;
  for (std::size_t n = 0; n < paths.size(); ++n) {
    const AirPath& path = paths[n];
    const double outer = path.outer < 0 ? 0.0 : unknown_[at(path.outer)];
    flow.net[n] = conductance_[n] * (unknown_[at(path.inner)] - outer + offset_[n]);
    divergence_[at(path.inner)] += flow.net[n];
    if (path.outer >= 0) divergence_[at(path.outer)] -= flow.net[n];
    largest = std::max(largest, std::abs(flow.net[n]));
    departure = std::max(departure, std::abs(flow.net[n] - law_[n]));
  }
  flow.change = largest > 0.0 ? departure / largest : 0.0;
  const double worst =
      largest_of(divergence_.size(), [&](std::size_t c) { return std::abs(divergence_[c] + storage[c]); });
  flow.residual = largest > 0.0 ? worst / largest : 0.0;
  flow.pressure.resize(divergence_.size());
  for_items(divergence_.size(), [&](std::size_t c) {
    flow.pressure[c] = unknown_[c] + (c < cells ? reference_[(c / at(g.nx)) % at(g.nz)] : 0.0);
  });
}

void FlowEngine::solve(const Bed& bed, const Properties& now, const GasState& gas,
                       const std::vector<AirPath>& paths, const StorageRate& storage, bool first,
                       Flow& flow) {
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  const auto unknowns = cells + bed.setup->nodes.size();
  face_conductances(bed, now, gas, flow);
  reference_column(bed, gas);
  const auto push = [&](std::size_t c) { return operator_.z[c] * lift_[c]; };
  const double largest = largest_of(cells, [&](std::size_t c) { return std::abs(push(c)); });
  push_divergence_.resize(cells);
  for_items(cells, [&](std::size_t c) {
    const bool top = (c / at(g.nx)) % at(g.nz) == at(g.nz) - 1;
    push_divergence_[c] = (top ? 0.0 : push(c + at(g.nx))) - push(c);
  });
  for (int pass = 0; pass < most_law_passes; ++pass) {
    std::fill(operator_.robin.begin(), operator_.robin.end(), 0.0);
    rhs_.assign(unknowns, 0.0);
    unknown_.resize(unknowns);
    for_items(unknowns, [&](std::size_t c) {
      unknown_[c] = flow.pressure[c] - (c < cells ? reference_[(c / at(g.nx)) % at(g.nz)] : 0.0);
    });
    path_terms(bed, gas, paths, pass == 0 && first, flow);
    for_items(unknowns,
              [&](std::size_t c) { rhs_[c] -= storage[c] + (c < cells ? push_divergence_[c] : 0.0); });
    double scale = largest;
    for (std::size_t n = 0; n < paths.size(); ++n) scale = std::max(scale, std::abs(law_[n]));
    solver_.prepare(operator_);
    // Measured against the largest flow, not against a right-hand side that may be noise.
    flow.solved = solver_.solve(rhs_, unknown_, StoppingCriterion{1e-12, 1e-9 * scale, 200});
    book_flows(bed, storage, paths, flow);
    if (flow.change < law_tolerance) break;
  }
}

void prescribe_flow(const Bed& bed, const GasState& gas, const std::vector<AirPath>& paths, double velocity,
                    Flow& flow) {
  const Grid& g = bed.grid;
  flow.faces.assign(at(g.cells()), 0.0);
  flow.net.assign(paths.size(), 0.0);
  flow.exchange.assign(paths.size(), 0.0);
  flow.pressure.assign(at(g.cells()) + bed.setup->nodes.size(), 0.0);
  flow.residual = flow.change = 0.0;
  if (velocity == 0.0) return;
  const double per_area = gas.outside_dry_density * velocity;
  for_faces(g, [&](auto direction, const FacePair& f) {
    if (direction == 2) flow.faces.z[at(f.high)] = per_area * f.area;
  });
  // What a space beside the bed takes from it, its own openings pass on, each as much.
  std::vector<double> taken(bed.setup->nodes.size(), 0.0), ways(bed.setup->nodes.size(), 0.0);
  for (std::size_t n = 0; n < paths.size(); ++n) {
    const AirPath& path = paths[n];
    if (path.inner >= g.cells()) ways[at(path.inner - g.cells())] += 1.0;
    if (!path.surface()) continue;
    flow.net[n] = (at_top(bed, path) ? per_area : -per_area) * path.face;
    if (path.outer >= 0) taken[at(path.outer - g.cells())] += flow.net[n];
  }
  for (std::size_t n = 0; n < paths.size(); ++n) {
    if (paths[n].inner < g.cells()) continue;
    const auto node = at(paths[n].inner - g.cells());
    flow.net[n] = taken[node] / ways[node];
  }
}

}  // namespace updraught
