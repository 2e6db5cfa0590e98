// What is done to a bed by hand between two steps (theory 9.9).
#pragma once

#include "solver/bed/bed.h"

namespace updraught {

/// The bed after an event at its present time; what the air takes along and brings is booked, so that the
/// balances of a run stay closed. The next step starts anew (Clock::since_event). A bed without matter, whose
/// properties are all prescribed, can neither be turned nor filled up (std::invalid_argument). Throws
/// CannotCompute where no temperature holds the warmth of what is mixed.
Laid after_event(const Event& event, const Laid& before);

/// When a run that stands at a time (s) stops next: at its next event, else at its end (s).
double next_stop(const Problem& problem, double time);

/// The events that fall due at a time (s) at which a step ended, in their order.
std::vector<Event> due_at(const Problem& problem, double time);

}  // namespace updraught
