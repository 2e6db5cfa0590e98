// Hours that cells spend hot or without air (theory 8.5).
#pragma once

#include "solver/bed/bed.h"

namespace updraught {

/// Adds the hours of a step of length dt (s) from `old` to `next`, straight lines between them.
void count_hours(const Bed& bed, const State& old, double dt, State& next);

}  // namespace updraught
