// Step size, rejection and the end of a run (theory 9.6).
#pragma once

#include "solver/balances.h"
#include "solver/step.h"

namespace updraught {

/// Length of the first step (s).
double first_step(const Problem& problem);

/// An accepted step.
struct MarchStep {
  double flow_residual = 0.0;
  bool settled = false;  ///< nothing changes any more
};

/// Takes one step that is accepted, halving it as often as needed; writes `next` and the length wished for
/// after it, and hands the last increments from `state` on to `next`. Throws CannotCompute when the length
/// falls below a second.
MarchStep take_step(Bed& bed, State& state, double end, StepWork& work, State& next, RunResult& result);

/// Primary fields summed up.
Inventory inventory(const Bed& bed, const State& state);

/// Relative errors of the five balances between two inventories and the booked sums; the denominator is
/// absolute inflow plus production (balance_error).
void close_balances(const Bed& bed, const Inventory& before, const Inventory& after, const State& state,
                    Balances& out);

}  // namespace updraught
