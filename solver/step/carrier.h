// The balance of dry gas, which the flow must close (theory 5.1, 9.2).
#pragma once

#include "solver/linear/kernels/solver_memory.h"
#include "solver/scratch/books.h"
#include "solver/scratch/transport_work.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// Flow of the present iterate, and the dry gas of cells and nodes at the end of the step that follows from
/// it (trial.flow, trial.dry_gas). `first` pass of a step: openings start from the last pressures.
void solve_air(const Bed& bed, const State& old, bool first, const Frame& frame, Trial& trial, Books& books,
               TransportWork& work, AirWork& air, SolverMemory& memory);

/// Dry gas of cells and nodes at the end of the step, exactly by the fluxes: trial.dry_gas.
void move_carrier(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work);

/// The flow goes over to the next state, which needs its memory no longer twice.
void keep_flow(const Bed& bed, const Frame& frame, Trial& trial, State& next);

/// Gas of cells and nodes at the start: outside air at the bed's temperature, saturated by the bed's water.
void fill_with_air(const Bed& bed, const Properties& now, State& state);

}  // namespace updraught
