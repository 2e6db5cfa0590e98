// Oxygen and carbon dioxide in the pore gas (theory 4.4, 5.10, 7.6).
#pragma once

#include "solver/linear/kernels/solver_memory.h"
#include "solver/scratch/books.h"
#include "solver/scratch/transport_work.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// One Newton pass for oxygen at the present flow: solves for trial.oxygen (cells and nodes) and sets
/// trial.used. Returns the largest change of the mole fraction in this pass. The `last` one of a step is
/// solved further.
double solve_oxygen(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                    TransportWork& work, SolverMemory& memory, bool last = false);

/// Solves for trial.carbon_dioxide with the oxygen used as its source.
void solve_carbon_dioxide(const Bed& bed, const State& old, const Frame& frame, Trial& trial, Books& books,
                          TransportWork& work, SolverMemory& memory);

/// Which gas a flux is of.
enum class GasKind { oxygen, carbon_dioxide };

/// Moves a gas by the solved values: new amounts of cells and nodes follow from fluxes and sources alone.
void apply_gas_fluxes(const Bed& bed, const State& old, GasKind kind, const Frame& frame, Trial& trial,
                      Books& books, TransportWork& work, State& next);

}  // namespace updraught
