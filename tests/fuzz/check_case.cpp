#include "tests/fuzz/check_case.h"

#include <cmath>
#include <vector>

#include "tests/fuzz/check_text.h"

namespace updraught::fuzz {

namespace {

using Numbers = std::vector<double>;

void add(Numbers& all, const Numbers& more) {
  all.insert(all.end(), more.begin(), more.end());
}

void add(Numbers& all, const std::optional<double>& number) {
  if (number) all.push_back(*number);
}

void add(Numbers& all, const std::optional<Prescribed::ByHeight>& list) {
  if (!list) return;
  add(all, list->height);
  add(all, list->value);
  for (const double z : {-1.0, 0.0, 0.3, 0.5, 5.0, 100.0}) all.push_back(list->at(z));
}

void add(Numbers& all, const HeatBoundary& b) {
  add(all, {b.resistance, b.temperature, b.film, b.flux, b.thickness()});
  for (const WallLayer& layer : b.layers) add(all, {layer.thickness, layer.conductivity});
}

void add(Numbers& all, const Opening& o) {
  add(all, {o.diameter, o.along, o.across, o.size, o.length, o.open_share, o.blocked, o.discharge,
            o.patch_from, o.patch_to, o.pressure});
  add(all, o.heights);
  add(all, o.plate);
  add(all, o.held_at);
}

void add(Numbers& all, const Feedstock& f) {
  add(all, {f.moisture, f.volatile_solids, f.carbon, f.nitrogen, f.available_carbon, f.loose_density,
            f.piece_size, f.ergun_size, f.water_capacity, f.basic_density, f.inner_air, f.loose_porosity,
            f.least_porosity, f.softness_stress, f.mixing, f.mixing_rotted});
  for (const Pool& pool : f.pools) add(all, {pool.share, pool.rate, pool.demand});
}

void add(Numbers& all, const Batch& batch) {
  add(all, {batch.depth, batch.activity, batch.heat_loving_activity});
  for (const Portion& portion : batch.portions) {
    all.push_back(portion.mass);
    add(all, portion.feedstock);
  }
}

void add(Numbers& all, const Prescribed& p) {
  add(all, p.permeability);
  add(all, p.heat);
  for (const auto& one :
       {p.inertia, p.porosity, p.density, p.conductivity, p.heat_capacity, p.diffusivity, p.volume_flow})
    add(all, one);
  if (p.uptake) add(all, {p.uptake->rate, p.uptake->half});
}

/// Every number that a case can change.
Numbers numbers_of(const Problem& p) {
  Numbers all{p.plan_scale,
              p.wall_scale,
              p.bin.width,
              p.bin.length,
              p.bin.height,
              p.outer_film,
              p.wall_friction,
              p.lateral_ratio,
              p.wall_gap,
              p.base.height,
              p.base.inlet_area,
              p.base.inlet_height,
              p.base.ground_conductivity,
              p.depth,
              p.duration,
              p.picture_every,
              p.longest_step};
  for (const HeatBoundary& side : p.sides) add(all, side);
  add(all, p.floor);
  add(all, p.lid_heat);
  for (const Opening& opening : p.openings) add(all, opening);
  for (const Batch& batch : p.batches) add(all, batch);
  const Surroundings& o = p.outside;
  add(all,
      {o.temperature, o.daily_swing, o.humidity, o.pressure, o.ground_temperature, o.start_hour, o.wind});
  add(all, o.table_time);
  add(all, o.table_temperature);
  if (const auto& air = p.constant_air)
    add(all, {air->density, air->viscosity, air->heat_capacity, air->expansion, air->at});
  add(all, p.prescribed);
  const Initial& i = p.initial;
  add(all, {i.temperature, i.bottom, i.top, i.ripple, i.rolls, i.rolls_lengthwise});
  if (!i.table.height.empty()) add(all, std::optional(i.table));
  const MicrobeConstants& m = p.microbes;
  add(all,
      {m.growth, m.oxygen_half, m.heat_per_oxygen, m.respiratory_quotient, m.rim, m.respirometer_moisture});
  add(all, p.hold_temperature);
  add(all, {p.laws.packing_excess_shift, p.laws.ergun_factor, p.laws.uptake_factor});
  return all;
}

void check_place(const Diagnostic& told, bool unreadable) {
  const bool laid = told.file.starts_with("--set ");
  require(unreadable || laid || (told.line >= 1 && told.column >= 1),
          "a mistake has its place: " + to_text(told));
  require_plain(to_text(told));
  require(!told.problem.empty(), "a mistake says what is wrong: " + to_text(told));
}

void check_read(const ReadCase& read) {
  for (const double number : numbers_of(read.problem))
    require(std::isfinite(number), "every number of a case is finite");
  for (const std::string& note : read.notes) require_plain(note);
  for (const Diagnostic& doubt : read.doubts) check_place(doubt, false);
  const Cells& cells = read.problem.cells;
  require(cells.nx > 0 && cells.ny > 0 && cells.nz > 0, "there are cells");
  require(read.problem.duration > 0.0 && read.problem.longest_step > 0.0, "time goes on");
  for (const UncertainInput& input : read.problem.uncertain)
    require(std::isfinite(input.low) && std::isfinite(input.high) && input.low <= input.middle &&
                input.middle <= input.high,
            "uncertain inputs are ranges: " + input.key);
}

}  // namespace

ReadOutcome checked_reading(const std::string& text, const Overrides& overrides) {
  ReadOutcome outcome = read_case_text(text, "case.toml", overrides);
  require(outcome.read.has_value() == outcome.mistakes.empty(), "a case or mistakes, never both or none");
  for (const Diagnostic& mistake : outcome.mistakes) check_place(mistake, outcome.unreadable);
  if (outcome.read) check_read(*outcome.read);
  return outcome;
}

}  // namespace updraught::fuzz
