// Step size, rejection and the end of a run (theory 9.6).
#pragma once

#include <string>

#include "solver/balance/balances.h"
#include "solver/output/snapshot.h"
#include "solver/step/step.h"

namespace updraught {

/// Length of the first step (s).
double first_step(const Problem& problem);

/// What came of a step.
struct MarchStep {
  Advanced after;      ///< the step that was taken
  std::string failed;  ///< why no step could be taken, however short; empty: one was
};

/// Takes the steps of a run, and keeps what they work in from one to the next.
class March {
 public:
  /// Takes one step that is accepted, halving it as often as needed, with the length wished for after it, and
  /// hands the last increments from `state` on. Where even the shortest step fails, `state` is as it was.
  [[nodiscard]] MarchStep take_step(const Bed& bed, State& state, double end, RunResult& result);

  /// Row of the series for the bed and state that the last step led to.
  SeriesRow row(const Bed& bed, const State& state);

  /// Gives back all memory that steps work in.
  void give_back() { work_ = StepWork(); }

 private:
  StepWork work_;
};

/// Whether a step of a length (s) changed nothing that anyone would see in a day.
bool nothing_changes(const StepOutcome& step, double length);

/// Primary fields summed up.
Inventory inventory(const Bed& bed, const State& state);

/// Relative errors of the five balances between two inventories and the booked sums; the denominator is
/// absolute inflow plus production (balance_error).
void close_balances(const Bed& bed, const Inventory& before, const Inventory& after, const State& state,
                    Balances& out);

}  // namespace updraught
