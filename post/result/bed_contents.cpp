#include "post/result/bed_contents.h"

namespace updraught {

Materials materials_in(const Problem& problem) {
  Materials out;
  for (const Batch& batch : problem.batches) {
    for (const Portion& portion : batch.portions) {
      if (portion.mass <= 0.0) continue;
      const Nature& nature = portion.feedstock.nature;
      out.any = true;
      out.food |= nature.food;
      out.cooked |= nature.cooked;
      out.manure |= nature.manure;
      out.weedkiller |= nature.weedkiller;
      out.sludge |= nature.sludge;
    }
  }
  return out;
}

}  // namespace updraught
