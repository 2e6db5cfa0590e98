// What kinds of material are in a bed, as far as cautions and notes need to know. Told by the names of the
// feedstocks.
#pragma once

#include "solver/problem.h"

namespace updraught {

/// Kinds of material in all batches of a problem.
struct Materials {
  bool any = false;     ///< the bed is made of something (not prescribed)
  bool food = false;    ///< kitchen and food waste, raw or cooked
  bool cooked = false;  ///< cooked food, meat, fish, dairy
  bool manure = false;
  bool herbicide = false;  ///< manure, hay or straw, which may carry weedkiller
};

/// Looks through the batches.
Materials materials_in(const Problem& problem);

}  // namespace updraught
