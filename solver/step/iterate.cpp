#include "solver/step/iterate.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Passes end when temperatures move less than this (K), oxygen less than that (mole fraction), and the air
/// through the openings by less than this share of itself; what the openings let through is then their law's
/// to a hundredth.
constexpr PassMoves enough{0.15, 0.002, 0.01, 0.01};
/// In a step in which temperatures change little, passes end when they move less than this share of the
/// change, and at the latest below so many kelvins.
constexpr double share_of_change = 1.0 / 3.0;
constexpr double finest_temperature = 1e-4;
/// A step whose last pass moved more than this is not taken.
constexpr PassMoves too_much{0.3, 0.01, 0.1, 0.1};
/// Oxygen that moves less than this is not mixed: the mixing would only add its rounding to an even
/// composition.
constexpr double mixed_oxygen = 1e-7;
/// The coupled unknowns of the passes are scaled so that a kelvin counts as much as half a per cent of
/// oxygen.
constexpr double oxygen_scale = 200.0;
/// All nodes together count in the mixing as much as this share of the cells does: a node is one number, but
/// the draught of the whole bed hangs on it.
constexpr double node_share = 0.5;

/// Air that would renew less than this share of all gas in the step does not count among the openings' flows.
constexpr double least_renewal = 0.01;

/// Weight of an unknown of the mixing; unknowns count cells, then nodes.
struct Scales {
  double cell = 1.0;
  double node = 1.0;
  std::size_t cells = 0;
  double operator()(std::size_t unknown) const { return unknown < cells ? cell : node; }
};

Scales scales(const Bed& bed) {
  const auto cells = at(bed.grid.cells());
  const double nodes = std::max<double>(1.0, static_cast<double>(bed.setup->nodes.size()));
  return {1.0, std::max(1.0, std::sqrt(node_share * bed.grid.open_cells() / nodes)), cells};
}

void gather(const Bed& bed, const Trial& trial, std::vector<double>& out) {
  const auto all = at(bed.grid.cells()) + bed.setup->nodes.size();
  const Scales scale = scales(bed);
  out.resize(2 * all);
  for_items(all, [&](std::size_t c) {
    out[c] = scale(c) * trial.temperature[c];
    out[all + c] = scale(c) * oxygen_scale * trial.oxygen[c];
  });
}

bool within(const PassMoves& moves, const PassMoves& limit) {
  return moves.temperature < limit.temperature && moves.oxygen < limit.oxygen && moves.air < limit.air &&
         moves.law < limit.law;
}

}  // namespace

Shares predicted(const State& old, double ratio, std::size_t unknown) {
  const auto cells = old.temperature.size();
  const bool cell = unknown < cells;
  const std::size_t n = cell ? unknown : unknown - cells;
  const double gas = (cell ? old.dry_gas : old.node_dry_gas)[n];
  const double gas_before = ratio > 0.0 ? gas - old.last_dry_gas[unknown] : gas;
  const auto share = [&](double amount, const std::vector<double>& last) {
    if (ratio <= 0.0) return amount / gas;
    const double change = amount / gas - (amount - last[unknown]) / gas_before;
    return std::max(amount / gas + ratio * change, 0.0);
  };
  return {share((cell ? old.oxygen : old.node_oxygen)[n], old.last_oxygen),
          share((cell ? old.carbon_dioxide : old.node_carbon_dioxide)[n], old.last_carbon_dioxide)};
}

void first_guess(const Bed& bed, const State& old, double ratio, const Frame& frame, Trial& trial) {
  const auto cells = at(bed.grid.cells());
  const auto nodes = bed.setup->nodes.size();
  for (auto* field : {&trial.temperature, &trial.vapour_ratio, &trial.oxygen, &trial.carbon_dioxide,
                      &trial.dry_gas, &trial.flow.pressure})
    field->resize(cells + nodes);
  for_items(cells, [&](std::size_t c) {
    trial.temperature[c] = old.temperature[c] + ratio * old.last_temperature[c];
    trial.dry_gas[c] = old.dry_gas[c];
    trial.flow.pressure[c] = old.pressure[c];
  });
  for (std::size_t n = 0; n < nodes; ++n) {
    trial.temperature[cells + n] = old.node_temperature[n];
    trial.vapour_ratio[cells + n] = old.node_vapour[n] / (old.node_dry_gas[n] * molar_water);
    trial.dry_gas[cells + n] = old.node_dry_gas[n];
    trial.flow.pressure[cells + n] = old.node_pressure[n];
  }
  for_items(cells + nodes, [&](std::size_t c) {
    const Shares shares = predicted(old, ratio, c);
    trial.oxygen[c] = shares.oxygen;
    trial.carbon_dioxide[c] = shares.carbon_dioxide;
  });
  trial.flow.faces.x = old.flux_x;
  trial.flow.faces.y = old.flux_y;
  trial.flow.faces.z = old.flux_z;
  trial.water = old.water;
  trial.activity = frame.now.activity;
  trial.yielding.assign(cells, 1.0F);
  trial.used.assign(cells, 0.0);
  trial.condensed.assign(nodes, 0.0);
}

int most_passes(const State& old) {
  return old.clock.steps < 1.0 ? 12 : 8;
}

void begin_pass(const Bed& bed, Trial& trial, Mixing& mixing) {
  gather(bed, trial, mixing.image);
  mixing.anderson.begin(mixing.image);
  std::vector<double>().swap(mixing.image);
}

PassMoves moves_of_pass(const Bed& bed, const Frame& frame, const Trial& trial, const Mixing& mixing,
                        OpeningWatch& watch) {
  const auto all = at(bed.grid.cells()) + bed.setup->nodes.size();
  const std::vector<float>& start = mixing.anderson.start();
  const Scales scale = scales(bed);
  PassMoves moves;
  moves.temperature = largest_of(all, [&](std::size_t c) {
    return std::abs(trial.temperature[c] - static_cast<double>(start[c]) / scale(c));
  });
  moves.oxygen = largest_of(all, [&](std::size_t c) {
    return std::abs(trial.oxygen[c] - static_cast<double>(start[all + c]) / (scale(c) * oxygen_scale));
  });
  const double gas = ordered_sum(all, [&](std::size_t c) { return trial.dry_gas[c]; });
  moves.air = watch.change(frame, trial, least_renewal * gas / frame.rule.dt);
  moves.law = trial.flow.change;
  return moves;
}

void next_iterate(const Bed& bed, const State& old, double ratio, const PassMoves& moves, Trial& trial,
                  Mixing& mixing) {
  const auto all = at(bed.grid.cells()) + bed.setup->nodes.size();
  const double quotient = bed.setup->problem.microbes.respiratory_quotient;
  const Scales scale = scales(bed);
  gather(bed, trial, mixing.image);
  mixing.anderson.mix(mixing.image);
  const bool mixed = moves.oxygen > mixed_oxygen;
  for_items(all, [&](std::size_t c) {
    trial.temperature[c] = mixing.image[c] / scale(c);
    if (mixed) trial.oxygen[c] = std::max(mixing.image[all + c] / (scale(c) * oxygen_scale), 0.0);
    const Shares shares = predicted(old, ratio, c);
    trial.carbon_dioxide[c] =
        std::max(shares.carbon_dioxide + quotient * (shares.oxygen - trial.oxygen[c]), 0.0);
  });
  refresh_vapour(bed, trial);
}

double OpeningWatch::change(const Frame& frame, const Trial& trial, double least) {
  const bool first = net_.size() != frame.paths.size();
  double moved = 0.0, passing = least;
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const bool leads_out = frame.paths[n].outer < 0;
    if (!leads_out) continue;
    passing += std::abs(trial.flow.net[n]) + trial.flow.exchange[n];
    if (!first)
      moved += std::abs(trial.flow.net[n] - net_[n]) + std::abs(trial.flow.exchange[n] - exchange_[n]);
  }
  net_ = trial.flow.net;
  exchange_ = trial.flow.exchange;
  return first && !net_.empty() ? 1.0 : moved / passing;
}

double change_so_far(const Bed& bed, const State& old, const Trial& trial) {
  return largest_of(at(bed.grid.cells()),
                    [&](std::size_t c) { return std::abs(trial.temperature[c] - old.temperature[c]); });
}

bool settled(const PassMoves& moves, double change) {
  PassMoves limit = enough;
  limit.temperature = std::clamp(share_of_change * change, finest_temperature, enough.temperature);
  return within(moves, limit);
}

const char* what_moves(const PassMoves& moves) {
  if (!(moves.temperature < too_much.temperature)) return "warmth and air together";
  if (!(moves.oxygen < too_much.oxygen)) return "oxygen and air together";
  return within(moves, too_much) ? nullptr : "the air through the openings";
}

}  // namespace updraught
