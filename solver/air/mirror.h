// Beds whose two halves mirror each other, of which one needs to be computed (theory 10.6).
#pragma once

#include "solver/problem/problem.h"

namespace updraught {

/// Whether the back half of a bed mirrors its front half: a whole box with an even number of columns, in
/// which walls, openings, wind and all that is prescribed are the same on both sides of the middle of its
/// length. Not textbook cases with air of constant properties, whose rolls may break what mirrors.
bool mirrors(const Problem& problem);

/// The problem of the front half of a bed that mirrors(). Extensive results are those of the whole bed, by
/// `plan_scale`.
Problem front_half(Problem problem);

}  // namespace updraught
