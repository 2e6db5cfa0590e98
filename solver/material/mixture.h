// From a recipe to matter (theory 1.1 to 1.8): what a mixed batch is made of and how it packs.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "solver/material/feedstock.h"

namespace updraught {

/// Number of pools of volatile solids that a bed carries: easy, middling, hard (soft matter), and wood
/// (chips).
inline constexpr int pool_count = 4;
namespace pool_of {
inline constexpr std::size_t easy = 0, middling = 1, hard = 2, wood = 3;
}

/// Constants of a mixed batch. Amounts are per kilogram of wet mix as laid down.
struct Blend {
  // Matter, kg per kg of wet mix
  double dry_chips = 0.0;
  double dry_soft = 0.0;
  double water = 0.0;
  double ash_chips = 0.0;
  double ash_soft = 0.0;
  std::array<Pool, pool_count> pools{};  ///< share: kg of volatile solids per kg of wet mix; rate; demand
  double water_chips_start = 0.0;        ///< water inside the chips as they came (kg per kg of wet mix)
  double water_soft_start = 0.0;         ///< water held by the soft matter as it came (kg per kg of wet mix)

  // Holding of water, kg/kg dry
  double capacity_chips = 0.0;
  double capacity_soft = 0.0;

  // Packing
  double basic_density = 400.0;  ///< chips (kg/m3)
  double inner_air = 0.0;        ///< soft particles (m3/m3)
  double chip_porosity = 0.6;    ///< loose
  double chip_porosity_least = 0.5;
  double chip_stress = 1e4;    ///< (Pa)
  double soft_porosity = 0.5;  ///< loose
  double soft_porosity_least = 0.08;
  double soft_stress = 2000.0;         ///< fresh (Pa)
  double soft_stress_rotted = 2000.0;  ///< easy pool used up (Pa)
  double mixing = 0.0;                 ///< m, fresh
  double mixing_rotted = 0.0;          ///< m, easy pool used up
  double chip_size = 0.0;              ///< nominal length (m)
  double soft_size = 0.0;              ///< mean piece size (m)
  double largest_piece = 0.0;          ///< (m)
  double chip_ergun = 0.0;             ///< (m)
  double soft_ergun = 0.0;             ///< at the reference moisture (m)
  double closed_porosity = 0.05;       ///< part of the air between pieces through which nothing flows

  // For people
  double moisture = 0.0;         ///< kg/kg wet
  double carbon_nitrogen = 0.0;  ///< total C:N (kg/kg); infinite without nitrogen
  double carbon_nitrogen_available = 0.0;
  double chip_share = 0.0;    ///< chip buckets over all buckets (loose volumes)
  double loose_volume = 0.0;  ///< sum of the parts' loose volumes (m3/kg)
};

/// How far laws that all materials share are moved from their middle (theory 8.4), which is all zeros and
/// ones.
struct LawFactors {
  double packing_excess_shift = 0.0;  ///< added to m, which stays within 0..1
  double ergun_factor = 1.0;          ///< on all Ergun sizes
  double uptake_factor = 1.0;         ///< on all pool rates
};

/// Blends portions. Throws std::invalid_argument when the masses are negative or all zero.
Blend blend(const std::vector<Portion>& portions, const LawFactors& laws = {});

/// Amounts in a cell, a layer or a kilogram: the extensive quantities that packing needs (kg).
struct Matter {
  double chips = 0.0;         ///< dry mass of chips
  double soft_organic = 0.0;  ///< volatile solids of the soft matter
  double soft_ash = 0.0;
  double water = 0.0;      ///< liquid
  double easy_left = 1.0;  ///< easy pool left, of its amount at the start (kg/kg)
  double soaked = 1.0;     ///< how far chips have drunk towards the common fill, 0 at laying, 1 after days
};

/// Particle volumes (m3).
struct Volumes {
  double chips = 0.0;
  double soft = 0.0;      ///< solids, their water and inner air
  double taken_up = 0.0;  ///< of it, water beyond what the soft matter came with
  double free_water = 0.0;
  double wood_air = 0.0;  ///< air inside the wood and the soft particles: counts as total free air space only
};

/// Where the liquid of some matter sits (kg).
struct WaterSplit {
  double chips = 0.0;  ///< inside the chips
  double soft = 0.0;   ///< inside the soft matter
  double free = 0.0;   ///< above both capacities, in the pores: drains
};

/// Shares the water out: dry chips drink water of the wet waste towards an equal fraction of capacity
/// (theory 1.6).
WaterSplit split_water(const Blend& blend, const Matter& matter);

/// Particle volumes of some matter of a batch: chips by their basic density whatever their moisture; soft dry
/// solids (organic 1600, ash 2500 kg/m3; van Ginkel 1999) with their water; water above both capacities lies
/// free.
Volumes particle_volumes(const Blend& blend, const Matter& matter);

/// Matter of one kilogram of wet mix as laid down.
Matter fresh_matter(const Blend& blend);

}  // namespace updraught
