// What a step books for the balances, and which of its solves failed.
#pragma once

#include <vector>

#include "solver/balance/balances.h"
#include "solver/linear/operator.h"
#include "solver/state/bdf2.h"
#include "solver/state/state.h"

namespace updraught {

struct Books {
  std::vector<double> rates;       ///< of this step, by Booked
  std::vector<double> path_heat;   ///< W that each connection carries with air and vapour
  double heat_mismatch = 0.0;      ///< temperature recovered less the one solved for, the largest (K)
  const char* unsolved = nullptr;  ///< the last solve of this pass that failed, in words; null: none
};

/// Takes down a linear solve that stopped short of its goal by more than what the step can bear; `what` is
/// what was solved for, in words.
void note_solve(const SolveReport& report, const char* what, Books& books);

/// Takes down unknowns that were solved for one by one and of which not all were found.
void note_found(bool found, const char* what, Books& books);

/// Adds the step's rates to the sums of `next`, by the time rule.
void book_step(const State& old, const Bdf2& rule, const Books& books, State& next);

/// Books heat that leaves the system (W, negative: enters) by a path.
void book_heat(Books& books, Booked path, double heat);

}  // namespace updraught
