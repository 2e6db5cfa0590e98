// THE LIST: the order of one time step by name (theory 9.2).
#pragma once

#include <map>
#include <string>

#include "solver/scratch/workspace.h"
#include "solver/step/step_error.h"

namespace updraught {

/// What a step did.
struct StepOutcome {
  const char* failed = nullptr;  ///< why it cannot be taken, in words; null: it can
  int passes = 0;
  StepError error;
  StepChange change;
  double flow_residual = 0.0;
};

/// Seconds spent by phase: "settle", "flow", "heat", "gases", "microbes", "finish".
using Phases = std::map<std::string, double>;

/// Gas of cells and nodes at the start: outside air at the bed's temperature, saturated by the bed's water.
void fill_with_air(const Bed& bed, const Properties& now, State& state);

/// One step of length dt from `old` to `next`, which gets its last increments when the step is accepted
/// (State::take_increments). `old` is untouched; the bed's grid follows `next`, so a caller
/// that rejects the step sets the layers back to old.thickness.
StepOutcome advance(Bed& bed, const State& old, double dt, StepWork& work, State& next, Phases& seconds);

}  // namespace updraught
