#include "solver/step/carrier.h"

#include <algorithm>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

bool sealed(const StepWork& w) {
  return std::none_of(w.links.begin(), w.links.end(), [](const Connection& link) { return link.outer < 0; });
}

/// What the gas in each cell and node must take up or give off, as a rate.
void carrier_storage(const Bed& bed, const State& old, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const auto all = cells + bed.setup->nodes.size();
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  w.storage.resize(all);
  const bool first = old.last_dry_gas.empty();
  const auto target = [&](std::size_t c) {
    return w.gas.dry_density[c] *
           (c < cells ? w.now.volume[c] * w.now.free_air[c] : node_volume(bed, static_cast<int>(c - cells)));
  };
  for_items(all, [&](std::size_t c) {
    const double was = c < cells ? old.dry_gas[c] : old.node_dry_gas[c - cells];
    const double carried = first ? 0.0 : w.rule.carried * old.last_dry_gas[c];
    const double made = c < cells ? (quotient - 1.0) * w.used[c] : 0.0;
    w.storage[c] = (target(c) - was - carried) / w.rule.time - made;
  });
  if (!sealed(w)) return;
  // Nothing can leave: one pressure for all takes up the difference.
  const double wanted = ordered_sum(all, target);
  const double present =
      ordered_sum(all, [&](std::size_t c) { return target(c) - w.rule.time * w.storage[c]; });
  const double squeeze = present / wanted;
  for_items(all, [&](std::size_t c) { w.storage[c] += (squeeze - 1.0) * target(c) / w.rule.time; });
}

}  // namespace

void move_carrier(const Bed& bed, const State& old, StepWork& w) {
  const auto cells = at(bed.grid.cells());
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  divergence(bed.grid, w.flow.faces, w.scratch);
  w.scratch.resize(cells + bed.setup->nodes.size());
  std::fill(w.scratch.begin() + bed.grid.cells(), w.scratch.end(), 0.0);
  for (std::size_t n = 0; n < w.links.size(); ++n) {
    w.scratch[at(w.links[n].inner)] += w.flow.net[n];
    if (w.links[n].outer >= 0) w.scratch[at(w.links[n].outer)] -= w.flow.net[n];
  }
  const bool first = old.last_dry_gas.empty();
  for_items(w.dry_gas.size(), [&](std::size_t c) {
    const double was = c < cells ? old.dry_gas[c] : old.node_dry_gas[c - cells];
    const double made = c < cells ? (quotient - 1.0) * w.used[c] : 0.0;
    const double carried = first ? 0.0 : w.rule.carried * old.last_dry_gas[c];
    w.dry_gas[c] = was + carried + w.rule.time * (made - w.scratch[c]);
  });
}

void solve_air(const Bed& bed, const State& old, bool first, StepWork& w) {
  give_back_transport(w);
  refresh_gas(bed, w);
  carrier_storage(bed, old, w);
  const bool given = bed.setup->problem.freeze_flow || bed.setup->problem.prescribed.volume_flow;
  if (given)
    prescribe_flow(bed, w.gas, w.links, bed.setup->problem.prescribed.volume_flow.value_or(0.0), w.flow);
  else
    FlowEngine(w.solver_memory).solve(bed, w.now, w.gas, w.links, w.storage, first, w.flow);
  if (!given) note_solve(w.flow.solved, "the flow of air", w);
  give_back_flow(w);
  move_carrier(bed, old, w);
}

}  // namespace updraught
