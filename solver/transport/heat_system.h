// The linear system of one Newton step for heat: cells, the air through their openings, films and patches,
// and the spaces beside the bed (theory 6.1, 9.3).
#pragma once

#include "solver/scratch/transport_work.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// What conducts heat and vapour between cells at the present iterate: work.spreading (W/K), work.vapour_flow
/// (mol/s).
void conduction_faces(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work);

/// The system at the present iterate, with nodes and surfaces in balance there: work.matrix and work.rhs (W);
/// work.correction holds the enthalpy flux through the faces after it.
void heat_system(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work);

/// Heat that leaves a cell with the water that drains from it, less what comes from above (W).
double trickle(const Frame& frame, const Trial& trial, const Grid& grid, int cell);

/// Heat made in a cell (W), with what metabolic water brings and lost dry mass takes.
double heat_source(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t cell);

}  // namespace updraught
