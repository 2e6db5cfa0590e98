// Heat and water of the bed: one flux, one evaporation (theory 6.1, 6.2, 9.3).
#pragma once

#include <vector>

#include "solver/linear/kernels/solver_memory.h"
#include "solver/scratch/books.h"
#include "solver/scratch/transport_work.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// One Newton pass for the temperature of the cells at the present flow (none where that is held); then the
/// nodes' temperature and vapour, and the water of the cells.
void solve_heat(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                TransportWork& work, SolverMemory& memory);

/// What leaves the cells, then the nodes, net.
struct Leaving {
  std::vector<double> heat;   ///< W
  std::vector<double> water;  ///< kg/s
};

/// The Newton pass whose fluxes are booked: what leaves each cell to its neighbours, and its metabolic water
/// (negative). Gives the memory of the transport operators back.
Leaving last_heat_pass(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                       TransportWork& work, SolverMemory& memory);

/// Moves water and enthalpy by the fluxes of the last pass and through the bed's surface, then recovers the
/// temperature that belongs to the enthalpy.
void apply_heat_and_water_fluxes(const Bed& bed, const State& old, Leaving leaving, const Frame& frame,
                                 Trial& trial, Books& books, TransportWork& work, State& next);

}  // namespace updraught
