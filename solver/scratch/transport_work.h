// Memory that the phases of a step work in, and give back to each other. Nothing here is read by any phase
// but the one that wrote it.
#pragma once

#include <vector>

#include "solver/air/faces.h"
#include "solver/air/flow.h"
#include "solver/air/sub_grid_resistance.h"
#include "solver/linear/operator.h"

namespace updraught {

/// Of the transport of one scalar at a time: oxygen, carbon dioxide, or heat and the water that it moves.
struct TransportWork {
  TransportOperator matrix;
  Faces correction;   ///< second-order part of the fluxes, then the fluxes themselves
  Faces spreading;    ///< diffusion of the gas, or conduction of heat
  Faces vapour_flow;  ///< diffusion of vapour, with heat and water
  std::vector<double> rhs, scratch;
  std::vector<double> start;   ///< gases: the shares that face values were taken from
  std::vector<double> change;  ///< heat: the Newton step (K)
};

/// Of the flow of air.
struct AirWork {
  StorageRate storage;
  ResistanceCache resistances;  ///< of openings, from step to step
};

/// Gives back the operator of the last transport solve and the coefficients of its faces.
void give_back_operators(TransportWork& work);
/// Gives back all that transport needs between two of its solves, so that the flow solve gets that memory.
void give_back(TransportWork& work);

}  // namespace updraught
