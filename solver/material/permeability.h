// How easily air passes and gas diffuses through a packed bed (theory 3.1 to 3.7).
#pragma once

#include "solver/material/mixture.h"

namespace updraught {

/// Darcy permeability and inertial (Forchheimer) coefficient: grad p = mu/k u + rho inertia u^2.
struct Resistance {
  double permeability = 0.0;  ///< k (m2)
  double inertia = 0.0;       ///< (1/m)
};

/// Ergun (1952): k = d^2 e^3/(150 (1-e)^2), inertia 1.75 (1-e)/(d e^3). e open pores, d size (m).
Resistance ergun(double porosity, double size);

/// Resistance of matter packed with `between` (air between pieces): Ergun with the closed part taken off in
/// numerator and denominator, and the surface-mean Ergun size over particle volume, growing with moisture as
/// fines clump.
Resistance bed_resistance(const Blend& blend, const Matter& matter, double between);

/// Looser packing next to a wall over the width w (m): mean porosity (Hunt and Tien 1988 form, exp(-6 y/d), d
/// the piece size), which only chips that carry the load can keep. Returns the resistance along the wall.
Resistance wall_resistance(const Blend& blend, const Matter& matter, double between, double chip_carried,
                           double width);

/// What a packing and a slit beside it resist together, the slit's permeability spread over the width of the
/// packing (m2). A slit this narrow is laminar, so inertia slows the packing's share of the air alone: the
/// cube of that share is exact to first order in inertia; where it rules, the slit's part is told too small.
Resistance beside_slit(const Resistance& packing, double slit);

/// Ratio of effective to free-gas diffusivity at total free air space S.
enum class DiffusionLaw { papendick_campbell, millington_quirk_1960, millington_quirk_1961, penman, moldrup };
double diffusion_ratio(DiffusionLaw law, double air_space, double total_porosity);

/// Thermal conductivity 0.08 + 0.7 x volumetric water (W/(m K)); our choice within published ranges, +-35 %.
double bed_conductivity(double water_volume_share);

}  // namespace updraught
