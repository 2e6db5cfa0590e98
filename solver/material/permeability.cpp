#include "solver/material/permeability.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace updraught {
namespace {

// Theory 3.4: soft fines clump as they take up water: the Ergun size grows by 0.8 of itself from empty to
// full and is stated at 60 % of the capacity. That it grows from 20 to 80 % of the capacity: Ahn, Richard,
// Glanville 2008; how much: our choice, range 0 to 1.5.
constexpr double clumping = 0.8;
constexpr double clumping_reference = 0.6;

// Theory 3.2: open pores never fall below this: cracks stay in closed matter, and the flow stays solvable.
// Our choice.
constexpr double least_open = 0.005;

double open_pores(double between, double closed) {
  const double x = between - closed - least_open;
  return least_open + 0.5 * (x + std::sqrt(x * x + 1e-4));
}

double soft_fill(const Blend& b, const Matter& m) {
  const double room = b.capacity_soft * (m.soft_organic + m.soft_ash);
  return room > 0.0 ? split_water(b, m).soft / room : clumping_reference;
}

/// Theory 3.3: surface-mean Ergun size over the particle volume (m).
double ergun_size(const Blend& b, const Matter& m, const Volumes& v) {
  const double soft = b.soft_ergun * (1.0 + clumping * (soft_fill(b, m) - clumping_reference));
  const double surface =
      (v.chips > 0.0 ? v.chips / b.chip_ergun : 0.0) + (v.soft > 0.0 ? v.soft / soft : 0.0);
  if (surface <= 0.0) throw std::invalid_argument("matter without particles has no permeability");
  return (v.chips + v.soft) / surface;
}

}  // namespace

Resistance ergun(double porosity, double size) {
  const double solid = 1.0 - porosity;
  const double cubed = porosity * porosity * porosity;
  return {size * size * cubed / (150.0 * solid * solid), 1.75 * solid / (size * cubed)};
}

Resistance bed_resistance(const Blend& b, const Matter& matter, double between) {
  const double size = ergun_size(b, matter, particle_volumes(b, matter));
  return ergun(open_pores(between, b.closed_porosity), size);
}

Resistance wall_resistance(const Blend& b, const Matter& matter, double between, double chip_carried,
                           double width) {
  const Volumes v = particle_volumes(b, matter);
  const double size = ergun_size(b, matter, v);
  double loose = between;
  if (v.chips > 0.0 && width > 0.0) {
    // The wall keeps chips away from it, soft matter it does not: their share of the volume takes the place
    // of the solids in the form of Hunt and Tien.
    const double chips = (1.0 - between) * v.chips / (v.chips + v.soft + v.free_water);
    const double reach = 6.0 * width / b.chip_size;
    loose += chip_carried * chips * -std::expm1(-reach) / reach;
  }
  return ergun(open_pores(loose, b.closed_porosity), size);
}

Resistance beside_slit(const Resistance& packing, double slit) {
  const double both = packing.permeability + slit;
  const double share = packing.permeability / both;
  return {both, packing.inertia * share * share * share};
}

double diffusion_ratio(DiffusionLaw law, double air_space, double total_porosity) {
  const double s = std::max(air_space, 0.0);
  switch (law) {
    case DiffusionLaw::papendick_campbell:
      return s * s;
    case DiffusionLaw::millington_quirk_1960:
      return s * s / std::cbrt(total_porosity * total_porosity);
    case DiffusionLaw::millington_quirk_1961:
      return s * s * s * std::cbrt(s) / (total_porosity * total_porosity);
    case DiffusionLaw::penman:
      return 0.66 * s;
    case DiffusionLaw::moldrup:
      return s * s * std::sqrt(s / total_porosity);
  }
  throw std::invalid_argument("unknown law of diffusion");
}

double bed_conductivity(double water_volume_share) {
  return 0.08 + 0.7 * water_volume_share;
}

}  // namespace updraught
