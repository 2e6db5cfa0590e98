// Water poured on top of a bed (theory 9.11).
#pragma once

#include "solver/bed/bed.h"

namespace updraught {

/// The bed after water was poured evenly on its top (an event of the kind `water`): from the top down each
/// cell keeps what it can hold besides what it has, the rest runs on and out at the floor. What comes and
/// what runs out is booked (balances.h). The next step starts anew (Clock::since_event). Throws
/// std::invalid_argument for a bed without matter, CannotCompute where a watered cell has no temperature.
Laid watered(const Event& event, const Laid& before);

}  // namespace updraught
