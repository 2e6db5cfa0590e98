#include "solver/bed/mix_cells.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/bed/enthalpy.h"
#include "solver/problem/cannot_compute.h"

namespace updraught {

namespace {

/// Wet mass that a cell's matter had when it was laid (kg): its ash stays, and tells.
double laid_mass(const Blend& b, const State& s, std::size_t c) {
  const double ash = b.ash_chips + b.ash_soft;
  if (ash <= 0.0) throw std::invalid_argument("matter without ash does not tell how much of it was laid");
  return (s.chips_ash[c] + s.soft_ash[c]) / ash;
}

void add_to(std::vector<Portion>& recipe, Portion part) {
  const auto same = std::find_if(recipe.begin(), recipe.end(),
                                 [&](const Portion& other) { return other.feedstock == part.feedstock; });
  if (same == recipe.end())
    recipe.push_back(std::move(part));
  else
    same->mass += part.mass;
}

}  // namespace

std::vector<Portion> recipe_of(const Laid& bed, const std::vector<int>& cells) {
  const Setup& setup = *bed.bed.setup;
  std::vector<double> laid(setup.blends.size(), 0.0);
  for (const int cell : cells) {
    const auto mixture = static_cast<std::size_t>(bed.state.mixture[at(cell)]);
    laid[mixture] += laid_mass(setup.blends[mixture], bed.state, at(cell));
  }
  std::vector<Portion> recipe;
  for (std::size_t m = 0; m < laid.size(); ++m) {
    double whole = 0.0;
    for (const Portion& part : setup.recipes[m]) whole += part.mass;
    for (Portion part : setup.recipes[m]) {
      part.mass *= laid[m] / whole;
      if (part.mass > 0.0) add_to(recipe, std::move(part));
    }
  }
  return recipe;
}

namespace {

/// Matter and warmth of some cells together.
struct Heap {
  std::array<double, pool_count> pool{};
  double easy_start = 0.0, chips_ash = 0.0, soft_ash = 0.0, water = 0.0;  // kg
  double dry = 0.0;                                                       // kg
  double dry_gas = 0.0;                                                   // mol
  double enthalpy = 0.0;                                                  // J
  double warmth = 0.0;                                                    // kg degC
  std::array<double, 2> living{};  // kg of volatile solids, by activity

  double wet() const { return dry + water; }
};

void add(const Laid& bed, std::size_t c, Heap& heap) {
  const State& s = bed.state;
  const double dry = dry_of(s, c);
  for (std::size_t p = 0; p < pool_count; ++p) heap.pool[p] += s.pool[p][c];
  heap.easy_start += s.easy_start[c];
  heap.chips_ash += s.chips_ash[c];
  heap.soft_ash += s.soft_ash[c];
  heap.water += s.water[c];
  heap.dry += dry;
  heap.dry_gas += s.dry_gas[c];
  heap.enthalpy +=
      cell_enthalpy(bed.bed, dry, s.water[c], s.dry_gas[c], s.temperature[c], activity_of(dry, s.water[c]));
  heap.warmth += (dry + s.water[c]) * s.temperature[c];
  for (std::size_t group = 0; group < heap.living.size(); ++group)
    heap.living[group] += s.activity[group][c] * volatile_solids_of(s, c);
}

/// Gives a cell its share of the heap.
void put(const Heap& heap, double share, double mixture, double temperature, std::size_t c, State& s) {
  const double solids = heap.dry - heap.chips_ash - heap.soft_ash;
  s.mixture[c] = mixture;
  for (std::size_t p = 0; p < pool_count; ++p) s.pool[p][c] = share * heap.pool[p];
  s.easy_start[c] = share * heap.easy_start;
  s.chips_ash[c] = share * heap.chips_ash;
  s.soft_ash[c] = share * heap.soft_ash;
  s.water[c] = share * heap.water;
  s.temperature[c] = temperature;
  for (std::size_t group = 0; group < heap.living.size(); ++group)
    s.activity[group][c] = solids > 0.0 ? heap.living[group] / solids : 0.0;
}

void forget_loads(const Grid& g, const std::vector<int>& cells, State& s) {
  std::vector<int> mixed(at(g.nz), 0), open(at(g.nz), 0);
  for (const int cell : cells) ++mixed[at(g.layer_of(cell))];
  for (int cell = 0; cell < g.cells(); ++cell) open[at(g.layer_of(cell))] += g.open(cell) ? 1 : 0;
  for (int k = 0; k < g.nz; ++k)
    if (mixed[at(k)] > 0 && mixed[at(k)] == open[at(k)]) s.largest_stress[at(k)] = 0.0;
}

}  // namespace

Laid mix_cells(const Laid& before, const std::vector<int>& cells) {
  std::vector<int> open;
  std::copy_if(cells.begin(), cells.end(), std::back_inserter(open),
               [&](int cell) { return before.bed.grid.open(cell); });
  if (open.empty()) throw std::invalid_argument("there is nothing to mix");
  Setup setup = *before.bed.setup;
  setup.recipes.push_back(recipe_of(before, open));
  setup.blends.push_back(blend(setup.recipes.back(), setup.problem.laws));
  const double mixture = static_cast<double>(setup.blends.size() - 1);

  Heap heap;
  for (const int cell : open) add(before, at(cell), heap);
  // With one moisture throughout, the cells' enthalpies add up to that of one large cell.
  const Root temperature =
      recover_temperature(before.bed, heap.dry, heap.water, heap.dry_gas, activity_of(heap.dry, heap.water),
                          heap.enthalpy, heap.warmth / heap.wet());
  if (!temperature.found) throw CannotCompute("what is mixed has no temperature that holds its heat");
  Laid after{{std::make_shared<const Setup>(std::move(setup)), before.bed.grid}, before.state};
  for (const int cell : open) {
    const auto c = at(cell);
    const double wet = dry_of(before.state, c) + before.state.water[c];
    put(heap, wet / heap.wet(), mixture, temperature.value, c, after.state);
  }
  forget_loads(before.bed.grid, open, after.state);
  after.state.clock.since_event = 0.0;
  return after;
}

}  // namespace updraught
