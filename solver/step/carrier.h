// The balance of dry gas, which the flow must close (theory 5.1, 9.2).
#pragma once

#include "solver/scratch/workspace.h"

namespace updraught {

/// Flow of the present iterate, and the dry gas of cells and nodes at the end of the step that follows from
/// it (w.flow, w.dry_gas). `first` pass of a step: openings start from the last pressures.
void solve_air(const Bed& bed, const State& old, bool first, StepWork& w);

/// Dry gas of cells and nodes at the end of the step, exactly by the fluxes: w.dry_gas.
void move_carrier(const Bed& bed, const State& old, StepWork& w);

}  // namespace updraught
