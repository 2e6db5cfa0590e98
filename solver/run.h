// The door of the solver: one question in, one result out.
#pragma once

#include "solver/output/snapshot.h"
#include "solver/problem/cannot_compute.h"
#include "solver/problem/problem.h"

namespace updraught {

/// Computes a problem from its start to its end. Throws CannotCompute when the problem is contradictory or
/// the step size falls below what makes sense; std::invalid_argument for arguments outside their range.
RunResult run(const Problem& problem, const Observer& observer = {});

}  // namespace updraught
