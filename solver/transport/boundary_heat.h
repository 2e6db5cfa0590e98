// Boundaries that exchange heat: walls by layers, ground, free surfaces that also evaporate (theory 6.6
// to 6.8).
#pragma once

#include <vector>

#include "solver/air/air_paths.h"
#include "solver/bed/bed.h"
#include "solver/bed/properties.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// Convective part of a surface's film (W/(m2 K)), EN ISO 6946: upward, horizontal, downward heat flow.
inline constexpr double film_up = 5.0;
inline constexpr double film_level = 2.5;
inline constexpr double film_down = 0.7;
/// Radiative part (W/(m2 K)): 0.9 x 5.7, EN ISO 6946 at 20 degC.
inline constexpr double film_radiation = 5.13;
/// Surface resistances of EN ISO 6946 (m2 K/W): inside up, horizontal, down.
inline constexpr double resistance_up = 0.10;
inline constexpr double resistance_level = 0.13;
inline constexpr double resistance_down = 0.17;

/// Film outside at a wind speed (m/s) in W/(m2 K): 4 + 4 v and radiation (EN ISO 6946, annex C). Its usual
/// 0.04 m2 K/W is that of 4 m/s.
constexpr double film_in_wind(double wind) {
  return 4.0 + 4.0 * wind + film_radiation;
}

/// Heat and vapour that leave a wet surface by the film law: vapour flux = h_c/(rho c_p) (rho_v,surface -
/// rho_v,air).
struct SurfaceFlux {
  double heat = 0.0;         ///< sensible and latent (W/m2)
  double evaporation = 0.0;  ///< kg/(m2 s), negative: condensation
  double slope = 0.0;        ///< d(heat)/d(temperature below the surface) (W/(m2 K))
  double surface = 0.0;      ///< temperature of the surface (degC)
  double wet = 0.0;          ///< vapour density at the surface (kg/m3)
  bool found = false;        ///< whether that balances conduction from below with what leaves
};

/// Air beside a surface.
struct AirBeside {
  double temperature = 0.0;   ///< degC
  double vapour_ratio = 0.0;  ///< mol/mol dry
};

/// Film law with the bed's own resistance between the cell's middle and its surface (m2 K/W). `convection`
/// and the radiative part in W/(m2 K). `guess` is a first guess of the surface's temperature (degC).
SurfaceFlux surface_flux(const Gas& gas, double temperature, double activity, double bed_resistance,
                         const AirBeside& air, double convection, double guess);

/// All conducting patches for the present layers; surfaces with a film law are connections (openings.h)
/// instead.
std::vector<ConductingPatch> conducting_patches(const Bed& bed, const Properties& now,
                                                const std::vector<AirPath>& paths, double outside);

/// Whether a connection on the bed's surface exchanges heat by the film law of a free surface: towards a node
/// always, towards the outside unless the boundary there says otherwise.
bool film_law(const Bed& bed, const AirPath& path);

/// Lists the surfaces with a film law, once a step: trial.surfaces.
void prepare_surfaces(const Bed& bed, const Frame& frame, Trial& trial);

/// Surface temperatures for the present cells and nodes, and what crosses the films there.
void update_surfaces(const Bed& bed, const Frame& frame, Trial& trial);

/// Temperature outside at a time (degC).
double outside_temperature(const Surroundings& s, double time);

/// Air outside at a time (s).
OutsideAir outside_air(const Bed& bed, double time);

/// Loss of a node through lid or skirt: conductance (W/K) to the outside.
double node_conductance(const Bed& bed, int node);

}  // namespace updraught
