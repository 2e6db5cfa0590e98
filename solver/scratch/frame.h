// What is fixed while one time step is worked out: the bed as it settles, and the ways through its boundary.
#pragma once

#include <vector>

#include "solver/air/air_paths.h"
#include "solver/bed/bed.h"
#include "solver/bed/properties.h"
#include "solver/state/bdf2.h"

namespace updraught {

/// Air outside at the end of the step.
struct OutsideAir {
  double temperature = 0.0;   ///< degC
  double vapour_ratio = 0.0;  ///< mol/mol dry
  double enthalpy = 0.0;      ///< J/mol dry
};

/// One patch of the boundary that conducts heat: flow out = conductance (T_cell - far) - flux_in.
struct ConductingPatch {
  int cell;
  Boundary boundary;
  double conductance;       ///< W/K
  double far;               ///< degC
  double flux_in;           ///< W into the bed
  Side side = Side::right;  ///< of a wall
};

/// Fixed once a step, before its passes.
struct Frame {
  Bdf2 rule;
  OutsideAir outside;
  Properties now;
  std::vector<AirPath> paths;
  std::vector<ConductingPatch> heat;
  std::vector<double> drained;  ///< water that trickles out of each cell (kg/s)
};

}  // namespace updraught
