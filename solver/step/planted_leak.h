// A leak planted on purpose: something leaves the bed and is not booked. Tests plant it to see that the
// balances tell it; no case file can.
#pragma once

#include "solver/bed/bed.h"
#include "solver/state/state.h"

namespace updraught {

/// Takes from all cells of the state at the end of a step the planted share of what came in and was made in
/// that step. Does nothing without a planted leak. Throws nothing.
void let_leak(const Bed& bed, State& next);

}  // namespace updraught
