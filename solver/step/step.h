// THE LIST: the order of one time step by name (theory 9.2).
#pragma once

#include "solver/step/laps.h"
#include "solver/step/step_error.h"
#include "solver/step/step_work.h"

namespace updraught {

/// What a step did.
struct StepOutcome {
  const char* failed = nullptr;  ///< why it cannot be taken, in words; null: it can
  int passes = 0;
  StepError error;
  StepChange change;
  double flow_residual = 0.0;
  double heat_mismatch = 0.0;  ///< temperature recovered from enthalpy less the one solved for, largest (K)
};

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
