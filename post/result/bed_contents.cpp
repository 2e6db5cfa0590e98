#include "post/result/bed_contents.h"

namespace updraught {

namespace {

void add(const Batch& batch, Materials& out) {
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

}  // namespace

Materials materials_in(const Problem& problem) {
  Materials out;
  for (const auto* batches : {&problem.batches, &problem.refills})
    for (const Batch& batch : *batches) add(batch, out);
  return out;
}

}  // namespace updraught
