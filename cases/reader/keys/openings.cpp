// Ways in and out for air.
#include "cases/reader/keys/keys.h"
#include "cases/reader/keys/limits.h"

namespace updraught {

namespace {

constexpr Limits share_limits{0.0, 1.0, "a share lies between 0 and 1 (0 and 100 %)"};

}  // namespace

const KeyRules& openings_part() {
  static const KeyRules keys{key::list("air_in", opening_keys), key::list("air_out", opening_keys)};
  return keys;
}

const KeyRules& opening_keys() {
  static const KeyRules keys{
      key::word("where", {"side", "base", "lid", "top"})
          .needs("\"base\"")
          .means("`\"side\"`, `\"base\"` (needs a raised base), `\"lid\"` (needs a closed lid), `\"top\"` "
                 "(the bed's own surface, without a lid)",
                 "needed"),
      key::word("kind", {"open", "mesh", "slots", "hole", "holes", "gap"})
          .needs("\"mesh\"")
          .means("at a side `\"hole\"`, `\"holes\"`, `\"slots\"`; in the base `\"open\"`, `\"mesh\"`, "
                 "`\"slots\"`, `\"hole\"`, `\"holes\"`; in the lid `\"gap\"`, `\"mesh\"`, `\"slots\"`, "
                 "`\"hole\"`, `\"holes\"`; on top `\"open\"`, `\"mesh\"`",
                 "needed"),
      key::text("name").means("how results call it", "place and kind, `\"side holes\"`"),
      key::quantity("size", length_measure(),
                    {0.0001, 1.0, "holes 0.5 mm to 1 m, slits 0.1 mm to 50 cm, meshes 0.1 mm to 20 cm"})
          .means("hole: diameter; slots and gap: width of the slit; mesh: width of its meshes",
                 "needed; mesh `\"6 mm\"` (keeps mice out)"),
      key::count("count", {1.0, 100000.0, "1 to 100000 holes"})
          .needs("12")
          .means("holes: how many, over all sides and heights", "needed"),
      key::quantity("length", length_measure(), {0.001, 100.0, "between 1 mm and 100 m"})
          .means("slots, gap: length of all slits together",
                 "all round, once for each height; needed in a base"),
      key::word("side", {"left", "right", "front", "back", "all"})
          .means("`\"left\"`, `\"right\"`, `\"front\"`, `\"back\"`, `\"all\"`", "all; a single hole: right"),
      key::list("heights", length_measure(), {0.0, 10.0, "between 0 and 10 m above the floor"})
          .needs("[\"15 cm\"]")
          .means("at a side: list of heights above the floor", "needed"),
      key::number("along", share_limits)
          .means("a single hole: where along its wall, or in the base or lid along the width, 0 to 1",
                 "`0.5`"),
      key::number("across", share_limits)
          .means("a single hole in the base or lid: where along the length, 0 to 1", "`0.5`"),
      key::number("from", share_limits)
          .means("open, mesh: where the open part of the width begins, 0 to 1", "`0`"),
      key::number("to", share_limits).means("open, mesh: where it ends", "`1`"),
      key::number("open", {0.001, 1.0, "between 0.1 and 100 %"})
          .means("mesh: open area per area; holes: of a mesh that covers them",
                 "mesh `0.5` (our choice), holes `1`"),
      key::number("blocked", {0.0, 0.999, "between 0 and 99.9 %"})
          .means("share of the open area that is clogged", "`0`"),
      key::quantity("plate", length_measure(), {0.0, 1.0, "a board is up to 1 m thick"})
          .means("thickness of the board that the air crosses",
                 "that of the wall, floor or lid it lies in, `\"all\"` sides each their own; a gap under the "
                 "lid crosses the rims of the walls; behind a mesh none"),
      key::number("loss", {0.0, 1000.0, "0 (none) or 1 to 1000 velocity heads"})
          .means("pressure lost where the air jets out, in velocity heads; 0 for none",
                 "2.8 (discharge 0.6); `\"open\"`: 0"),
      key::quantity("pressure", pressure_measure(), {-1e5, 1e5, "between -100 and 100 kPa"})
          .means("imposed outside this opening, above the still air there", "`\"0 Pa\"`"),
      key::quantity("held_at", temperature_measure(), face_limits)
          .means("base and top, open or mesh: the bed's face has this temperature, also where air leaves",
                 "not held"),
      key::flag("diffuses").means("oxygen, heat and vapour also diffuse through it", "`true`")};
  return keys;
}

}  // namespace updraught
