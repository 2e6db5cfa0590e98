// What holds the bed: bin, walls, floor, lid, base, and how the bed lies against the wall.
#include "cases/reader/keys/keys.h"
#include "cases/reader/keys/limits.h"

namespace updraught {

const KeyRules& bin_part() {
  static const KeyRules keys{
      key::text("question").means("what you want to know; the title of figures", "the file's name"),
      key::text("design").means(
          "what this design is called where several stand side by side: `\"the vented base\"`",
          "the file's name"),
      key::table("bin", bin_keys)
          .needs("{ shape = \"box\", width = \"0.9 m\", length = \"0.9 m\", height = \"1.0 m\" }")
          .means("`{ shape, width, length, height }`; `shape` is `\"box\"` or `\"round\"`; `width` of a "
                 "round bin is its diameter, and it has no `length`; in a slice `length` is the piece of the "
                 "heap that is computed",
                 "`shape = \"box\"`; slice: `length = \"1 m\"`; the rest is needed"),
      key::several("walls", boundary_keys, wall_layer_keys)
          .means("what surrounds the bed on all sides, see *Boundaries for heat*", "surface films alone"),
      key::table("sides", sides_keys)
          .means("`{ left, right, front, back }`, each a boundary that replaces `walls` there; left and "
                 "right lie at the ends of the width",
                 "as `walls`"),
      key::several("floor", boundary_keys, wall_layer_keys)
          .means("boundary between the bed and what lies under it", "nothing that insulates"),
      key::several("lid", lid_keys, wall_layer_keys)
          .means("`\"closed\"`, `\"none\"` (the bed's top lies open), `\"on the bed\"` (lies on it, no air "
                 "passes), or `{ kind, drip, ... }` with the keys of a boundary; a list of layers is a "
                 "closed lid of these layers. `drip = \"back\"` lets what condenses under a closed lid fall "
                 "on the bed, `\"away\"` drains it",
                 "closed, no insulation, `drip = \"back\"`"),
      key::table("base", base_keys)
          .means("`{ kind = \"raised\", height, inlet, inlet_height }` or `{ kind = \"closed\", soil }` or "
                 "`{ kind = \"ground\", soil }`. `inlet` is the free area from the space under a raised "
                 "floor to the outside, or `\"open\"`; `inlet_height` is how high above the ground its slots "
                 "lie; `height` and `inlet_height` need an inlet with an area: a base that is open all round "
                 "has no space of its own. `\"closed\"` and `\"ground\"` are computed alike: no air passes, "
                 "and heat goes through `floor` into the ground; they are two words for one thing, and only "
                 "pictures show the first with a floor. `soil` is the heat conductivity of the ground. A "
                 "closed floor that hangs above the ground is `kind = \"closed\"` with `floor = { film = \"3 "
                 "W/m2K\" }`, which leads to the air outside (18 mm of timber and its films)",
                 "raised where an opening leads through the base, else closed; `height = \"10 cm\"`, `inlet "
                 "= \"open\"`, `inlet_height = \"0 m\"`, `soil = \"1.75 W/mK\"` (EN ISO 13370: 1.5 to 2.0)"),
      key::quantity("wall_gap", length_measure(), gap_limits)
          .means("gap between bed and wall; a bed with a gap does not lean on the wall, so no friction "
                 "carries it; 2 mm all round a 0.9 m box carry as much air as the bed itself",
                 "`\"0 mm\"`"),
      key::flag("wall_lane").means("the looser packing next to the wall is computed", "`true`"),
      key::number("wall_friction", {0.0, 1.0, "between 0 and 1"})
          .means("friction of the bed on the wall, tan(delta); refused beside a `wall_gap` and in a bed "
                 "without a recipe, which does not settle",
                 "`0.4` (range 0.3 to 0.5, from memory)"),
      key::number("side_load", {0.0, 1.0, "between 0 and 1"})
          .means("side load over vertical load in the bed; refused where `wall_friction` is",
                 "`0.45` (range 0.4 to 0.5, from memory)"),
      key::quantity("outer_film", film_measure(), film_limits)
          .means("heat transfer outside walls, lid and a raised floor in the open; instead of it give `wind` "
                 "under `outside`",
                 "still air, `\"9.13 W/m2K\"`: 4 + 4 v + 5.13 at a wind of v m/s (EN ISO 6946, annex C; its "
                 "usual 25 is a wind of 4 m/s)")};
  return keys;
}

const KeyRules& bin_keys() {
  static const KeyRules keys{key::word("shape", {"box", "round"}),
                             key::quantity("width", length_measure(), width_limits).needs("\"0.9 m\""),
                             key::quantity("length", length_measure(), width_limits).needs("\"0.9 m\""),
                             key::quantity("height", length_measure(), bin_height_limits).needs("\"1.0 m\"")};
  return keys;
}

const KeyRules& sides_keys() {
  static const KeyRules keys{key::several("left", boundary_keys, wall_layer_keys),
                             key::several("right", boundary_keys, wall_layer_keys),
                             key::several("front", boundary_keys, wall_layer_keys),
                             key::several("back", boundary_keys, wall_layer_keys)};
  return keys;
}

const KeyRules& boundary_keys() {
  static const KeyRules keys{
      key::list("layers", wall_layer_keys), key::quantity("held_at", temperature_measure(), face_limits),
      key::quantity("flux", heat_flux_measure(), {-1e5, 1e5, "between -100000 and 100000 W/m2"}),
      key::quantity("film", film_measure(), film_limits),
      key::quantity("to", temperature_measure(), face_limits)};
  return keys;
}

const KeyRules& wall_layer_keys() {
  static const KeyRules keys{
      key::text("of").needs("\"timber\""), key::text("like"),
      key::quantity("thick", length_measure(), {1e-5, 2.0, "a layer is between 0.01 mm and 2 m thick"})
          .needs("\"18 mm\""),
      key::quantity("conductivity", conductivity_measure(), {0.005, 500.0, "between 0.005 and 500 W/mK"})};
  return keys;
}

const KeyRules& lid_keys() {
  static const KeyRules keys = [] {
    KeyRules all{key::word("kind", {"closed", "none", "on the bed"}), key::word("drip", {"back", "away"}),
                 key::flag("insulated")};
    all.insert(all.end(), boundary_keys().begin(), boundary_keys().end());
    return all;
  }();
  return keys;
}

const KeyRules& base_keys() {
  static const KeyRules keys{
      key::word("kind", {"raised", "closed", "ground"}),
      key::quantity("height", length_measure(), {0.005, 1.0, "between 5 mm and 1 m"}),
      key::quantity("inlet", area_measure(), {1e-6, 10.0, "between 1 mm2 and 10 m2, or \"open\""}),
      key::quantity("inlet_height", length_measure(), {0.0, 1.0, "up to 1 m above the ground"}),
      key::quantity("soil", conductivity_measure(), {0.2, 4.0, "soil conducts between 0.2 and 4 W/mK"})};
  return keys;
}

}  // namespace updraught
