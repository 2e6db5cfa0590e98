// The end of a time step as far as its passes have it (theory 9.2).
#pragma once

#include <vector>

#include "solver/air/flow.h"
#include "solver/scratch/frame.h"
#include "solver/scratch/uptake.h"

namespace updraught {

/// Film exchange of one surface connection, fixed once its surface temperature is known.
struct SurfaceState {
  std::size_t path = 0;      ///< index of the air path
  double convection = 0.0;   ///< W/(m2 K)
  double surface = 0.0;      ///< degC
  double wet = 0.0;          ///< vapour density at the surface (kg/m3)
  double heat = 0.0;         ///< W out of the cell
  double evaporation = 0.0;  ///< kg/s out of the cell
  double slope = 0.0;        ///< W/K
  bool found = true;         ///< whether its temperature was found
};

/// What the passes of a step move until it stands.
struct Trial {
  // cells, then nodes
  std::vector<double> temperature;     ///< degC
  std::vector<double> vapour_ratio;    ///< mol/mol dry
  std::vector<double> oxygen;          ///< mole fraction
  std::vector<double> carbon_dioxide;  ///< mole fraction
  std::vector<double> dry_gas;         ///< mol
  Flow flow;
  GasState gas;
  // cells
  std::vector<double> water;           ///< kg
  std::vector<double> activity;        ///< of the water
  std::vector<double> vapour_slope;    ///< of the vapour ratio (1/K)
  std::vector<double> enthalpy_slope;  ///< J/(mol K)
  std::vector<float> yielding;         ///< share of its vapour slope that a drying cell keeps (theory 9.3)
  Uptake uptake;
  std::vector<double> used;  ///< oxygen used (mol/s), as solved for
  // surfaces and nodes
  std::vector<SurfaceState> surfaces;
  std::vector<double> condensed;  ///< kg/s in each node
};

/// Matter that the oxygen used in a cell stands for (kg/s): metabolic water = VS + O2 - CO2 (theory 7.7), so
/// dry mass closes.
struct ConsumedMass {
  double dry = 0.0;
  double water = 0.0;
};
ConsumedMass consumed_mass(const Bed& bed, const Trial& trial, std::size_t cell);

/// Vapour ratio and enthalpy of the cells, with their slopes, for the present temperatures and activities. In
/// a drying cell the slope counts that warmer matter dries further and so holds its vapour back.
void refresh_vapour(const Bed& bed, Trial& trial);

/// Densities and viscosity of cells and nodes for the present pass.
void refresh_gas(const Bed& bed, const Frame& frame, Trial& trial);

}  // namespace updraught
