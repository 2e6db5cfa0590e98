#include "solver/material/mixture.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/material/packing.h"
#include "solver/material/recipe.h"

namespace updraught {
namespace {

// Densities of the solids in the formula for free air space (van Ginkel 1999; Richard 2004; from memory),
// kg/m3.
constexpr double organic_density = 1600.0;
constexpr double ash_density = 2500.0;
constexpr double water_density = 1000.0;

// Wetter is softer (theory 1.5): the softness stress of a feedstock is stated at its own moisture and falls
// by exp(-2) per unit of moisture that the mix adds to it. Our choice, range 1 to 4.
constexpr double softening = 2.0;

// Length of chips for which the packing constants of the soft feedstocks are stated (m). Our choice.
constexpr double reference_chip = 0.040;

double solids_volume(double organic, double ash) {
  return organic / organic_density + ash / ash_density;
}

/// Sums over the portions of one kind, chips or soft.
struct Sums {
  double dry = 0.0, organic = 0.0, ash = 0.0, water = 0.0, held = 0.0;  // kg
  double bare = 0.0;                         // solids and water of soft matter (m3)
  double particles = 0.0;                    // particle volume (m3)
  double loose = 0.0;                        // loose volume (m3)
  double least = 0.0;                        // volume at the least porosity (m3)
  double compliance = 0.0;                   // loose volume per softness stress (m3/Pa)
  double compliance_rotted = 0.0;            // the same when the easy pool is used up
  double surface = 0.0;                      // particle volume per Ergun size (m2)
  double size = 0.0;                         // particle volume times piece size (m4)
  double mixing = 0.0, mixing_rotted = 0.0;  // particle volume times m (m3)
};

void require(bool holds, const Feedstock& feedstock, const std::string& what) {
  if (!holds) throw std::invalid_argument(feedstock.name + ": " + what);
}

void check(const Portion& portion) {
  const Feedstock& f = portion.feedstock;
  require(portion.mass >= 0.0, f, "the mass is negative");
  require(f.moisture >= 0.0 && f.moisture <= 1.0, f, "moisture must lie between 0 and 1");
  require(f.volatile_solids >= 0.0 && f.volatile_solids <= 1.0, f,
          "volatile solids must lie between 0 and 1");
  if (f.moisture >= 1.0) return;
  require(f.piece_size > 0.0, f, "the piece size must be above zero");
  require(f.ergun_size > 0.0, f, "the Ergun size must be above zero");
  require(f.softness_stress > 0.0, f, "the softness stress must be above zero");
  require(f.rotted_stiffness > 0.0 && f.rotted_stiffness <= 1.0, f,
          "the stiffness left when rotted must lie above 0 and up to 1");
  require(f.least_porosity >= 0.0 && f.least_porosity < 1.0, f,
          "the least porosity must lie between 0 and 1");
  require(f.loose_porosity < 1.0, f, "the loose porosity must be below 1");
  require(f.loose_porosity > 0.0 || f.loose_density > 0.0, f,
          "neither loose density nor loose porosity is known");
  if (f.chips) require(f.basic_density > 0.0, f, "the basic density must be above zero");
}

double sum_of_shares(const Feedstock& f) {
  double sum = 0.0;
  for (const Pool& pool : f.pools) sum += pool.share;
  require(sum <= 1.0 + 1e-9, f, "the pools add up to more than all volatile solids");
  return sum;
}

double loose_volume(const Portion& portion, double particles) {
  const Feedstock& f = portion.feedstock;
  const double volume =
      f.loose_porosity > 0.0 ? particles / (1.0 - f.loose_porosity) : portion.mass / f.loose_density;
  require(volume >= particles, f, "the loose density is higher than that of airless matter");
  return volume;
}

void add_portion(const Portion& portion, double soft_moisture, Sums& sums) {
  const Feedstock& f = portion.feedstock;
  const double water = portion.mass * f.moisture;
  const double dry = portion.mass - water;
  const double organic = dry * f.volatile_solids;
  const double ash = dry - organic;
  const double bare = solids_volume(organic, ash) + water / water_density;
  const double particles = f.chips ? dry / f.basic_density : bare * (1.0 + f.inner_air);
  const double loose = loose_volume(portion, particles);
  const double wetting = f.chips ? 0.0 : soft_moisture - f.moisture;

  sums.dry += dry;
  sums.organic += organic;
  sums.ash += ash;
  sums.water += water;
  // As tipped, no water stands between soft pieces: they hold at least what they came with.
  sums.held += f.chips ? dry * f.water_capacity : std::max(dry * f.water_capacity, water);
  sums.bare += bare;
  sums.particles += particles;
  sums.loose += loose;
  // What is tipped tighter than its least porosity stays as it is.
  sums.least += std::min(particles / (1.0 - f.least_porosity), loose);
  const double softness = f.softness_stress * std::exp(-softening * wetting);
  sums.compliance += loose / softness;
  sums.compliance_rotted += loose / (softness * f.rotted_stiffness);
  sums.surface += particles / f.ergun_size;
  sums.size += particles * f.piece_size;
  sums.mixing += particles * f.mixing;
  sums.mixing_rotted += particles * f.mixing_rotted;
}

/// Adds volatile solids to a pool (theory 1.7) so that both its oxygen in all and its uptake at the start are
/// the parts' sums. `demand` and `rate` hold sums until `close_pool` divides.
void add_pool(double organic, const Pool& part, Pool& pool) {
  const double mass = organic * part.share;
  pool.share += mass;
  pool.demand += mass * part.demand;
  pool.rate += mass * part.demand * part.rate;
}

void close_pool(double total, double uptake_factor, Pool& pool) {
  pool.rate = pool.demand > 0.0 ? uptake_factor * pool.rate / pool.demand : 0.0;
  pool.demand = pool.share > 0.0 ? pool.demand / pool.share : 0.0;
  pool.share /= total;
}

std::array<Pool, pool_count> blend_pools(const std::vector<Portion>& portions, double total,
                                         double uptake_factor) {
  std::array<Pool, pool_count> pools{};
  for (const Portion& portion : portions) {
    const Feedstock& f = portion.feedstock;
    const double organic = portion.mass * (1.0 - f.moisture) * f.volatile_solids;
    const double rest = 1.0 - sum_of_shares(f);  // taken as hard matter that does not rot
    for (std::size_t i = 0; i < 3; ++i) add_pool(organic, f.pools[i], pools[f.chips ? 3 : i]);
    pools[f.chips ? 3 : 2].share += organic * std::max(rest, 0.0);
  }
  for (Pool& pool : pools) close_pool(total, uptake_factor, pool);
  return pools;
}

void set_chips(const Sums& chips, const LawFactors& laws, Blend& b) {
  if (chips.dry <= 0.0) return;
  b.basic_density = chips.dry / chips.particles;
  // The wood holds no more than its inner room.
  const double room = water_density * (chips.particles - solids_volume(chips.organic, chips.ash));
  b.capacity_chips = std::max(std::min(chips.held, room), 0.0) / chips.dry;
  b.chip_porosity = 1.0 - chips.particles / chips.loose;
  b.chip_porosity_least = 1.0 - chips.particles / chips.least;
  b.chip_stress = chips.loose / chips.compliance;
  b.chip_size = chips.size / chips.particles;
  b.chip_ergun = laws.ergun_factor * chips.particles / chips.surface;
}

void set_soft(const Sums& soft, const LawFactors& laws, Blend& b) {
  if (soft.dry <= 0.0) return;
  b.capacity_soft = soft.held / soft.dry;
  b.inner_air = soft.particles / soft.bare - 1.0;
  b.soft_porosity = 1.0 - soft.particles / soft.loose;
  b.soft_porosity_least = 1.0 - soft.particles / soft.least;
  b.soft_stress = soft.loose / soft.compliance;
  b.soft_stress_rotted = soft.loose / soft.compliance_rotted;
  b.soft_size = soft.size / soft.particles;
  b.soft_ergun = laws.ergun_factor * soft.particles / soft.surface;
  // Shorter chips have smaller pores between them: the size-ratio law scales m from the reference chip
  // (theory 2.6).
  double scale = 1.0;
  if (b.chip_size > 0.0)
    scale = mixing_from_size_ratio(b.soft_size / b.chip_size) /
            mixing_from_size_ratio(b.soft_size / reference_chip);
  const auto bounded = [&](double m) { return std::clamp(scale * m + laws.packing_excess_shift, 0.0, 1.0); };
  b.mixing = bounded(soft.mixing / soft.particles);
  b.mixing_rotted = bounded(soft.mixing_rotted / soft.particles);
}

double moisture_of_soft(const std::vector<Portion>& portions) {
  double mass = 0.0, water = 0.0;
  for (const Portion& portion : portions) {
    if (portion.feedstock.chips) continue;
    mass += portion.mass;
    water += portion.mass * portion.feedstock.moisture;
  }
  return mass > 0.0 ? water / mass : 0.0;
}

}  // namespace

Blend blend(const std::vector<Portion>& portions, const LawFactors& laws) {
  Sums chips, soft;
  double poured = 0.0;  // water added as such (kg)
  Blend b;
  for (const Portion& portion : portions) check(portion);
  const double soft_moisture = moisture_of_soft(portions);
  for (const Portion& portion : portions) {
    const Feedstock& f = portion.feedstock;
    if (portion.mass <= 0.0) continue;
    if (f.moisture >= 1.0) {
      poured += portion.mass;
      continue;
    }
    add_portion(portion, soft_moisture, f.chips ? chips : soft);
    b.largest_piece = std::max(b.largest_piece, f.piece_size);
  }
  const double total = chips.dry + chips.water + soft.dry + soft.water + poured;
  if (chips.dry + soft.dry <= 0.0) throw std::invalid_argument("the recipe holds no dry matter");

  b.dry_chips = chips.dry / total;
  b.dry_soft = soft.dry / total;
  b.water = (chips.water + soft.water + poured) / total;
  b.ash_chips = chips.ash / total;
  b.ash_soft = soft.ash / total;
  b.pools = blend_pools(portions, total, laws.uptake_factor);
  set_chips(chips, laws, b);
  set_soft(soft, laws, b);
  b.water_chips_start = std::min(chips.water / total, b.capacity_chips * b.dry_chips);
  b.water_soft_start = std::min(b.water - b.water_chips_start, b.capacity_soft * b.dry_soft);
  b.moisture = b.water;
  b.carbon_nitrogen = mix_carbon_nitrogen(portions);
  b.carbon_nitrogen_available = mix_available_carbon_nitrogen(portions);
  b.loose_volume = (chips.loose + soft.loose) / total;
  b.chip_share = chips.loose / (chips.loose + soft.loose);
  return b;
}

WaterSplit split_water(const Blend& b, const Matter& m) {
  const double room_chips = b.capacity_chips * m.chips;
  const double room_soft = b.capacity_soft * (m.soft_organic + m.soft_ash);
  const double room = room_chips + room_soft;
  const double fill = room > 0.0 ? std::min(m.water / room, 1.0) : 0.0;
  const double start = b.dry_chips > 0.0 ? m.chips * b.water_chips_start / b.dry_chips : 0.0;
  WaterSplit split;
  split.chips = std::max(std::min(start + m.soaked * (fill * room_chips - start), m.water), 0.0);
  split.soft = std::min(m.water - split.chips, room_soft);
  split.free = m.water - split.chips - split.soft;
  return split;
}

Volumes particle_volumes(const Blend& b, const Matter& m) {
  const WaterSplit water = split_water(b, m);
  const double ash_share = b.dry_chips > 0.0 ? b.ash_chips / b.dry_chips : 0.0;
  const double bare = solids_volume(m.soft_organic, m.soft_ash) + water.soft / water_density;
  Volumes v;
  v.chips = m.chips / b.basic_density;
  v.soft = bare * (1.0 + b.inner_air);
  // Ash stays, so it tells how much soft matter was laid here.
  const double came = b.ash_soft > 0.0 ? b.water_soft_start * m.soft_ash / b.ash_soft : water.soft;
  v.taken_up = std::max(water.soft - came, 0.0) / water_density * (1.0 + b.inner_air);
  v.free_water = water.free / water_density;
  const double in_wood =
      v.chips - m.chips * solids_volume(1.0 - ash_share, ash_share) - water.chips / water_density;
  v.wood_air = in_wood + bare * b.inner_air;
  return v;
}

Matter fresh_matter(const Blend& b) {
  Matter m;
  m.chips = b.dry_chips;
  m.soft_ash = b.ash_soft;
  m.soft_organic = b.dry_soft - b.ash_soft;
  m.water = b.water;
  m.easy_left = 1.0;
  m.soaked = 0.0;
  return m;
}

}  // namespace updraught
