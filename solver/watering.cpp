#include "solver/watering.h"

#include <algorithm>
#include <stdexcept>

#include "mesh/parallel/index.h"
#include "solver/balance/balances.h"
#include "solver/bed/enthalpy.h"
#include "solver/problem/cannot_compute.h"
#include "solver/step/march.h"

namespace updraught {

namespace {

/// Some water more in a cell, which takes the temperature that holds the heat of both.
void add_water(const Bed& bed, double water, double temperature, std::size_t c, State& s) {
  const double dry = dry_of(s, c);
  const double heat =
      cell_enthalpy(bed, dry, s.water[c], s.dry_gas[c], s.temperature[c], activity_of(dry, s.water[c])) +
      water * heat_capacity_water * temperature;
  s.water[c] += water;
  const Root found = recover_temperature(bed, dry, s.water[c], s.dry_gas[c], activity_of(dry, s.water[c]),
                                         heat, s.temperature[c]);
  if (!found.found) throw CannotCompute("a part of the watered bed has no temperature");
  s.temperature[c] = found.value;
}

/// What a cell keeps of the water that comes down on it (kg): what would stand free in its pores runs on.
double kept_of(const Bed& bed, const State& s, int cell, double comes) {
  const Blend& mixture = blend_of(bed, s, at(cell));
  Matter matter = cell_matter(bed, s, cell);
  const double free = split_water(mixture, matter).free;
  matter.water += comes;
  return std::clamp(comes - (split_water(mixture, matter).free - free), 0.0, comes);
}

}  // namespace

Laid watered(const Event& event, const Laid& before) {
  const Bed& bed = before.bed;
  const Grid& g = bed.grid;
  if (bed.setup->blends.empty()) throw std::invalid_argument("a bed without matter holds no water");
  Laid after = before;
  State& s = after.state;
  const double per_area = event.water / bed.setup->problem.plan_scale / g.area_of(Boundary::top);
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i) {
      double comes = per_area * g.area_z(i, j, g.nz);
      s.booked[water_filled] += comes;
      for (int k = g.nz - 1; k >= 0 && comes > 0.0; --k) {
        const int cell = g.cell(i, j, k);
        if (!g.open(cell)) continue;
        const double kept = kept_of(bed, s, cell, comes);
        if (kept > 0.0) add_water(bed, kept, event.temperature, at(cell), s);
        s.booked[heat_filled] += kept * heat_capacity_water * event.temperature;
        comes -= kept;
      }
      // What runs through takes its own heat along.
      s.booked[water_drained] += comes;
    }
  s.clock.since_event = 0.0;
  s.clock.next_step = first_step(bed.setup->problem);
  return after;
}

}  // namespace updraught
