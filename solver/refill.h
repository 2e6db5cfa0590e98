// More goes on top of a bed (theory 9.10).
#pragma once

#include "solver/bed/bed.h"

namespace updraught {

/// The bed with a refill on top (an event of the kind `fill`, at the bed's present time): in layers of its
/// own, its pores full of outside air, at the event's temperature or at the one that the bed is held at. What
/// comes with it is booked (balances.h). The bed may stand above the bin's rim then: `stands_in_bin` tells.
/// Throws std::invalid_argument for a bed without matter or with a single layer, CannotCompute where no
/// temperature holds the warmth of layers that are joined to make room.
Laid refilled(const Event& event, const Laid& before);

/// Whether a bed ends below the rim of its bin.
bool stands_in_bin(const Bed& bed);

}  // namespace updraught
