#include "solver/events.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "mesh/parallel/index.h"
#include "solver/balance/balances.h"
#include "solver/bed/enthalpy.h"
#include "solver/bed/mix_cells.h"
#include "solver/bed/properties.h"
#include "solver/problem/cannot_compute.h"
#include "solver/refill.h"
#include "solver/step/march.h"
#include "solver/transport/boundary_heat.h"
#include "solver/watering.h"

namespace updraught {

namespace {

/// Times that differ by less are one (s): far above rounding, far below any step.
constexpr double same_time = 1e-6;

double activity_in(const State& s, std::size_t c) {
  return activity_of(dry_of(s, c), s.water[c]);
}

/// Pore gas that leaves or enters a cell, with what it carries.
struct PoreGas {
  double dry = 0.0;             ///< mol
  double oxygen = 0.0;          ///< mol
  double carbon_dioxide = 0.0;  ///< mol
  double vapour = 0.0;          ///< kg
  double heat = 0.0;            ///< J
};

PoreGas present_gas(const Bed& bed, const State& s, std::size_t c) {
  const Gas& gas = bed.setup->gas;
  const double ratio = gas.vapour_ratio(s.temperature[c], activity_in(s, c));
  return {s.dry_gas[c], s.oxygen[c], s.carbon_dioxide[c], s.dry_gas[c] * ratio * molar_water,
          s.dry_gas[c] * gas.enthalpy(s.temperature[c], ratio)};
}

/// As much outside air as the cell's pores hold at its present warmth.
PoreGas fresh_gas(const Bed& bed, const State& s, const Properties& now, const OutsideAir& outside,
                  std::size_t c) {
  const Gas& gas = bed.setup->gas;
  const double dry = gas.dry_density(s.temperature[c], gas.vapour_ratio(s.temperature[c], now.activity[c])) *
                     now.volume[c] * now.free_air[c];
  return {dry, dry * air_oxygen, dry * air_carbon_dioxide, dry * outside.vapour_ratio * molar_water,
          dry * outside.enthalpy};
}

void book(const PoreGas& out, const PoreGas& in, State& s) {
  s.booked[gas_out] += out.dry;
  s.booked[gas_in] += in.dry;
  s.booked[oxygen_out] += out.oxygen;
  s.booked[oxygen_in] += in.oxygen;
  s.booked[carbon_dioxide_out] += out.carbon_dioxide;
  s.booked[carbon_dioxide_in] += in.carbon_dioxide;
  s.booked[water_out] += out.vapour;
  s.booked[water_in] += in.vapour;
  for (const double leaves : {out.heat, -in.heat}) {
    s.booked[heat_air] += leaves;
    s.booked[leaves > 0.0 ? heat_out : heat_in] += std::abs(leaves);
  }
}

/// The gas in all pores is left behind and outside air takes its place; the warmth of both is exchanged too.
void air_out(const Bed& bed, const Properties& now, State& s) {
  const OutsideAir outside = outside_air(bed, s.time());
  for (int cell = 0; cell < bed.grid.cells(); ++cell) {
    if (!bed.grid.open(cell)) continue;
    const auto c = at(cell);
    const PoreGas out = present_gas(bed, s, c), in = fresh_gas(bed, s, now, outside, c);
    const double heat =
        cell_enthalpy(bed, dry_of(s, c), s.water[c], s.dry_gas[c], s.temperature[c], activity_in(s, c)) -
        out.heat + in.heat;
    s.dry_gas[c] = in.dry;
    s.oxygen[c] = in.oxygen;
    s.carbon_dioxide[c] = in.carbon_dioxide;
    s.water[c] += in.vapour - out.vapour;
    const Root temperature = recover_temperature(bed, dry_of(s, c), s.water[c], s.dry_gas[c],
                                                 activity_in(s, c), heat, s.temperature[c]);
    if (!temperature.found) throw CannotCompute("a part of the turned bed has no temperature");
    s.temperature[c] = temperature.value;
    book(out, in, s);
  }
}

Laid turned(const Laid& before) {
  std::vector<int> cells(at(before.bed.grid.cells()));
  std::iota(cells.begin(), cells.end(), 0);
  Laid after = mix_cells(before, cells);
  if (after.bed.setup->problem.settles) {
    settle_bed(after.bed, after.state);
    after.bed = with_layers(after.bed, after.state.thickness);
  }
  Properties now;
  compute_properties(after.bed, after.state, now);
  air_out(after.bed, now, after.state);
  after.state.clock.next_step = first_step(before.bed.setup->problem);
  return after;
}

}  // namespace

Laid after_event(const Event& event, const Laid& before) {
  switch (event.kind) {
    case Event::Kind::turn:
      return turned(before);
    case Event::Kind::fill:
      return refilled(event, before);
    case Event::Kind::water:
      return watered(event, before);
  }
  throw std::logic_error("an event of no kind");
}

double next_stop(const Problem& problem, double time) {
  for (const Event& event : problem.events)
    if (event.time > time + same_time && event.time < problem.duration) return event.time;
  return problem.duration;
}

std::vector<Event> due_at(const Problem& problem, double time) {
  std::vector<Event> due;
  std::copy_if(problem.events.begin(), problem.events.end(), std::back_inserter(due),
               [&](const Event& event) { return std::abs(event.time - time) <= same_time; });
  return due;
}

}  // namespace updraught
