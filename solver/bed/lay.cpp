// Filling the empty bin; declared in bed.h.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/bed/bed.h"
#include "solver/problem/cannot_compute.h"

namespace updraught {

namespace {

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

void resize_state(State& s, const Grid& g, int nodes) {
  for (StateField& f : s.fields()) {
    if (f.location == Location::cell) f.values->assign(at(g.cells()), 0.0);
    if (f.location == Location::layer) f.values->assign(at(g.nz), 0.0);
    if (f.location == Location::column) f.values->assign(at(g.columns()), 0.0);
    if (f.location == Location::node) f.values->assign(at(nodes), 0.0);
  }
}

}  // namespace

void fill_layer(const Bed& bed, std::size_t mixture, const Batch& batch, double mass, int k, State& s) {
  const Grid& g = bed.grid;
  const Blend& b = bed.setup->blends[mixture];
  const double area = g.layer_area(k);
  for (int j = 0; j < g.ny; ++j) {
    for (int i = 0; i < g.nx; ++i) {
      const auto c = at(g.cell(i, j, k));
      const double kg = mass * g.plan_area[at(g.column(i, j))] * double(g.fraction[c]) / area;
      s.mixture[c] = static_cast<double>(mixture);
      s.water[c] = kg * b.water;
      if (!g.open(g.cell(i, j, k))) {
        s.soft_ash[c] = kg * (1.0 - b.water);
        continue;
      }
      for (std::size_t q = 0; q < pool_count; ++q) s.pool[q][c] = kg * b.pools[q].share;
      s.easy_start[c] = s.pool[pool_of::easy][c];
      s.chips_ash[c] = kg * b.ash_chips;
      s.soft_ash[c] = kg * b.ash_soft;
      s.activity[group_of::mesophilic][c] = batch.activity;
      s.activity[group_of::thermophilic][c] = batch.heat_loving_activity;
    }
  }
}

namespace {

/// Fills all layers; batch b holds mass[b] kg of wet mix.
void fill_batches(const Bed& bed, const std::vector<int>& count, const std::vector<double>& mass, State& s) {
  int k = 0;
  for (std::size_t b = 0; b < count.size(); ++b) {
    const auto share =
        layer_shares(count[b], b == 0, b + 1 == count.size(), bed.setup->problem.cells.uniform);
    for (int n = 0; n < count[b]; ++n, ++k)
      fill_layer(bed, b, bed.setup->problem.batches[b], mass[b] * share[at(n)], k, s);
  }
}

/// Masses of the batches in the computed bed (kg): where a thickness is asked for, found by repeated
/// settling.
void lay_batches(const Bed& bed, State& s) {
  const Problem& p = bed.setup->problem;
  const std::vector<int> count = layers_per_batch(p, bed.setup->blends);
  std::vector<double> mass(count.size(), 0.0);
  for (std::size_t b = 0; b < mass.size(); ++b) {
    for (const Portion& part : p.batches[b].portions) mass[b] += part.mass;
    if (p.batches[b].depth > 0.0)
      mass[b] = p.batches[b].depth * bed.grid.layer_area(0) / bed.setup->blends[b].loose_volume;
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

void lay_prescribed(const Bed& empty, State& s) {
  const Problem& p = empty.setup->problem;
  const auto share = layer_shares(p.cells.nz, true, true, p.cells.uniform);
  for (int k = 0; k < p.cells.nz; ++k) s.thickness[at(k)] = p.depth * share[at(k)];
  const Grid g = with_layers(empty.grid, s.thickness);
  const double density = p.prescribed.density.value_or(600.0);
  const double wet = empty.setup->gas.constant() ? 0.0 : prescribed_moisture;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = at(g.cell(i, j, k));
        s.soft_ash[c] = density * (1.0 - wet) * g.volume(i, j, k);
        s.water[c] = density * wet * g.volume(i, j, k);
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

Laid lay_bed(const Problem& problem) {
  return lay_bed(make_bed(problem));
}

Laid lay_bed(const Bed& empty) {
  const Problem& p = empty.setup->problem;
  State s;
  resize_state(s, empty.grid, static_cast<int>(empty.setup->nodes.size()));
  if (empty.setup->blends.empty())
    lay_prescribed(empty, s);
  else
    lay_batches(empty, s);
  Laid laid{with_layers(empty, s.thickness), std::move(s)};
  const Grid& g = laid.bed.grid;
  if (g.height() > p.bin.height * (1.0 + 1e-9))
    throw CannotCompute("the fill is higher than the bin, even after settling");
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i)
        laid.state.temperature[at(g.cell(i, j, k))] = start_temperature(p, g, i, j, k);
  return laid;
}

}  // namespace updraught
