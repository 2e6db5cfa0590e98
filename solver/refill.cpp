#include "solver/refill.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/balance/balances.h"
#include "solver/bed/enthalpy.h"
#include "solver/bed/properties.h"
#include "solver/bed/relayer.h"
#include "solver/step/march.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

double mass_of(const std::vector<Portion>& recipe) {
  return std::accumulate(recipe.begin(), recipe.end(), 0.0,
                         [](double sum, const Portion& part) { return sum + part.mass; });
}

/// Whether two recipes hold the same in the same proportions.
bool alike(const std::vector<Portion>& a, const std::vector<Portion>& b) {
  const double of_a = mass_of(a), of_b = mass_of(b);
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](const Portion& one, const Portion& other) {
    return one.feedstock == other.feedstock && std::abs(one.mass / of_a - other.mass / of_b) < 1e-9;
  });
}

/// The mixture that a recipe is, added where the bed has none like it.
std::size_t mixture_of(const std::vector<Portion>& recipe, Setup& setup) {
  const auto known = std::find_if(setup.recipes.begin(), setup.recipes.end(),
                                  [&](const auto& one) { return alike(one, recipe); });
  if (known != setup.recipes.end()) return static_cast<std::size_t>(known - setup.recipes.begin());
  setup.recipes.push_back(recipe);
  setup.blends.push_back(blend(recipe, setup.problem.laws));
  return setup.blends.size() - 1;
}

/// How many of the bed's layers the refill gets: by its thickness, as tipped, beside the bed's.
int layers_for(double thickness, const Grid& g) {
  const double share = thickness / (thickness + g.height());
  return std::clamp(static_cast<int>(std::lround(share * g.nz)), 1, std::max(g.nz / 2, 1));
}

/// Outside air in the pores of the layers from `first` up; books all that came with them.
void book_refill(const Bed& bed, int first, State& s) {
  const Gas& gas = bed.setup->gas;
  Properties now;
  compute_properties(bed, s, now);
  for (int cell = 0; cell < bed.grid.cells(); ++cell) {
    if (bed.grid.layer_of(cell) < first) continue;
    const auto c = at(cell);
    const double ratio = gas.vapour_ratio(s.temperature[c], now.activity[c]);
    s.dry_gas[c] = gas.dry_density(s.temperature[c], ratio) * now.volume[c] * now.free_air[c];
    s.oxygen[c] = s.dry_gas[c] * air_oxygen;
    s.carbon_dioxide[c] = s.dry_gas[c] * air_carbon_dioxide;
    s.booked[gas_in] += s.dry_gas[c];
    s.booked[oxygen_in] += s.oxygen[c];
    s.booked[carbon_dioxide_in] += s.carbon_dioxide[c];
    s.booked[water_filled] += s.water[c];
    s.booked[dry_filled] += dry_of(s, c);
    s.booked[heat_filled] +=
        cell_enthalpy(bed, dry_of(s, c), s.water[c], s.dry_gas[c], s.temperature[c], now.activity[c]);
  }
}

}  // namespace

Laid refilled(const Event& event, const Laid& before) {
  const Problem& p = before.bed.setup->problem;
  const Batch& refill = p.refills.at(static_cast<std::size_t>(event.refill));
  const double mass = mass_of(refill.portions) / p.plan_scale;
  Setup setup = *before.bed.setup;
  const std::size_t mixture = mixture_of(refill.portions, setup);
  const double thickness = mass * setup.blends[mixture].loose_volume / before.bed.grid.layer_area(0);
  const int layers = layers_for(thickness, before.bed.grid);
  Laid after = with_room_on_top(
      {{std::make_shared<const Setup>(std::move(setup)), before.bed.grid}, before.state}, layers);
  State& s = after.state;
  const int first = before.bed.grid.nz - layers;
  for (int k = first; k < before.bed.grid.nz; ++k) {
    fill_layer(after.bed, mixture, refill, mass / layers, k, s);
    s.laid[at(k)] = s.time();
  }
  for (int cell = 0; cell < before.bed.grid.cells(); ++cell)
    if (before.bed.grid.layer_of(cell) >= first)
      s.temperature[at(cell)] = p.hold_temperature.value_or(event.temperature);
  settle_bed(after.bed, s);
  after.bed = with_layers(after.bed, s.thickness);
  book_refill(after.bed, first, s);
  s.clock.next_step = first_step(p);
  return with_present_mixtures(std::move(after));
}

bool stands_in_bin(const Bed& bed) {
  return bed.grid.height() <= bed.setup->problem.bin.height * (1.0 + 1e-9);
}

}  // namespace updraught
