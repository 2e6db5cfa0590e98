// Layers joined with their neighbours to make room for new ones on top (theory 9.10). The number of layers
// stays, and with it the length of every field.
#pragma once

#include <vector>

#include "solver/bed/bed.h"

namespace updraught {

/// For each of some layers, from the floor up, the place of the layer that it becomes part of when only
/// `left` of them are left (1 or more, at most as many as there are). Thin neighbours join first, layers of
/// one mixture before those of two; the lowest one, where the bed's floor is resolved, last.
std::vector<int> joined_layers(const std::vector<double>& thickness, const std::vector<int>& mixture,
                               int left);

/// The bed with its upmost `layers` empty and of no thickness, what was there joined below: amounts add up,
/// cells keep their warmth together, loads, ages and activities become means by mass, hours above 55 degC the
/// least and airless hours the most of what is joined. Where two mixtures meet in a layer the bed gets a
/// blend more. The next step starts anew (Clock::since_event). `layers` must be fewer than there are; there
/// must be blends (else std::invalid_argument). Throws CannotCompute where no temperature holds the warmth of
/// what is joined.
Laid with_room_on_top(const Laid& before, int layers);

/// The same bed without the blends that no cell holds any more, but for those of the problem's batches: a bed
/// that is filled up for years would gather them without end.
Laid with_present_mixtures(Laid bed);

}  // namespace updraught
