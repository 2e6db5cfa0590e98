// Materials that several tests use: plain, round, and not those of the library.
#pragma once

#include "solver/material/feedstock.h"

namespace updraught::materials {

inline constexpr double day = 86400.0;

/// Chopped kitchen waste.
inline Feedstock kitchen() {
  Feedstock f;
  f.name = "kitchen waste";
  f.moisture = 0.85;
  f.volatile_solids = 0.90;
  f.carbon = 0.48;
  f.nitrogen = 0.025;
  f.loose_density = 500.0;
  f.piece_size = 0.025;
  f.ergun_size = 0.0015;
  f.water_capacity = 7.0;
  f.least_porosity = 0.08;
  f.softness_stress = 2000.0;
  f.mixing = 0.35;
  f.mixing_rotted = 0.15;
  f.pools = {{{0.55, 0.40 / day, 1.42}, {0.25, 0.05 / day, 1.42}, {0.20, 0.015 / day, 1.42}}};
  return f;
}

/// Dry straw.
inline Feedstock straw() {
  Feedstock f = kitchen();
  f.name = "straw";
  f.moisture = 0.12;
  f.volatile_solids = 0.93;
  f.carbon = 0.50;
  f.nitrogen = 0.007;
  f.loose_density = 80.0;
  f.piece_size = 0.05;
  f.ergun_size = 0.003;
  f.water_capacity = 3.0;
  f.least_porosity = 0.30;
  f.softness_stress = 12000.0;
  f.mixing = 0.5;
  f.mixing_rotted = 0.4;
  f.pools = {{{0.15, 0.30 / day, 1.19}, {0.45, 0.04 / day, 1.19}, {0.40, 0.012 / day, 1.30}}};
  return f;
}

/// Woodchip of a nominal length (m).
inline Feedstock chips(double length = 0.04, double loose_porosity = 0.60) {
  Feedstock f;
  f.name = "chips";
  f.chips = true;
  f.moisture = 0.40;
  f.volatile_solids = 0.98;
  f.carbon = 0.50;
  f.nitrogen = 0.0009;
  f.available_carbon = 0.075;
  f.basic_density = 400.0;
  f.loose_porosity = loose_porosity;
  f.loose_density = f.basic_density * (1.0 - loose_porosity) / (1.0 - f.moisture);
  f.piece_size = length;
  f.ergun_size = 0.08 * length;
  f.water_capacity = 1.8;
  f.least_porosity = 0.50;
  // Slope of the density of spruce chips with stress at the start, 9.9e-5 1/Pa (Mueller, Karaj, Meissner
  // 2012).
  f.softness_stress = (loose_porosity - f.least_porosity) / ((1.0 - loose_porosity) * 9.9e-5);
  f.pools = {{{0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}, {1.0, 0.002 / day, 1.41}}};
  return f;
}

inline Feedstock water() {
  Feedstock f;
  f.name = "water";
  f.moisture = 1.0;
  f.loose_density = 1000.0;
  return f;
}

/// So many litres of a material, as tipped.
inline Portion litres(const Feedstock& feedstock, double amount) {
  return {feedstock, amount * 1e-3 * feedstock.loose_density};
}

}  // namespace updraught::materials
