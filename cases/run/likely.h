// What is likely of a computed case: its plausible beds and, where it wants air, the same case with more
// chips.
#pragma once

#include <string>

#include "cases/run/compute.h"
#include "cases/run/plausible_beds.h"

namespace updraught {

/// Adds to the result what its plausible beds tell: low and high of the key figures, the beds tried, and what
/// more chips would do. What is likely is worth a message when it cannot be had, not the loss of the result:
/// returns what could not be done as a sentence, empty when all was.
std::string add_likely(Computation& computation, const SampleOptions& wanted, const CommonOptions& common,
                       Progress& progress);

}  // namespace updraught
