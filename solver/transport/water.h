// Water of the bed: vapour that moves, free water that trickles, solids that dry (theory 6.3 to 6.5).
#pragma once

#include <vector>

#include "solver/scratch/transport_work.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// Water that leaves each cell through its faces, by trickling, and (negative) as metabolic water (kg/s): at
/// the present iterate, and along its slopes for cells that get `warmer` (K; empty: none).
void water_of_cells(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work,
                    const std::vector<double>& warmer, std::vector<double>& leaving);

/// Water at the end of the step for the present iterate, with which the enthalpy of the next pass counts;
/// where solids dry, their water activity follows.
void update_water(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work);

/// Water that lies free in the pores trickles down with a time constant (6 h, our choice), as far as the
/// pores below take it: how much at the end of the step, by the matter foreseen for it; sets frame.drained
/// (kg/s).
void drain(const Bed& bed, const State& foreseen, Frame& frame);

/// Water that trickles into a cell from the one above (kg/s).
double drained_into(const Frame& frame, const Grid& grid, int cell);

}  // namespace updraught
