#include "solver/bed/bed.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/bed/loose_facts.h"
#include "solver/material/packing.h"
#include "solver/problem/cannot_compute.h"

namespace updraught {

namespace {

/// Air above a bed that fills its bin to the brim (m): a lid never lies tight.
constexpr double least_headspace = 0.005;

/// Chips drink the waste's water over about a day (our choice).
constexpr double soaking_time = 86400.0;

/// Plan edges: the outermost cells are as wide as the wall zone, or half of a middle one.
std::vector<double> plan_edges(double length, int n, double zone, bool uniform) {
  if (n < 3 || (uniform && zone <= 0.0)) return graded_edges(length, n, 0.0, 0.0);
  const double end = zone > 0.0 ? std::min(zone, 0.45 * length) : 0.5 * length / n;
  return graded_edges(length, n, end, end);
}

std::vector<double> ring_edges(double radius, int n, double zone, bool uniform) {
  if (n < 3 || (uniform && zone <= 0.0)) return graded_edges(radius, n, 0.0, 0.0);
  return graded_edges(radius, n, 0.0, zone > 0.0 ? std::min(zone, 0.45 * radius) : 0.5 * radius / n);
}

Grid plan_grid(const Problem& p, double zone) {
  const std::vector<double> layers(at(p.cells.nz), 1.0 / p.cells.nz);
  const bool uniform = p.cells.uniform;
  if (around_axis(p.mode)) return ring_grid(ring_edges(0.5 * p.bin.width, p.cells.nx, zone, uniform), layers);
  const auto x = plan_edges(p.bin.width, p.cells.nx, zone, uniform);
  if (piece_of_longer(p.mode)) return slice_grid(x, p.bin.length, layers);
  const auto y = plan_edges(p.bin.length, p.cells.ny, zone, uniform);
  return p.half_of_box ? half_box_grid(x, y, layers) : box_grid(x, y, layers);
}

}  // namespace

double Prescribed::ByHeight::at(double z) const {
  if (height.empty() || z <= height.front()) return value.front();
  for (std::size_t n = 1; n < height.size(); ++n)
    if (z <= height[n])
      return value[n - 1] + (value[n] - value[n - 1]) * (z - height[n - 1]) / (height[n] - height[n - 1]);
  return value.back();
}

double dry_heat_capacity(const Problem& problem) {
  if (!problem.prescribed.heat_capacity) return heat_capacity_dry_matter;
  const double wet = problem.constant_air ? 0.0 : prescribed_moisture;
  const double capacity = (*problem.prescribed.heat_capacity - wet * heat_capacity_water) / (1.0 - wet);
  if (capacity <= 0.0) throw CannotCompute("the prescribed heat capacity is below that of its water");
  return capacity;
}

Gas gas_of(const Problem& problem) {
  return Gas(problem.outside.pressure, problem.constant_air);
}

namespace {

/// Half the largest piece: how wide the packing beside a wall is looser (m); 0 where that does not count.
double wall_zone_of(const Problem& problem, const std::vector<Blend>& blends) {
  if (!problem.wall_lane || problem.prescribed.permeability) return 0.0;
  double largest = 0.0;
  for (const Blend& b : blends) largest = std::max(largest, b.largest_piece);
  return 0.5 * largest;
}

std::vector<NodeKind> nodes_of(const Problem& problem) {
  std::vector<NodeKind> nodes;
  if (problem.base.kind == Base::Kind::raised && problem.base.inlet_area > 0.0)
    nodes.push_back(NodeKind::floor_space);
  if (problem.lid.kind == Lid::Kind::closed) nodes.push_back(NodeKind::lid_space);
  return nodes;
}

WallFriction friction_of(const Problem& problem, const Grid& plan) {
  WallFriction friction;
  // A bed that does not touch the wall is not carried by it.
  friction.coefficient = problem.wall_gap > 0.0 ? 0.0 : problem.wall_friction;
  friction.lateral_ratio = problem.lateral_ratio;
  const double perimeter = plan.perimeter(0);
  if (!piece_of_longer(problem.mode) && perimeter > 0.0)
    friction.hydraulic_diameter = 4.0 * plan.layer_area(0) / (perimeter * problem.wall_scale);
  return friction;
}

std::vector<Blend> blends_of(const Problem& problem) {
  std::vector<Blend> blends;
  for (const Batch& batch : problem.batches) blends.push_back(blend(batch.portions, problem.laws));
  return blends;
}

}  // namespace

Bed make_bed(const Problem& problem) {
  return make_bed(problem, plan_grid(problem, wall_zone_of(problem, blends_of(problem))));
}

Bed make_bed(const Problem& problem, const Grid& plan) {
  Setup setup{problem, gas_of(problem),   blends_of(problem),
              {},      nodes_of(problem), friction_of(problem, plan)};
  for (const Batch& batch : problem.batches) setup.recipes.push_back(batch.portions);
  setup.wall_zone = wall_zone_of(problem, setup.blends);
  setup.dry_heat_capacity = dry_heat_capacity(problem);
  return {std::make_shared<const Setup>(std::move(setup)), plan};
}

Bed with_layers(const Bed& bed, const std::vector<double>& thickness) {
  return {bed.setup, with_layers(bed.grid, thickness)};
}

LooseFacts loose_facts(const Problem& problem) {
  LooseFacts facts;
  if (problem.batches.empty()) return facts;
  std::vector<Portion> all;
  for (const Batch& batch : problem.batches)
    all.insert(all.end(), batch.portions.begin(), batch.portions.end());
  const Blend b = blend(all, problem.laws);
  const Packed loose = pack(b, fresh_matter(b), 0.0);
  facts.free_air_space = loose.total;
  facts.air_between = loose.between;
  facts.moisture = b.moisture;
  facts.carbon_nitrogen = b.carbon_nitrogen;
  facts.carbon_nitrogen_available = b.carbon_nitrogen_available;
  facts.woodchip_share = b.chip_share;
  facts.density = 1.0 / loose.volume;
  return facts;
}

double prescribed_heat(const Bed& bed, int cell) {
  const Grid& g = bed.grid;
  const Prescribed& given = bed.setup->problem.prescribed;
  double place = g.centre_z(g.layer_of(cell));
  if (given.heat_along == Prescribed::Along::width) place = g.centre_x(cell % g.nx);
  if (given.heat_along == Prescribed::Along::length) place = g.centre_y(cell / (g.nx * g.nz));
  return given.heat->at(place);
}

double soaked_share(const State& s, int k) {
  return 1.0 - std::exp(-(s.time() - s.laid[at(k)]) / soaking_time);
}

const Blend& blend_of(const Bed& bed, const State& s, std::size_t cell) {
  return bed.setup->blends[static_cast<std::size_t>(s.mixture[cell])];
}

Matter cell_matter(const Bed& bed, const State& s, int cell) {
  const auto c = at(cell);
  const double easy = s.pool[pool_of::easy][c];
  Matter m;
  m.chips = s.pool[pool_of::wood][c] + s.chips_ash[c];
  m.soft_organic = easy + s.pool[pool_of::middling][c] + s.pool[pool_of::hard][c];
  m.soft_ash = s.soft_ash[c];
  m.water = s.water[c];
  m.easy_left = s.easy_start[c] > 0.0 ? easy / s.easy_start[c] : 0.0;
  m.soaked = soaked_share(s, bed.grid.layer_of(cell));
  return m;
}

int node_index(const Bed& bed, NodeKind kind) {
  const auto found = std::find(bed.setup->nodes.begin(), bed.setup->nodes.end(), kind);
  return found == bed.setup->nodes.end() ? -1 : static_cast<int>(found - bed.setup->nodes.begin());
}

double node_volume(const Bed& bed, int node) {
  const Boundary end = bed.setup->nodes[at(node)] == NodeKind::floor_space ? Boundary::floor : Boundary::top;
  const double area = bed.grid.area_of(end);
  if (end == Boundary::floor) return area * bed.setup->problem.base.height;
  return area * std::max(bed.setup->problem.bin.height - bed.grid.height(), least_headspace);
}

double node_height(const Bed& bed, int node) {
  if (bed.setup->nodes[at(node)] == NodeKind::floor_space) return -0.5 * bed.setup->problem.base.height;
  return bed.grid.height() +
         0.5 * std::max(bed.setup->problem.bin.height - bed.grid.height(), least_headspace);
}

}  // namespace updraught
