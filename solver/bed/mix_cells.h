// Matter of several cells mixed into one, as by a fork: the cells' mixtures become one, from what each was
// laid as and what is left of it (theory 1.7, 2.6).
#pragma once

#include <vector>

#include "solver/bed/bed.h"

namespace updraught {

/// What was laid in the cells, as one recipe with each feedstock once (kg); there must be blends, all with
/// ash, which tells how much was laid (else std::invalid_argument).
std::vector<Portion> recipe_of(const Laid& bed, const std::vector<int>& cells);

/// Mixes the matter and the warmth of the given cells; each keeps its share of the wet mass, so that layers
/// weigh what they weighed. Gas and counted hours stay where they are. Layers that are mixed throughout
/// forget the largest load they carried. The next step starts anew (Clock::since_event). The bed gets its
/// blend more; there must be blends, and at least one open cell in the list (else std::invalid_argument).
/// Throws CannotCompute where no temperature holds the warmth of what is mixed.
Laid mix_cells(const Laid& before, const std::vector<int>& cells);

}  // namespace updraught
