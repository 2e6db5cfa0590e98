// What kinds of material are in a bed, as far as cautions and notes need to know: by what the feedstocks are,
// never by what they are called.
#pragma once

#include "solver/problem/problem.h"

namespace updraught {

/// Kinds of material in all that is filled in, at the start and later.
struct Materials {
  bool any = false;  ///< the bed is made of something (not prescribed)
  bool food = false;
  bool cooked = false;
  bool manure = false;
  bool weedkiller = false;
  bool sludge = false;
};

/// Looks through batches and refills.
Materials materials_in(const Problem& problem);

}  // namespace updraught
