// How much of the bin is open to air.
#pragma once

#include "solver/problem/problem.h"

namespace updraught {

/// Free area of an opening of the true bin, what is clogged left out (m2).
double free_area(const Opening& opening, const Problem& problem);

}  // namespace updraught
