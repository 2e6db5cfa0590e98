// Properties that are given instead of computed: prescribed, air, initial.
#include "cases/reader/draft.h"

namespace updraught {

namespace {

constexpr Limits height_limits{0.0, 10.0, "between 0 and 10 m above the floor"};

/// One value for the whole bed, or a table { PLACE, value }.
std::optional<Prescribed::ByHeight> read_by_place(const Table& table, const char* key,
                                                  const ColumnRule& place, const Measure& measure,
                                                  const Limits& limits) {
  const auto value = table.value(key);
  if (!value) return {};
  if (!value->is_table()) {
    const auto constant = value->quantity(measure, limits);
    if (!constant) return {};
    return Prescribed::ByHeight{{0.0}, {*constant}};
  }
  const auto inner = value->table();
  const auto columns = read_columns(*inner, place, {"value", measure, limits});
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
  const Limits place{0.0, 20.0, "between 0 and 20 m from the floor, the left wall or the front wall"};
  into.heat = read_by_place(prescribed, "heat", {key, length_measure(), place}, heat_source_measure(),
                            {-1e5, 1e5, "between -100000 and 100000 W/m3"});
}

std::optional<PrescribedUptake> read_uptake(const Table& prescribed) {
  const auto uptake = prescribed.table("uptake");
  if (!uptake) return {};
  uptake->allow({"law", "rate", "half"});
  const auto law = uptake->need("law", "law = \"none\"");
  const auto word = law ? law->word({"none", "constant", "first_order", "monod"}) : std::nullopt;
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
  const Limits limits{0.0, 100.0, "between 0 and 100"};
  if (rate)
    into.rate = rate->quantity(per_time ? rate_measure() : molar_rate_measure(), limits).value_or(0.0);
  into.half = uptake->number_or(into.half, "half", {1e-6, 0.5, "between 0.0001 and 50 % oxygen"});
  return into;
}

void read_speed(const Table& prescribed, Problem& problem) {
  const auto speed = prescribed.quantity("air_speed", speed_measure(), {-1.0, 1.0, "between -1 and 1 m/s"});
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
  table->allow({"permeability", "inertia", "porosity", "density", "conductivity", "heat_capacity",
                "diffusivity", "heat", "uptake", "air_speed"});
  Prescribed& into = problem.prescribed;
  into.permeability = read_by_place(*table, "permeability", {"height", length_measure(), height_limits},
                                    permeability_measure(), {1e-16, 1e-3, "between 1e-16 and 1e-3 m2"});
  into.inertia = table->quantity("inertia", per_length_measure(), {0.0, 1e7, "between 0 and 1e7 1/m"});
  if (const auto porosity = table->value("porosity"))
    into.porosity = porosity->number({0.001, 1.0, "between 0.1 and 100 %"});
  into.density = table->quantity("density", density_measure(), {0.1, 3000.0, "between 0.1 and 3000 kg/m3"});
  into.conductivity =
      table->quantity("conductivity", conductivity_measure(), {0.0, 1e4, "between 0 and 10000 W/mK"});
  into.heat_capacity =
      table->quantity("heat_capacity", heat_capacity_measure(), {1.0, 1e5, "between 1 and 100000 J/kgK"});
  into.diffusivity =
      table->quantity("diffusivity", diffusivity_measure(), {0.0, 1.0, "between 0 and 1 m2/s"});
  read_heat(*table, into);
  into.uptake = read_uptake(*table);
  read_speed(*table, problem);
}

void read_air(const Table& top, Problem& problem) {
  const auto air = top.table("air");
  if (!air) return;
  air->allow({"kind", "density", "viscosity", "heat_capacity", "expansion", "at"});
  const auto kind = air->need("kind", "kind = \"constant\"");
  const auto word = kind ? kind->word({"moist", "constant"}) : std::nullopt;
  if (!word) return;
  if (*word == "moist") {
    air->forbid({"density", "viscosity", "heat_capacity", "expansion", "at"}, "kind = \"moist\"");
    return;
  }
  ConstantAir into;
  into.density = air->quantity_or(into.density, "density", density_measure(),
                                  {1e-3, 1e4, "between 0.001 and 10000 kg/m3"});
  into.viscosity = air->quantity_or(into.viscosity, "viscosity", viscosity_measure(),
                                    {1e-8, 10.0, "between 1e-8 and 10 Pa s"});
  into.heat_capacity = air->quantity_or(into.heat_capacity, "heat_capacity", heat_capacity_measure(),
                                        {1.0, 1e5, "between 1 and 100000 J/kgK"});
  into.expansion =
      air->quantity_or(into.expansion, "expansion", expansion_measure(), {0.0, 0.1, "between 0 and 0.1 1/K"});
  into.at = air->quantity_or(problem.outside.temperature, "at", temperature_measure(), face_limits);
  problem.constant_air = into;
}

void read_linear(const Table& table, Initial& into) {
  into.kind = Initial::Kind::linear;
  const auto bottom = table.need("bottom", "bottom = \"20 degC\"");
  const auto top = table.need("top", "top = \"10 degC\"");
  if (bottom) into.bottom = bottom->quantity(temperature_measure(), face_limits).value_or(0.0);
  if (top) into.top = top->quantity(temperature_measure(), face_limits).value_or(0.0);
  into.ripple =
      table.quantity_or(0.0, "ripple", temperature_difference(), {-100.0, 100.0, "between -100 and 100 K"});
  const Limits half_waves{0.5, 100.0, "between 0.5 and 100"};
  for (const char* key : {"rolls", "rolls_lengthwise"})
    if (!table.has("ripple") && table.has(key))
      table.wrong(key, "Rolls need a ripple.",
                  std::string("Add ripple = \"0.1 K\" or leave `") + key + "` out.");
  into.rolls_lengthwise = table.number_or(0.0, "rolls_lengthwise", half_waves);
  into.rolls = table.number_or(into.rolls_lengthwise > 0.0 ? 0.0 : into.rolls, "rolls", half_waves);
}

void read_initial(const Table& top, Problem& problem) {
  Initial& into = problem.initial;
  into.temperature = problem.outside.temperature;
  const auto table = top.table("initial");
  if (!table) return;
  top.forbid({"hold_temperature"}, "initial");
  table->allow({"temperature", "bottom", "top", "ripple", "rolls", "rolls_lengthwise", "table"});
  if (const auto by_height = table->has("table") ? table->table("table") : std::nullopt) {
    table->forbid({"temperature", "bottom", "top", "ripple", "rolls", "rolls_lengthwise"}, "table");
    const auto columns = read_columns(*by_height, {"height", length_measure(), height_limits},
                                      {"temperature", temperature_measure(), face_limits});
    if (!columns) return;
    into.kind = Initial::Kind::table;
    into.table = {columns->first, columns->second};
    return;
  }
  if (table->has("temperature")) {
    table->forbid({"bottom", "top", "ripple", "rolls", "rolls_lengthwise"}, "temperature");
    into.temperature =
        table->quantity_or(into.temperature, "temperature", temperature_measure(), face_limits);
    return;
  }
  read_linear(*table, into);
}

}  // namespace

void read_prescribed(const Table& top, Draft& draft) {
  read_properties(top, draft.problem);
  read_air(top, draft.problem);
  read_initial(top, draft.problem);
}

}  // namespace updraught
