// Where air passes between the bed, the spaces beside it and the outside (theory 5.5, 5.6).
#pragma once

#include <optional>
#include <vector>

#include "solver/air/sub_grid_resistance.h"
#include "solver/bed/bed.h"
#include "solver/bed/properties.h"

namespace updraught {

/// One path for air. `inner` is a cell, or a node at index cells + n; `outer` is a node's index or -1 for the
/// outside. Flow is positive from inner to outer. Resistances: dp = mu (bed + plate) Q + rho quadratic Q |Q|.
struct AirPath {
  int inner = 0;
  int outer = -1;
  int opening = -1;        ///< index in Problem::openings; -1: the bed's own surface or a floor space's inlet
  int patch = -1;          ///< index in Grid::patches that a surface covers; -1: no surface of the bed
  double height = 0.0;     ///< of the opening above the bed's floor (m)
  double area = 0.0;       ///< free area (m2)
  double face = 0.0;       ///< area of the bed's surface that the connection stands for (m2); 0 for holes
  double bed = 0.0;        ///< resistance of the bed right behind it, per viscosity (1/m3)
  double plate = 0.0;      ///< laminar resistance of the opening itself, per viscosity (1/m3)
  double quadratic = 0.0;  ///< orifice and inertia of the bed, per density (1/m4)
  double upright = 0.0;    ///< height of an upright opening, which air can cross both ways (m); 0: none
  double counter = 0.0;    ///< resistance of the bed to air that turns round behind it, per viscosity (1/m3)
  double hole = 0.0;       ///< diameter of level holes in a lid, for exchange (m); 0: none
  double holes = 0.0;      ///< their number
  double diffusive_bed =
      0.0;  ///< resistance to diffusion of the bed behind it, per effective diffusivity (1/m)
  double diffusive_plate = 0.0;  ///< of the opening, per free diffusivity (1/m)
  bool diffuses = true;
  double imposed = 0.0;           ///< pressure at the outer end (Pa)
  double wind = 0.0;              ///< outside: wind pressure per density of the air there (m2/s2)
  std::optional<double> held_at;  ///< temperature of the bed's face (degC)

  /// The bed's own top, or its underside over a floor space: film law for heat.
  bool surface() const { return patch >= 0; }
};

/// All connections of a bed in a fixed order, for its present layers and properties. `known` saves work where
/// the same openings are connected again.
std::vector<AirPath> air_paths(const Bed& bed, const Properties& now, ResistanceCache& known);
std::vector<AirPath> air_paths(const Bed& bed, const Properties& now);

/// Whether a surface of the bed is its top; else it is its underside.
bool at_top(const Bed& bed, const AirPath& surface);

/// What an opening lets through at a pressure difference dp (Pa, inner over outer, at mid-height).
struct Passage {
  double net = 0.0;       ///< m3/s, inner to outer
  double slope = 0.0;     ///< d(net)/d(dp) (m3/(s Pa))
  double exchange = 0.0;  ///< m3/s both ways at once
};

/// Flow law of a connection. mu (Pa s) and rho (kg/m3) of the air that passes; `lift` is (rho outer - rho
/// inner) (kg/m3).
Passage passage(const AirPath& path, double dp, double viscosity, double density, double lift);

/// The pressure difference at which a connection lets a net flow (m3/s) through: the inverse of its law.
double drop_for(const AirPath& path, double net, double viscosity, double density, double lift);

/// Counterflow through a level hole between dense air above and light air below (m3/s); Epstein 1988, from
/// memory: 0.055 sqrt(g D^5 (difference/mean density)).
double level_exchange(double diameter, double density_difference, double mean_density);

}  // namespace updraught
