// What holds the bed: walls, sides, floor, lid and base, and how the bed lies against the wall.
#include <algorithm>

#include "cases/nearest.h"
#include "cases/reader/draft.h"
#include "cases/reader/wall_materials.h"

namespace updraught {

namespace {

constexpr Limits thickness_limits{1e-5, 2.0, "a layer is between 0.01 mm and 2 m thick"};
constexpr Limits conductivity_limits{0.005, 500.0, "between 0.005 and 500 W/mK"};
constexpr Limits temperature_limits{-60.0, 150.0, "between -60 and 150 degC"};
constexpr Limits film_limits{1e-3, 1e6, "between 0.001 and 1000000 W/m2K"};
constexpr Limits flux_limits{-1e5, 1e5, "between -100000 and 100000 W/m2"};

struct Layers {
  double resistance = 0.0;  ///< m2 K/W
  double thickness = 0.0;   ///< m
};

std::optional<double> conductivity_of(const Table& layer) {
  if (layer.has("conductivity"))
    return layer.quantity("conductivity", conductivity_measure(), conductivity_limits);
  const auto name = layer.text("of");
  if (!name) return {};
  std::vector<std::string> known;
  for (const WallMaterial& material : wall_materials()) {
    if (material.name == *name) return material.conductivity;
    known.push_back(material.name);
  }
  const auto near = nearest(*name, known);
  std::string all;
  for (const std::string& material : known) all += (all.empty() ? "" : ", ") + material;
  layer.wrong("of", "\"" + *name + "\" is not a known wall material.",
              (near ? "Did you mean \"" + *near + "\"? " : "Known are: " + all + ". ") +
                  "Or add its conductivity = \"0.04 W/mK\".");
  return {};
}

Layers read_layers(const std::vector<Value>& entries) {
  Layers sum;
  for (const Value& entry : entries) {
    const auto layer = entry.table();
    if (!layer) continue;
    layer->allow({"of", "thick", "conductivity"});
    layer->need("of", "of = \"timber\"");
    const auto thick = layer->need("thick", "thick = \"18 mm\"");
    const auto conductivity = conductivity_of(*layer);
    const auto thickness = thick ? thick->quantity(length_measure(), thickness_limits) : std::nullopt;
    if (!thickness || !conductivity) continue;
    sum.resistance += *thickness / *conductivity;
    sum.thickness += *thickness;
  }
  return sum;
}

HeatBoundary boundary_of_layers(const std::vector<Value>& entries, double& thickness) {
  const Layers layers = read_layers(entries);
  thickness = layers.thickness;
  HeatBoundary boundary;
  boundary.kind = HeatBoundary::Kind::layers;
  boundary.resistance = layers.resistance;
  return boundary;
}

const std::vector<std::string> boundary_keys{"layers", "held_at", "flux", "film", "to"};

/// { layers } or { held_at } or { flux } or { film, to }.
HeatBoundary read_boundary_table(const Table& table, double& thickness) {
  HeatBoundary boundary;
  int forms = 0;
  for (const char* form : {"layers", "held_at", "flux", "film"}) forms += table.has(form) ? 1 : 0;
  if (forms > 1)
    table.wrong("More than one of layers, held_at, flux and film is given.", "Keep one of them.");
  if (table.has("to") && !table.has("film"))
    table.wrong("to", "`to` says where a film leads; there is no film.",
                "Add film = \"10 W/m2K\" or leave `to` out.");
  if (table.has("layers")) return boundary_of_layers(table.list("layers"), thickness);
  if (table.has("held_at")) {
    boundary.kind = HeatBoundary::Kind::held_at;
    boundary.to_outside = false;
    boundary.temperature = table.quantity_or(0.0, "held_at", temperature_measure(), temperature_limits);
  } else if (table.has("flux")) {
    boundary.kind = HeatBoundary::Kind::flux;
    boundary.flux = table.quantity_or(0.0, "flux", heat_flux_measure(), flux_limits);
  } else if (table.has("film")) {
    boundary.kind = HeatBoundary::Kind::film;
    boundary.film = table.quantity_or(1.0, "film", film_measure(), film_limits);
    boundary.to_outside = !table.has("to");
    boundary.temperature = table.quantity_or(0.0, "to", temperature_measure(), temperature_limits);
  } else {
    boundary.kind = HeatBoundary::Kind::layers;
  }
  return boundary;
}

constexpr const char* layer_list_mend = "Write [ { of = \"timber\", thick = \"18 mm\" } ].";

void read_boundary_word(const Value& value) {
  const auto typed = value.text();
  if (!typed || *typed == "insulated") return;
  value.wrong("\"" + *typed + "\" is no boundary.",
              std::string(layer_list_mend) + " Or \"insulated\", through which no heat passes.");
}

/// The forms that any face of the bed knows: a list of layers, "insulated", or a table.
HeatBoundary read_boundary(const Value& value, double& thickness) {
  thickness = 0.0;
  if (value.is_list()) return boundary_of_layers(value.list().value_or(std::vector<Value>()), thickness);
  if (value.is_text()) {
    read_boundary_word(value);
    return {};
  }
  const auto table = value.table();
  if (!table) return {};
  if (table->has("of") || table->has("thick")) {
    value.wrong("A layer of material stands in a list.", layer_list_mend);
    return {};
  }
  table->allow(boundary_keys);
  return read_boundary_table(*table, thickness);
}

/// Nothing but the surface films.
HeatBoundary bare() {
  HeatBoundary boundary;
  boundary.kind = HeatBoundary::Kind::layers;
  return boundary;
}

void read_sides(const Table& top, Draft& draft) {
  draft.problem.sides.fill(bare());
  if (const auto walls = top.value("walls")) {
    const HeatBoundary all = read_boundary(*walls, draft.wall_thickness);
    draft.problem.sides.fill(all);
  }
  const auto sides = top.table("sides");
  if (!sides) return;
  const std::vector<std::string> names{"left", "right", "front", "back"};
  sides->allow(names);
  for (std::size_t s = 0; s < names.size(); ++s) {
    const auto value = sides->value(names[s]);
    if (!value) continue;
    double thickness = 0.0;
    draft.problem.sides[s] = read_boundary(*value, thickness);
    draft.wall_thickness = std::max(draft.wall_thickness, thickness);
  }
}

void read_lid(const Table& top, Draft& draft) {
  draft.problem.lid_heat = bare();
  const auto value = top.value("lid");
  if (!value) return;
  const std::vector<std::string> kinds{"closed", "none", "on the bed"};
  const auto take_kind = [&](const std::string& word) {
    draft.problem.lid.kind = word == "closed" ? Lid::Kind::closed : Lid::Kind::none;
    draft.top_sealed = word == "on the bed";
  };
  if (value->is_text()) {
    if (const auto word = value->word(kinds)) take_kind(*word);
    return;
  }
  if (value->is_list()) {
    draft.problem.lid_heat = read_boundary(*value, draft.lid_thickness);
    return;
  }
  const auto lid = value->table();
  if (!lid) return;
  lid->allow({"kind", "drip", "layers", "held_at", "flux", "film", "to", "insulated"});
  if (const auto word = lid->word("kind", kinds)) take_kind(*word);
  if (draft.problem.lid.kind != Lid::Kind::closed) lid->forbid({"drip"}, "this kind of lid");
  draft.problem.lid.drip_back = lid->word("drip", {"back", "away"}).value_or("back") == "back";
  if (lid->flag_or(false, "insulated")) {
    lid->forbid({"layers", "held_at", "flux", "film", "to"}, "insulated = true");
    draft.problem.lid_heat = {};
    return;
  }
  draft.problem.lid_heat = read_boundary_table(*lid, draft.lid_thickness);
}

void read_inlet(const Table& base, Base& into) {
  const auto inlet = base.value("inlet");
  if (!inlet) return;
  if (inlet->is_text()) {
    const auto typed = inlet->text();
    if (typed == "open") return;
  }
  into.inlet_area =
      inlet->quantity(area_measure(), {1e-6, 10.0, "between 1 mm2 and 10 m2, or \"open\""}).value_or(0.0);
}

/// Without an inlet a raised floor stands in the open: there is no space whose air is computed.
void check_open_base(const Table& base) {
  base.forbid({"inlet_height"}, "an open base");
  if (base.has("height"))
    base.wrong(
        "height",
        "A raised base without a stated inlet stands in the open: no space is computed under it, so its "
        "height would change nothing.",
        "Say how much is open from that space to the outside, such as inlet = \"300 cm2\", or leave "
        "the height out.");
}

void read_base(const Table& top, Draft& draft) {
  const auto base = top.table("base");
  if (!base) return;
  draft.base_given = true;
  base->allow({"kind", "height", "inlet", "inlet_height", "soil"});
  Base& into = draft.problem.base;
  const std::string kind = base->word("kind", {"raised", "closed", "ground"}).value_or("raised");
  into.kind = kind == "raised"   ? Base::Kind::raised
              : kind == "closed" ? Base::Kind::closed
                                 : Base::Kind::ground;
  if (into.kind == Base::Kind::raised) {
    base->forbid({"soil"}, "a raised base");
    into.height =
        base->quantity_or(into.height, "height", length_measure(), {0.005, 1.0, "between 5 mm and 1 m"});
    read_inlet(*base, into);
    into.inlet_height =
        base->quantity_or(0.0, "inlet_height", length_measure(), {0.0, 1.0, "up to 1 m above the ground"});
    if (into.inlet_area <= 0.0) check_open_base(*base);
    if (into.inlet_height > into.height)
      base->wrong("inlet_height", "The slots would lie above the bin's floor.",
                  "Lower them, or raise the base.");
  } else {
    base->forbid({"height", "inlet", "inlet_height"}, "a base that is not raised");
    into.ground_conductivity = base->quantity_or(into.ground_conductivity, "soil", conductivity_measure(),
                                                 {0.2, 4.0, "soil conducts between 0.2 and 4 W/mK"});
  }
}

void read_wall_contact(const Table& top, Draft& draft) {
  Problem& problem = draft.problem;
  problem.wall_gap =
      top.quantity_or(0.0, "wall_gap", length_measure(), {0.0, 0.05, "a gap is between 0 and 5 cm"});
  if (draft.overrides.wall_gap) problem.wall_gap = *draft.overrides.wall_gap;
  problem.wall_lane = top.flag_or(true, "wall_lane");
  draft.lane_asked = top.has("wall_lane") && problem.wall_lane;
  problem.wall_friction =
      top.number_or(problem.wall_friction, "wall_friction", {0.0, 1.0, "between 0 and 1"});
  problem.lateral_ratio = top.number_or(problem.lateral_ratio, "side_load", {0.0, 1.0, "between 0 and 1"});
  problem.outer_film = top.quantity_or(problem.outer_film, "outer_film", film_measure(), film_limits);
}

}  // namespace

void read_envelope(const Table& top, Draft& draft) {
  read_sides(top, draft);
  double thickness = 0.0;
  draft.problem.floor = bare();
  if (const auto floor = top.value("floor")) draft.problem.floor = read_boundary(*floor, thickness);
  read_lid(top, draft);
  read_base(top, draft);
  read_wall_contact(top, draft);
}

}  // namespace updraught
