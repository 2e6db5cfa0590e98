#include "solver/bed/bed.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/parallel/index.h"
#include "solver/bed/loose_facts.h"
#include "solver/material/packing.h"
#include "solver/problem/cannot_compute.h"

namespace updraught {

namespace {

/// Chips drink the waste's water over about a day (our choice).
constexpr double soaking_time = 86400.0;

/// Share of water in matter that is prescribed by its density alone (kg/kg wet): a usual compost; our choice.
constexpr double prescribed_moisture = 0.60;

/// Air above a bed that fills its bin to the brim (m): a lid never lies tight.
constexpr double least_headspace = 0.005;

double layer_sum(const Grid& g, const std::vector<double>& values, int k) {
  double sum = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i) sum += values[at(g.cell(i, j, k))];
  return sum;
}

double soaked_share(const State& s, int k) {
  return 1.0 - std::exp(-(s.time() - s.laid[at(k)]) / soaking_time);
}

/// All matter of a layer.
Matter layer_matter(const Grid& g, const State& s, int k) {
  Matter m;
  m.chips = layer_sum(g, s.pool[3], k) + layer_sum(g, s.chips_ash, k);
  const double easy = layer_sum(g, s.pool[0], k);
  const double easy_start = layer_sum(g, s.easy_start, k);
  m.soft_organic = easy + layer_sum(g, s.pool[1], k) + layer_sum(g, s.pool[2], k);
  m.soft_ash = layer_sum(g, s.soft_ash, k);
  m.water = layer_sum(g, s.water, k);
  m.easy_left = easy_start > 0.0 ? easy / easy_start : 0.0;
  m.soaked = soaked_share(s, k);
  return m;
}

double total_mass(const Matter& m) {
  return m.chips + m.soft_organic + m.soft_ash + m.water;
}

/// Plan edges: the outermost cells are as wide as the wall lane, or half of a middle one.
std::vector<double> plan_edges(double length, int n, double lane, bool uniform) {
  if (n < 3 || (uniform && lane <= 0.0)) return graded_edges(length, n, 0.0, 0.0);
  const double end = lane > 0.0 ? std::min(lane, 0.45 * length) : 0.5 * length / n;
  return graded_edges(length, n, end, end);
}

std::vector<double> ring_edges(double radius, int n, double lane, bool uniform) {
  if (n < 3 || (uniform && lane <= 0.0)) return graded_edges(radius, n, 0.0, 0.0);
  return graded_edges(radius, n, 0.0, lane > 0.0 ? std::min(lane, 0.45 * radius) : 0.5 * radius / n);
}

/// Shares of one batch's mass in its n layers, finer towards floor and top of the bed.
std::vector<double> layer_shares(int n, bool bottom, bool top, bool uniform) {
  const bool graded = !uniform && n >= 4;
  const std::vector<double> edge =
      graded_edges(1.0, n, graded && bottom ? 0.5 / n : 0.0, graded && top ? 0.5 / n : 0.0);
  std::vector<double> share(at(n));
  for (int k = 0; k < n; ++k) share[at(k)] = edge[at(k) + 1] - edge[at(k)];
  return share;
}

/// How many layers each batch gets, by thickness or (where that is not given) by loose volume.
std::vector<int> layers_per_batch(const Problem& p, const std::vector<Blend>& blends) {
  std::vector<double> size;
  double sum = 0.0;
  for (std::size_t b = 0; b < blends.size(); ++b) {
    double mass = 0.0;
    for (const Portion& part : p.batches[b].portions) mass += part.mass;
    size.push_back(p.batches[b].depth > 0.0 ? p.batches[b].depth : mass * blends[b].loose_volume);
    sum += size.back();
  }
  std::vector<int> count;
  int left = p.cells.nz;
  for (double s : size) {
    count.push_back(std::max(2, static_cast<int>(std::lround(p.cells.nz * s / sum))));
    left -= count.back();
  }
  // What is over goes to the largest; what is missing comes from whichever is the largest then.
  if (left > 0) *std::max_element(count.begin(), count.end()) += left;
  for (; left < 0; ++left) {
    const auto largest = std::max_element(count.begin(), count.end());
    if (*largest <= 2)
      throw CannotCompute("the bed has more layers of material than the computation has room for");
    --*largest;
  }
  return count;
}

Grid plan_grid(const Problem& p, double lane) {
  const std::vector<double> layers(at(p.cells.nz), 1.0 / p.cells.nz);
  const bool uniform = p.cells.uniform;
  if (p.mode == Mode::rings)
    return ring_grid(ring_edges(0.5 * p.bin.width, p.cells.nx, lane, uniform), layers);
  const auto x = plan_edges(p.bin.width, p.cells.nx, lane, uniform);
  if (p.mode == Mode::slice) return slice_grid(x, p.bin.length, layers);
  return box_grid(x, plan_edges(p.bin.length, p.cells.ny, lane, uniform), layers);
}

void resize_state(State& s, const Grid& g, int nodes) {
  for (StateField& f : s.fields()) {
    if (f.location == Location::cell) f.values->assign(at(g.cells()), 0.0);
    if (f.location == Location::layer) f.values->assign(at(g.nz), 0.0);
    if (f.location == Location::node) f.values->assign(at(nodes), 0.0);
  }
  s.clock.assign(5, 0.0);
  s.flux_top.assign(at(g.columns()), 0.0);
}

/// Puts a wet mass of a batch into layer k, spread by volume.
void fill_layer(const Grid& g, const Blend& b, double mass, double activity, int k, State& s) {
  const double area = g.layer_area(k);
  for (int j = 0; j < g.ny; ++j) {
    for (int i = 0; i < g.nx; ++i) {
      const auto c = at(g.cell(i, j, k));
      const double kg = mass * g.plan_area[at(g.column(i, j))] * double(g.fraction[c]) / area;
      for (std::size_t q = 0; q < pool_count; ++q) s.pool[q][c] = kg * b.pools[q].share;
      s.easy_start[c] = s.pool[0][c];
      s.chips_ash[c] = kg * b.ash_chips;
      s.soft_ash[c] = kg * b.ash_soft;
      s.water[c] = kg * b.water;
      s.activity[0][c] = s.activity[1][c] = activity;
    }
  }
}

/// Fills all layers; batch b holds mass[b] kg of wet mix.
void fill_batches(Bed& bed, const std::vector<int>& count, const std::vector<double>& mass, State& s) {
  int k = 0;
  for (std::size_t b = 0; b < count.size(); ++b) {
    const auto share = layer_shares(count[b], b == 0, b + 1 == count.size(), bed.problem.cells.uniform);
    for (int n = 0; n < count[b]; ++n, ++k) {
      s.batch[at(k)] = static_cast<double>(b);
      fill_layer(bed.grid, bed.blends[b], mass[b] * share[at(n)], bed.problem.batches[b].activity, k, s);
    }
  }
}

/// Masses of the batches in the computed bed (kg): where a thickness is asked for, found by repeated
/// settling.
void lay_batches(Bed& bed, State& s) {
  const Problem& p = bed.problem;
  const std::vector<int> count = layers_per_batch(p, bed.blends);
  std::vector<double> mass(count.size(), 0.0);
  for (std::size_t b = 0; b < mass.size(); ++b) {
    for (const Portion& part : p.batches[b].portions) mass[b] += part.mass;
    if (p.batches[b].depth > 0.0)
      mass[b] = p.batches[b].depth * bed.grid.layer_area(0) / bed.blends[b].loose_volume;
    else
      mass[b] /= p.plan_scale;
  }
  for (int pass = 0; pass < 100; ++pass) {
    fill_batches(bed, count, mass, s);
    std::fill(s.largest_stress.begin(), s.largest_stress.end(), 0.0);
    settle_bed(bed, s);
    double worst = 0.0;
    int k = 0;
    for (std::size_t b = 0; b < mass.size(); ++b) {
      double thick = 0.0;
      for (int n = 0; n < count[b]; ++n, ++k) thick += s.thickness[at(k)];
      if (p.batches[b].depth <= 0.0) continue;
      mass[b] *= p.batches[b].depth / thick;
      worst = std::max(worst, std::abs(p.batches[b].depth / thick - 1.0));
    }
    if (worst < 1e-12) return;
  }
  throw CannotCompute("no amount of material settles to the depth that is asked for");
}

void lay_prescribed(Bed& bed, State& s) {
  const Problem& p = bed.problem;
  const auto share = layer_shares(p.cells.nz, true, true, p.cells.uniform);
  for (int k = 0; k < p.cells.nz; ++k) s.thickness[at(k)] = p.depth * share[at(k)];
  bed.grid.set_layers(s.thickness);
  const double density = p.prescribed.density.value_or(600.0);
  const double wet = bed.gas.constant() ? 0.0 : prescribed_moisture;
  for (int j = 0; j < bed.grid.ny; ++j)
    for (int k = 0; k < bed.grid.nz; ++k)
      for (int i = 0; i < bed.grid.nx; ++i) {
        const auto c = at(bed.grid.cell(i, j, k));
        s.soft_ash[c] = density * (1.0 - wet) * bed.grid.volume(i, j, k);
        s.water[c] = density * wet * bed.grid.volume(i, j, k);
      }
}

double start_temperature(const Problem& p, const Grid& g, int i, int j, int k) {
  const Initial& start = p.initial;
  if (p.hold_temperature) return *p.hold_temperature;
  if (start.kind == Initial::Kind::uniform) return start.temperature;
  if (start.kind == Initial::Kind::table) return start.table.at(g.centre_z(k));
  const double up = g.centre_z(k) / g.height();
  const double pi = std::numbers::pi;
  const double lengthwise =
      start.rolls_lengthwise > 0.0 ? std::cos(pi * start.rolls_lengthwise * g.centre_y(j) / g.y.back()) : 1.0;
  const double roll = std::cos(pi * start.rolls * g.centre_x(i) / g.x.back()) * lengthwise;
  return start.bottom + (start.top - start.bottom) * up + start.ripple * roll * std::sin(pi * up);
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

Bed make_bed(const Problem& problem) {
  Bed bed{problem, gas_of(problem), {}, {}, {}, {}};
  for (const Batch& batch : problem.batches) bed.blends.push_back(blend(batch.portions, problem.setting));
  double largest = 0.0;
  for (const Blend& b : bed.blends) largest = std::max(largest, b.largest_piece);
  const bool lane = problem.wall_lane && !problem.prescribed.permeability && !bed.blends.empty();
  bed.lane_width = lane ? 0.5 * largest : 0.0;
  bed.grid = plan_grid(problem, bed.lane_width);
  if (problem.base.kind == Base::Kind::raised && problem.base.inlet_area > 0.0)
    bed.nodes.push_back(NodeKind::floor_space);
  if (problem.lid.kind == Lid::Kind::closed) bed.nodes.push_back(NodeKind::lid_space);
  // A bed that does not touch the wall is not carried by it.
  bed.friction.coefficient = problem.wall_gap > 0.0 ? 0.0 : problem.wall_friction;
  bed.friction.lateral_ratio = problem.lateral_ratio;
  const double perimeter = bed.grid.perimeter(0);
  if (problem.mode != Mode::slice && perimeter > 0.0)
    bed.friction.hydraulic_diameter = 4.0 * bed.grid.layer_area(0) / (perimeter * problem.wall_scale);
  bed.dry_heat_capacity = dry_heat_capacity(problem);
  return bed;
}

State lay_bed(Bed& bed) {
  const Problem& p = bed.problem;
  State s;
  resize_state(s, bed.grid, static_cast<int>(bed.nodes.size()));
  if (bed.blends.empty())
    lay_prescribed(bed, s);
  else
    lay_batches(bed, s);
  if (bed.grid.height() > p.bin.height * (1.0 + 1e-9))
    throw CannotCompute("the fill is higher than the bin, even after settling");
  for (int j = 0; j < bed.grid.ny; ++j)
    for (int k = 0; k < bed.grid.nz; ++k)
      for (int i = 0; i < bed.grid.nx; ++i)
        s.temperature[at(bed.grid.cell(i, j, k))] = start_temperature(p, bed.grid, i, j, k);
  return s;
}

LooseFacts loose_facts(const Problem& problem) {
  LooseFacts facts;
  if (problem.batches.empty()) return facts;
  std::vector<Portion> all;
  for (const Batch& batch : problem.batches)
    all.insert(all.end(), batch.portions.begin(), batch.portions.end());
  const Blend b = blend(all, problem.setting);
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
  const Prescribed& given = bed.problem.prescribed;
  double place = g.centre_z((cell / g.nx) % g.nz);
  if (given.heat_along == Prescribed::Along::width) place = g.centre_x(cell % g.nx);
  if (given.heat_along == Prescribed::Along::length) place = g.centre_y(cell / (g.nx * g.nz));
  return given.heat->at(place);
}

Matter cell_matter(const Bed& bed, const State& s, int cell) {
  const auto c = at(cell);
  const int k = (cell / bed.grid.nx) % bed.grid.nz;
  Matter m;
  m.chips = s.pool[3][c] + s.chips_ash[c];
  m.soft_organic = s.pool[0][c] + s.pool[1][c] + s.pool[2][c];
  m.soft_ash = s.soft_ash[c];
  m.water = s.water[c];
  m.easy_left = s.easy_start[c] > 0.0 ? s.pool[0][c] / s.easy_start[c] : 0.0;
  m.soaked = soaked_share(s, k);
  return m;
}

int node_index(const Bed& bed, NodeKind kind) {
  const auto found = std::find(bed.nodes.begin(), bed.nodes.end(), kind);
  return found == bed.nodes.end() ? -1 : static_cast<int>(found - bed.nodes.begin());
}

double node_volume(const Bed& bed, int node) {
  const double area = bed.grid.layer_area(bed.grid.nz - 1);
  if (bed.nodes[at(node)] == NodeKind::floor_space) return area * bed.problem.base.height;
  return area * std::max(bed.problem.bin.height - bed.grid.height(), least_headspace);
}

double node_height(const Bed& bed, int node) {
  if (bed.nodes[at(node)] == NodeKind::floor_space) return -0.5 * bed.problem.base.height;
  return bed.grid.height() + 0.5 * std::max(bed.problem.bin.height - bed.grid.height(), least_headspace);
}

void settle_bed(Bed& bed, State& s) {
  const Grid& g = bed.grid;
  if (bed.blends.empty() || !bed.problem.settles) {
    if (bed.blends.empty() || s.largest_stress.front() > 0.0) return;
  }
  std::vector<LoadedLayer> layers(at(g.nz));
  std::vector<Matter> matter(at(g.nz));
  for (int k = 0; k < g.nz; ++k) {
    matter[at(k)] = layer_matter(g, s, k);
    layers[at(k)] = {total_mass(matter[at(k)]) / g.layer_area(k), s.largest_stress[at(k)]};
  }
  const auto settled = settle(layers, bed.friction, [&](int k, double stress) {
    const Blend& b = bed.blends[static_cast<std::size_t>(s.batch[at(k)])];
    return pack(b, matter[at(k)], stress).volume / g.layer_area(k);
  });
  for (int k = 0; k < g.nz; ++k) {
    s.thickness[at(k)] = settled[at(k)].thickness;
    s.stress[at(k)] = settled[at(k)].stress;
    s.largest_stress[at(k)] = settled[at(k)].largest_stress;
  }
  bed.grid.set_layers(s.thickness);
}

}  // namespace updraught
