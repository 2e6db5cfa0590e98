// From recipes as written to batches of masses; the woodchip share that is asked for.
#include <algorithm>

#include "cases/reader/parts/parsed_case.h"

namespace updraught {

namespace {

struct LooseVolumes {
  double chips = 0.0;  ///< m3
  double soft = 0.0;   ///< m3
};

LooseVolumes loose_volumes(const ParsedBatch& batch) {
  LooseVolumes sum;
  for (const ParsedPortion& portion : batch.portions)
    (portion.feedstock.chips ? sum.chips : sum.soft) += portion.loose_volume();
  return sum;
}

void scale(ParsedBatch& batch, bool chips, double factor) {
  for (ParsedPortion& portion : batch.portions) {
    if (portion.feedstock.chips != chips) continue;
    portion.volume *= factor;
    portion.mass *= factor;
  }
}

std::optional<ParsedPortion> library_chips(const ParsedCase& parsed_case) {
  const LibraryEntry* entry = parsed_case.library.find("woodchip, coarse");
  if (entry == nullptr) return {};
  ParsedPortion portion;
  portion.what = entry->name;
  portion.feedstock = entry->feedstock;
  portion.activity = entry->activity;
  portion.heat_loving_activity = entry->heat_loving_activity;
  return portion;
}

/// Chips over all buckets become `share`; the soft matter keeps its amounts.
void mix_in_chips(ParsedBatch& batch, double share, const ParsedCase& parsed_case) {
  LooseVolumes now = loose_volumes(batch);
  if (now.soft <= 0.0) return;
  if (now.chips <= 0.0 && share > 0.0) {
    std::erase_if(batch.portions, [](const ParsedPortion& portion) { return portion.feedstock.chips; });
    auto chips = library_chips(parsed_case);
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

/// What a kilogram can take up when fresh, in no unit of use: microbes count by what they live on, so that
/// the bed breathes at the start as its parts do.
double fresh_uptake(const Feedstock& f) {
  double uptake = 0.0;
  for (const Pool& pool : f.pools) uptake += pool.share * pool.rate * pool.demand;
  return uptake * f.volatile_solids * (1.0 - f.moisture);
}

Batch batch_of(const ParsedBatch& parsed_case) {
  Batch batch;
  batch.name = parsed_case.name;
  batch.depth = parsed_case.depth.value_or(0.0);
  double weights = 0.0;
  double active = 0.0;
  double heat_loving = 0.0;
  for (const ParsedPortion& portion : parsed_case.portions) {
    batch.portions.push_back({portion.feedstock, portion.wet_mass()});
    const double weight = portion.wet_mass() * fresh_uptake(portion.feedstock);
    weights += weight;
    active += weight * portion.activity;
    heat_loving += weight * portion.heat_loving_activity;
  }
  if (weights > 0.0) batch.activity = active / weights;
  if (weights > 0.0) batch.heat_loving_activity = heat_loving / weights;
  if (parsed_case.activity) batch.activity = batch.heat_loving_activity = *parsed_case.activity;
  return batch;
}

/// By time; what goes on top on a day on which the bed is turned goes on first, and is mixed in.
bool comes_before(const Event& a, const Event& b) {
  if (a.time != b.time) return a.time < b.time;
  return a.kind != Event::Kind::turn && b.kind == Event::Kind::turn;
}

/// What goes on top later, and the events that say when.
void fill_up(ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  const Initial& start = problem.initial;
  const double as_the_filling =
      start.kind == Initial::Kind::uniform ? start.temperature : problem.outside.temperature;
  for (const ParsedRefill& refill : parsed_case.refills) {
    const int place = static_cast<int>(problem.refills.size());
    problem.refills.push_back(batch_of(refill.batch));
    for (const double time : refill.times)
      problem.events.push_back({Event::Kind::fill, time, place, refill.temperature.value_or(as_the_filling)});
  }
  std::stable_sort(problem.events.begin(), problem.events.end(), comes_before);
}

}  // namespace

void fill_problem(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  if (parsed_case.depth && !parsed_case.batches.empty())
    parsed_case.batches.front().depth = parsed_case.depth;
  if (parsed_case.woodchip_share) {
    const bool only_chips = std::none_of(parsed_case.batches.begin(), parsed_case.batches.end(),
                                         [](const ParsedBatch& b) { return loose_volumes(b).soft > 0.0; });
    if (only_chips && !parsed_case.batches.empty() && top.diagnostics().mistakes.empty())
      top.report("woodchip_share",
                 "There is nothing but woodchip in the recipe, so its share cannot be changed.",
                 "Add what is to be composted, such as { what = \"vegetable scraps (raw)\", buckets = 3 }.");
    for (ParsedBatch& batch : parsed_case.batches)
      mix_in_chips(batch, *parsed_case.woodchip_share, parsed_case);
    for (ParsedRefill& refill : parsed_case.refills)
      mix_in_chips(refill.batch, *parsed_case.woodchip_share, parsed_case);
  }
  for (const ParsedBatch& batch : parsed_case.batches) problem.batches.push_back(batch_of(batch));
  fill_up(parsed_case);
  problem.depth = asked_depth(parsed_case);
}

double asked_depth(const ParsedCase& parsed_case) {
  if (parsed_case.depth) return *parsed_case.depth;
  if (parsed_case.batches.empty()) return parsed_case.problem.bin.height;
  double sum = 0.0;
  for (const ParsedBatch& batch : parsed_case.batches) {
    if (!batch.depth) return 0.0;
    sum += *batch.depth;
  }
  return sum;
}

}  // namespace updraught
