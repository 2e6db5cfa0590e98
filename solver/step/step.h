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

/// The bed and its state after a step, and what it did.
struct Advanced {
  Bed bed;
  State next;
  StepOutcome outcome;
};

/// One step of length dt from `old`, the state of `bed`; neither is touched. `next` gets its last increments
/// when the step is accepted (State::take_increments), and is not whole where the step failed.
[[nodiscard]] Advanced advance(const Bed& bed, const State& old, double dt, StepWork& work, Phases& seconds);

}  // namespace updraught
