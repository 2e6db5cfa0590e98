// The door of the solver: one question in, one result out.
#pragma once

#include <stdexcept>
#include <string>

#include "solver/problem.h"
#include "solver/snapshot.h"

namespace updraught {

/// The case cannot be computed; `what()` says why in plain words.
struct CannotCompute : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Computes a problem from its start to its end. Throws CannotCompute when the problem is contradictory or
/// the step size falls below what makes sense; std::invalid_argument for arguments outside their range.
RunResult run(const Problem& problem, const Observer& observer = {});

}  // namespace updraught
