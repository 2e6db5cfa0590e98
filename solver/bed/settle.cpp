// The bed under its own weight; declared in bed.h.
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/bed/bed.h"
#include "solver/material/packing.h"

namespace updraught {

namespace {

/// What the cells of one mixture in a layer hold together (kg).
struct Sums {
  std::size_t mixture;
  double easy = 0.0, easy_start = 0.0, middling = 0.0, hard = 0.0, wood = 0.0;
  double chips_ash = 0.0, soft_ash = 0.0, water = 0.0;
};

void add(const State& s, std::size_t c, Sums& sum) {
  sum.easy += s.pool[pool_of::easy][c];
  sum.easy_start += s.easy_start[c];
  sum.middling += s.pool[pool_of::middling][c];
  sum.hard += s.pool[pool_of::hard][c];
  sum.wood += s.pool[pool_of::wood][c];
  sum.chips_ash += s.chips_ash[c];
  sum.soft_ash += s.soft_ash[c];
  sum.water += s.water[c];
}

Matter matter_of(const Sums& sum, double soaked) {
  Matter m;
  m.chips = sum.wood + sum.chips_ash;
  m.soft_organic = sum.easy + sum.middling + sum.hard;
  m.soft_ash = sum.soft_ash;
  m.water = sum.water;
  m.easy_left = sum.easy_start > 0.0 ? sum.easy / sum.easy_start : 0.0;
  m.soaked = soaked;
  return m;
}

double total_mass(const Matter& m) {
  return m.chips + m.soft_organic + m.soft_ash + m.water;
}

/// Matter of one mixture in a layer.
struct Part {
  const Blend* blend;
  Matter matter;
};

/// All matter of a layer, one part for each mixture in it.
std::vector<Part> parts_of_layer(const Bed& bed, const State& s, int k) {
  const Grid& g = bed.grid;
  std::vector<Sums> sums;
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i) {
      const auto c = at(g.cell(i, j, k));
      const auto mixture = static_cast<std::size_t>(s.mixture[c]);
      std::size_t n = 0;
      while (n < sums.size() && sums[n].mixture != mixture) ++n;
      if (n == sums.size()) sums.push_back({mixture});
      add(s, c, sums[n]);
    }
  std::vector<Part> parts;
  parts.reserve(sums.size());
  for (const Sums& sum : sums)
    parts.push_back({&bed.setup->blends[sum.mixture], matter_of(sum, soaked_share(s, k))});
  return parts;
}

}  // namespace

void settle_bed(const Bed& bed, State& s) {
  const Grid& g = bed.grid;
  const Setup& setup = *bed.setup;
  if (setup.blends.empty() || (!setup.problem.settles && s.largest_stress.front() > 0.0)) return;
  std::vector<LoadedLayer> layers(at(g.nz));
  std::vector<std::vector<Part>> parts(at(g.nz));
  for (int k = 0; k < g.nz; ++k) {
    parts[at(k)] = parts_of_layer(bed, s, k);
    double mass = 0.0;
    for (const Part& part : parts[at(k)]) mass += total_mass(part.matter);
    layers[at(k)] = {mass / g.layer_area(k), s.largest_stress[at(k)]};
  }
  const auto settled = settle(layers, setup.friction, [&](int k, double stress) {
    double volume = 0.0;
    for (const Part& part : parts[at(k)]) volume += pack(*part.blend, part.matter, stress).volume;
    return volume / g.layer_area(k);
  });
  for (int k = 0; k < g.nz; ++k) {
    s.thickness[at(k)] = settled[at(k)].thickness;
    s.stress[at(k)] = settled[at(k)].stress;
    s.largest_stress[at(k)] = settled[at(k)].largest_stress;
  }
}

}  // namespace updraught
