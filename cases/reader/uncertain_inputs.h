// What of a case is known within ranges only, and what a case is laid over with to move it there
// (theory 8.4).
#pragma once

#include <vector>

#include "cases/text/overrides.h"
#include "solver/problem/problem.h"

namespace updraught {

/// How far the packing excess m of a mixture may lie from its middle; our choice within the range 0 to 0.6 of
/// m.
constexpr double packing_doubt = 0.1;

/// The value of an input that lies above this share (0..1) of its distribution.
double value_at(const UncertainInput& input, double share);

/// A point of the unit cube, one share for each input, as what a case is laid over with. Throws
/// std::invalid_argument when there are more or fewer shares than inputs.
Overrides sample(const std::vector<UncertainInput>& inputs, const std::vector<double>& point);

}  // namespace updraught
