// Properties that are given instead of computed: prescribed, air, initial.
#include "cases/reader/parts/parsed_case.h"

namespace updraught {

namespace {

constexpr Limits rate_limits{0.0, 100.0, "between 0 and 100"};

/// One value for the whole bed, or a table { PLACE, value }.
std::optional<Prescribed::ByHeight> read_by_place(const Table& table, const char* key, const char* place) {
  const auto value = table.value(key);
  if (!value) return {};
  const auto inner = value->is_table() ? value->table() : std::nullopt;
  if (!inner) {
    const auto constant = value->quantity();
    if (!constant) return {};
    return Prescribed::ByHeight{{0.0}, {*constant}};
  }
  const auto columns = read_columns(*inner, place, "value");
  if (!columns) return {};
  return Prescribed::ByHeight{columns->first, columns->second};
}

/// The direction that a table of heat sources names beside its values.
Prescribed::Along direction_of(const Table& table) {
  if (table.has("width")) return Prescribed::Along::width;
  return table.has("length") ? Prescribed::Along::length : Prescribed::Along::height;
}

void read_heat(const Table& prescribed, Prescribed& into) {
  const auto value = prescribed.value("heat");
  if (!value) return;
  const auto table = value->is_table() ? value->table() : std::nullopt;
  if (table) into.heat_along = direction_of(*table);
  const char* key = into.heat_along == Prescribed::Along::width    ? "width"
                    : into.heat_along == Prescribed::Along::length ? "length"
                                                                   : "height";
  into.heat = read_by_place(prescribed, "heat", key);
}

std::optional<PrescribedUptake> read_uptake(const Table& prescribed) {
  const auto uptake = prescribed.table("uptake");
  if (!uptake) return {};
  uptake->allow();
  const auto law = uptake->need("law");
  const auto word = law ? law->word() : std::nullopt;
  if (!word) return {};
  PrescribedUptake into;
  if (*word == "none") {
    uptake->forbid({"rate", "half"}, "law = \"none\"");
    return into;
  }
  if (*word != "monod") uptake->forbid({"half"}, "law = \"" + *word + "\"");
  into.law = *word == "constant"      ? PrescribedUptake::Law::constant
             : *word == "first_order" ? PrescribedUptake::Law::first_order
                                      : PrescribedUptake::Law::monod;
  const bool per_time = into.law == PrescribedUptake::Law::first_order;
  const auto rate = uptake->need("rate", per_time ? "rate = \"1e-4 1/s\"" : "rate = \"1e-4 mol/m3s\"");
  if (rate)
    into.rate = rate->quantity(per_time ? rate_measure() : molar_rate_measure(), rate_limits).value_or(0.0);
  into.half = uptake->quantity_or(into.half, "half");
  return into;
}

void read_speed(const Table& prescribed, Problem& problem) {
  const auto speed = prescribed.quantity("air_speed");
  if (!speed) return;
  prescribed.forbid({"permeability", "inertia"}, "air_speed");
  if (*speed == 0.0)
    problem.freeze_flow = true;
  else
    problem.prescribed.volume_flow = *speed;
}

void read_properties(const Table& top, Problem& problem) {
  const auto table = top.table("prescribed");
  if (!table) return;
  table->allow();
  Prescribed& into = problem.prescribed;
  into.permeability = read_by_place(*table, "permeability", "height");
  into.inertia = table->quantity("inertia");
  into.porosity = table->quantity("porosity");
  into.density = table->quantity("density");
  into.conductivity = table->quantity("conductivity");
  into.heat_capacity = table->quantity("heat_capacity");
  into.diffusivity = table->quantity("diffusivity");
  read_heat(*table, into);
  into.uptake = read_uptake(*table);
  read_speed(*table, problem);
}

void read_air(const Table& top, Problem& problem) {
  const auto air = top.table("air");
  if (!air) return;
  air->allow();
  const auto kind = air->need("kind");
  const auto word = kind ? kind->word() : std::nullopt;
  if (!word) return;
  if (*word == "moist") {
    air->forbid({"density", "viscosity", "heat_capacity", "expansion", "at"}, "kind = \"moist\"");
    return;
  }
  ConstantAir into;
  into.density = air->quantity_or(into.density, "density");
  into.viscosity = air->quantity_or(into.viscosity, "viscosity");
  into.heat_capacity = air->quantity_or(into.heat_capacity, "heat_capacity");
  into.expansion = air->quantity_or(into.expansion, "expansion");
  into.at = air->quantity_or(problem.outside.temperature, "at");
  problem.constant_air = into;
}

void read_linear(const Table& table, Initial& into) {
  into.kind = Initial::Kind::linear;
  const auto bottom = table.need("bottom");
  const auto top = table.need("top");
  if (bottom) into.bottom = bottom->quantity().value_or(0.0);
  if (top) into.top = top->quantity().value_or(0.0);
  into.ripple = table.quantity_or(0.0, "ripple");
  for (const char* key : {"rolls", "rolls_lengthwise"})
    if (!table.has("ripple") && table.has(key))
      table.report(key, "Rolls need a ripple.",
                   std::string("Add ripple = \"0.1 K\" or leave `") + key + "` out.");
  into.rolls_lengthwise = table.quantity_or(0.0, "rolls_lengthwise");
  into.rolls = table.quantity_or(into.rolls_lengthwise > 0.0 ? 0.0 : into.rolls, "rolls");
}

void read_initial(const Table& top, Problem& problem) {
  Initial& into = problem.initial;
  into.temperature = problem.outside.temperature;
  const auto table = top.table("initial");
  if (!table) return;
  top.forbid({"hold_temperature"}, "initial");
  table->allow();
  if (const auto by_height = table->has("table") ? table->table("table") : std::nullopt) {
    table->forbid({"temperature", "bottom", "top", "ripple", "rolls", "rolls_lengthwise"}, "table");
    const auto columns = read_columns(*by_height, "height", "temperature");
    if (!columns) return;
    into.kind = Initial::Kind::table;
    into.table = {columns->first, columns->second};
    return;
  }
  if (table->has("temperature")) {
    table->forbid({"bottom", "top", "ripple", "rolls", "rolls_lengthwise"}, "temperature");
    into.temperature = table->quantity_or(into.temperature, "temperature");
    return;
  }
  read_linear(*table, into);
}

}  // namespace

void read_prescribed(const Table& top, ParsedCase& parsed_case) {
  read_properties(top, parsed_case.problem);
  read_air(top, parsed_case.problem);
  read_initial(top, parsed_case.problem);
}

}  // namespace updraught
