// What holds the bed: walls, sides, floor, lid and base, and how the bed lies against the wall.
#include <algorithm>

#include "cases/library/wall_materials.h"
#include "cases/reader/keys/keys.h"
#include "cases/reader/parts/parsed_case.h"
#include "cases/terminal/nearest.h"

namespace updraught {

namespace {

const WallMaterial* find_material(const std::string& name) {
  static const std::vector<WallMaterial> known = wall_materials();
  const auto found = std::find_if(known.begin(), known.end(),
                                  [&](const WallMaterial& material) { return material.name == name; });
  return found == known.end() ? nullptr : &*found;
}

void tell_unknown(const Table& layer, const char* key, const std::string& name, const char* or_else) {
  std::vector<std::string> known;
  std::string all;
  for (const WallMaterial& material : wall_materials()) {
    known.push_back(material.name);
    all += (all.empty() ? "" : ", ") + material.name;
  }
  const auto near = nearest(name, known);
  layer.report(key, "\"" + name + "\" is not a known wall material.",
               (near ? "Did you mean \"" + *near + "\"? " : "Known are: " + all + ". ") + or_else);
}

/// The known material that a layer is or is like; null where there is none.
const WallMaterial* material_of(const Table& layer) {
  const auto name = layer.text("of");
  const auto like = layer.text("like");
  if (like) {
    const WallMaterial* base = find_material(*like);
    if (base == nullptr) tell_unknown(layer, "like", *like, "");
    return base;
  }
  const WallMaterial* known = name ? find_material(*name) : nullptr;
  if (known == nullptr && name && !layer.has("conductivity") && !layer.has("like"))
    tell_unknown(layer, "of", *name, "Or add its conductivity = \"0.04 W/mK\".");
  return known;
}

std::optional<WallLayer> read_layer(const Table& table) {
  table.allow();
  table.need("of");
  const auto thick = table.need("thick");
  const auto thickness = thick ? thick->quantity() : std::nullopt;
  const WallMaterial* material = material_of(table);
  WallLayer layer;
  layer.material = table.text("of").value_or("");
  if (material != nullptr) layer.kind = material->kind;
  std::optional<double> conductivity;
  if (table.has("conductivity"))
    conductivity = table.quantity("conductivity");
  else if (material != nullptr)
    conductivity = material->conductivity;
  if (!thickness || !conductivity) return {};
  layer.thickness = *thickness;
  layer.conductivity = *conductivity;
  return layer;
}

HeatBoundary boundary_of_layers(const std::vector<Value>& entries) {
  HeatBoundary boundary;
  boundary.kind = HeatBoundary::Kind::layers;
  for (const Value& entry : entries) {
    const auto table = entry.table();
    const auto layer = table ? read_layer(*table) : std::nullopt;
    if (!layer) continue;
    boundary.resistance += layer->thickness / layer->conductivity;
    boundary.layers.push_back(*layer);
  }
  return boundary;
}

/// { layers } or { held_at } or { flux } or { film, to }.
HeatBoundary read_boundary_table(const Table& table) {
  HeatBoundary boundary;
  int forms = 0;
  for (const char* form : {"layers", "held_at", "flux", "film"}) forms += table.has(form) ? 1 : 0;
  if (forms > 1)
    table.report("More than one of layers, held_at, flux and film is given.", "Keep one of them.");
  if (table.has("to") && !table.has("film"))
    table.report("to", "`to` says where a film leads; there is no film.",
                 "Add film = \"10 W/m2K\" or leave `to` out.");
  if (table.has("layers")) return boundary_of_layers(table.list("layers"));
  if (table.has("held_at")) {
    boundary.kind = HeatBoundary::Kind::held_at;
    boundary.to_outside = false;
    boundary.temperature = table.quantity_or(0.0, "held_at");
  } else if (table.has("flux")) {
    boundary.kind = HeatBoundary::Kind::flux;
    boundary.flux = table.quantity_or(0.0, "flux");
  } else if (table.has("film")) {
    boundary.kind = HeatBoundary::Kind::film;
    boundary.film = table.quantity_or(1.0, "film");
    boundary.to_outside = !table.has("to");
    boundary.temperature = table.quantity_or(0.0, "to");
  } else {
    boundary.kind = HeatBoundary::Kind::layers;
  }
  return boundary;
}

constexpr const char* layer_list_mend = "Write [ { of = \"timber\", thick = \"18 mm\" } ].";

void read_boundary_word(const Value& value) {
  const auto typed = value.text();
  if (!typed || *typed == "insulated") return;
  value.report("\"" + *typed + "\" is no boundary.",
               std::string(layer_list_mend) + " Or \"insulated\", through which no heat passes.");
}

/// The forms that any face of the bed knows: a list of layers, "insulated", or a table.
HeatBoundary read_boundary(const Value& value) {
  if (value.is_list()) return boundary_of_layers(value.list().value_or(std::vector<Value>()));
  if (value.is_text()) {
    read_boundary_word(value);
    return {};
  }
  const auto table = value.table();
  if (!table) return {};
  if (table->has("of") || table->has("thick")) {
    value.report("A layer of material stands in a list.", layer_list_mend);
    return {};
  }
  table->allow();
  return read_boundary_table(*table);
}

/// Nothing but the surface films.
HeatBoundary bare() {
  HeatBoundary boundary;
  boundary.kind = HeatBoundary::Kind::layers;
  return boundary;
}

void read_sides(const Table& top, ParsedCase& parsed_case) {
  parsed_case.problem.sides.fill(bare());
  if (const auto walls = top.value("walls")) parsed_case.problem.sides.fill(read_boundary(*walls));
  const auto sides = top.table("sides");
  if (!sides) return;
  sides->allow();
  const std::vector<std::string> names = names_of(sides_keys());
  for (std::size_t s = 0; s < names.size(); ++s) {
    const auto value = sides->value(names[s]);
    if (value) parsed_case.problem.sides[s] = read_boundary(*value);
  }
}

void read_lid(const Table& top, ParsedCase& parsed_case) {
  parsed_case.problem.lid_heat = bare();
  const auto value = top.value("lid");
  if (!value) return;
  const auto take_kind = [&](const std::string& word) {
    parsed_case.problem.lid.kind = word == "closed" ? Lid::Kind::closed : Lid::Kind::none;
    parsed_case.top_sealed = word == "on the bed";
  };
  if (value->is_text()) {
    if (const auto word = value->word(find_rule(lid_keys(), "kind")->words)) take_kind(*word);
    return;
  }
  if (value->is_list()) {
    parsed_case.problem.lid_heat = read_boundary(*value);
    return;
  }
  const auto lid = value->table();
  if (!lid) return;
  lid->allow();
  if (const auto word = lid->word("kind")) take_kind(*word);
  if (parsed_case.problem.lid.kind != Lid::Kind::closed) lid->forbid({"drip"}, "this kind of lid");
  parsed_case.problem.lid.drip_back = lid->word("drip").value_or("back") == "back";
  if (lid->flag_or(false, "insulated")) {
    lid->forbid(names_of(boundary_keys()), "insulated = true");
    parsed_case.problem.lid_heat = {};
    return;
  }
  parsed_case.problem.lid_heat = read_boundary_table(*lid);
}

void read_inlet(const Table& base, Base& into) {
  const auto inlet = base.value("inlet");
  if (!inlet) return;
  if (inlet->is_text()) {
    const auto typed = inlet->text();
    if (typed == "open") return;
  }
  into.inlet_area = inlet->quantity().value_or(0.0);
}

/// Without an inlet a raised floor stands in the open: there is no space whose air is computed.
void check_open_base(const Table& base) {
  base.forbid({"inlet_height"}, "an open base");
  if (base.has("height"))
    base.report(
        "height",
        "A raised base without a stated inlet stands in the open: no space is computed under it, so its "
        "height would change nothing.",
        "Say how much is open from that space to the outside, such as inlet = \"300 cm2\", or leave "
        "the height out.");
}

void read_base(const Table& top, ParsedCase& parsed_case) {
  const auto base = top.table("base");
  if (!base) return;
  parsed_case.base_given = true;
  base->allow();
  Base& into = parsed_case.problem.base;
  const std::string kind = base->word("kind").value_or("raised");
  into.kind = kind == "raised"   ? Base::Kind::raised
              : kind == "closed" ? Base::Kind::closed
                                 : Base::Kind::ground;
  if (into.kind == Base::Kind::raised) {
    base->forbid({"soil"}, "a raised base");
    into.height = base->quantity_or(into.height, "height");
    read_inlet(*base, into);
    into.inlet_height = base->quantity_or(0.0, "inlet_height");
    if (into.inlet_area <= 0.0) check_open_base(*base);
    if (into.inlet_height > into.height)
      base->report("inlet_height", "The slots would lie above the bin's floor.",
                   "Lower them, or raise the base.");
  } else {
    base->forbid({"height", "inlet", "inlet_height"}, "a base that is not raised");
    into.ground_conductivity = base->quantity_or(into.ground_conductivity, "soil");
  }
}

void read_wall_contact(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  problem.wall_gap = top.quantity_or(0.0, "wall_gap");
  // A gap laid over a case takes away what the wall would carry.
  if (problem.wall_gap > 0.0 && !top.laid_over("wall_gap"))
    top.forbid({"wall_friction", "side_load"},
               "a wall_gap: a bed that does not touch the wall is not carried by it");
  problem.wall_lane = top.flag_or(true, "wall_lane");
  parsed_case.lane_asked = top.has("wall_lane") && problem.wall_lane;
  problem.wall_friction = top.quantity_or(problem.wall_friction, "wall_friction");
  problem.lateral_ratio = top.quantity_or(problem.lateral_ratio, "side_load");
  problem.outer_film = top.quantity_or(problem.outer_film, "outer_film");
}

}  // namespace

void read_envelope(const Table& top, ParsedCase& parsed_case) {
  read_sides(top, parsed_case);
  parsed_case.problem.floor = bare();
  if (const auto floor = top.value("floor")) parsed_case.problem.floor = read_boundary(*floor);
  read_lid(top, parsed_case);
  read_base(top, parsed_case);
  read_wall_contact(top, parsed_case);
}

}  // namespace updraught
