// From recipes as written to batches of masses; the woodchip share that is asked for.
#include <algorithm>

#include "cases/reader/draft.h"

namespace updraught {

namespace {

struct LooseVolumes {
  double chips = 0.0;  ///< m3
  double soft = 0.0;   ///< m3
};

LooseVolumes loose_volumes(const DraftBatch& batch) {
  LooseVolumes sum;
  for (const DraftPortion& portion : batch.portions)
    (portion.feedstock.chips ? sum.chips : sum.soft) += portion.loose_volume();
  return sum;
}

void scale(DraftBatch& batch, bool chips, double factor) {
  for (DraftPortion& portion : batch.portions) {
    if (portion.feedstock.chips != chips) continue;
    portion.volume *= factor;
    portion.mass *= factor;
  }
}

std::optional<DraftPortion> library_chips(const Draft& draft) {
  const LibraryEntry* entry = draft.library.find("woodchip, coarse");
  if (entry == nullptr) return {};
  DraftPortion portion;
  portion.what = entry->name;
  portion.feedstock = entry->feedstock;
  portion.activity = entry->activity;
  return portion;
}

/// Chips over all buckets become `share`; the soft matter keeps its amounts.
void mix_in_chips(DraftBatch& batch, double share, const Draft& draft) {
  LooseVolumes now = loose_volumes(batch);
  if (now.soft <= 0.0) return;
  if (now.chips <= 0.0 && share > 0.0) {
    std::erase_if(batch.portions, [](const DraftPortion& portion) { return portion.feedstock.chips; });
    auto chips = library_chips(draft);
    if (!chips) return;
    chips->volume = now.chips = now.soft;
    batch.portions.push_back(*chips);
  }
  if (share >= 1.0) {
    scale(batch, false, 0.0);
    return;
  }
  if (now.chips > 0.0) scale(batch, true, share / (1.0 - share) * now.soft / now.chips);
}

Batch batch_of(const DraftBatch& draft) {
  Batch batch;
  batch.name = draft.name;
  batch.depth = draft.depth.value_or(0.0);
  double mass = 0.0;
  double active = 0.0;
  for (const DraftPortion& portion : draft.portions) {
    const double kilograms = portion.wet_mass();
    batch.portions.push_back({portion.feedstock, kilograms});
    mass += kilograms;
    active += kilograms * portion.activity;
  }
  batch.activity = draft.activity.value_or(mass > 0.0 ? active / mass : batch.activity);
  return batch;
}

}  // namespace

void fill_problem(const Table& top, Draft& draft) {
  Problem& problem = draft.problem;
  if (draft.depth && !draft.batches.empty()) draft.batches.front().depth = draft.depth;
  if (draft.woodchip_share) {
    const bool only_chips = std::none_of(draft.batches.begin(), draft.batches.end(),
                                         [](const DraftBatch& b) { return loose_volumes(b).soft > 0.0; });
    if (only_chips && !draft.batches.empty() && top.desk().mistakes.empty())
      top.wrong("woodchip_share",
                "There is nothing but woodchip in the recipe, so its share cannot be changed.",
                "Add what is to be composted, such as { what = \"vegetable scraps (raw)\", buckets = 3 }.");
    for (DraftBatch& batch : draft.batches) mix_in_chips(batch, *draft.woodchip_share, draft);
  }
  for (const DraftBatch& batch : draft.batches) problem.batches.push_back(batch_of(batch));
  problem.depth = asked_depth(draft);
}

}  // namespace updraught
