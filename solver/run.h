// The door of the solver: one question in, one result out.
#pragma once

#include "solver/output/snapshot.h"
#include "solver/problem/cannot_compute.h"
#include "solver/problem/problem.h"

namespace updraught {

/// Whether of a bed whose halves mirror each other one is computed and handed on as the whole (theory 10.6).
enum class Halves { where_mirrored, never };

/// Computes a problem from its start to its end. Throws CannotCompute when the problem is contradictory or
/// the step size falls below what makes sense; std::invalid_argument for arguments outside their range.
RunResult run(const Problem& problem, const Observer& observer = {}, Halves halves = Halves::where_mirrored);

}  // namespace updraught
