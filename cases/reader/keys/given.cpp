// What is given instead of computed.
#include "cases/reader/keys/keys.h"
#include "cases/reader/keys/limits.h"

namespace updraught {

namespace {

constexpr Limits permeability_limits{1e-16, 1e-3, "between 1e-16 and 1e-3 m2"};
constexpr Limits heat_limits{-1e5, 1e5, "between -100000 and 100000 W/m3"};
constexpr Limits heat_place_limits{0.0, 20.0,
                                   "between 0 and 20 m from the floor, the left wall or the front wall"};

}  // namespace

const KeyRules& given_part() {
  static const KeyRules keys{key::table("prescribed", prescribed_keys), key::table("air", air_keys)};
  return keys;
}

const KeyRules& prescribed_keys() {
  static const KeyRules keys{
      key::by_place("permeability", permeability_measure(), permeability_limits, permeability_table_keys)
          .means("`\"1e-8 m2\"`, or by height: `{ height = [\"0 m\", \"0.5 m\", \"0.5 m\", \"1 m\"], value = "
                 "[...] }`, linear between rows; the same height twice is a jump",
                 ""),
      key::quantity("inertia", per_length_measure(), {0.0, 1e7, "between 0 and 1e7 1/m"})
          .means("coefficient b of grad p = mu/k u + rho b u^2", ""),
      key::number("porosity", {0.001, 1.0, "between 0.1 and 100 %"}).means("both air spaces", ""),
      key::quantity("density", density_measure(), {0.1, 3000.0, "between 0.1 and 3000 kg/m3"})
          .means("wet bulk density", ""),
      key::quantity("conductivity", conductivity_measure(), {0.0, 1e4, "between 0 and 10000 W/mK"})
          .means("of heat", ""),
      key::quantity("heat_capacity", heat_capacity_measure(), {1.0, 1e5, "between 1 and 100000 J/kgK"})
          .means("per wet mass", ""),
      key::quantity("diffusivity", diffusivity_measure(), {0.0, 1.0, "between 0 and 1 m2/s"})
          .means("of all gases in the bed, effective", ""),
      key::by_place("heat", heat_source_measure(), heat_limits, heat_table_keys)
          .means("source per volume, constant or by height; also by width (whole, slice; from the left wall) "
                 "or length (whole; from the front): `{ width = [\"0 m\", \"0.5 m\"], value = [\"0 W/m3\", "
                 "\"100 W/m3\"] }`",
                 ""),
      key::table("uptake", uptake_keys)
          .means("`{ law, rate, half }`: `\"none\"`; `\"constant\"` or `\"monod\"` with a rate in mol/(m3 s) "
                 "and `half` as a share of oxygen (default 0.01); `\"first_order\"` with a rate in 1/s on "
                 "what is in the gas",
                 ""),
      key::quantity("air_speed", speed_measure(), {-1.0, 1.0, "between -1 and 1 m/s"})
          .means("the air's upward speed instead of a computed flow, through all of the floor and all of the "
                 "top: one opening in each, none in the walls; `\"0 m/s\"`: it does not move",
                 "")};
  return keys;
}

const KeyRules& permeability_table_keys() {
  static const KeyRules keys{key::list("height", length_measure(), place_limits),
                             key::list("value", permeability_measure(), permeability_limits)};
  return keys;
}

const KeyRules& heat_table_keys() {
  static const KeyRules keys{key::list("height", length_measure(), heat_place_limits),
                             key::list("width", length_measure(), heat_place_limits),
                             key::list("length", length_measure(), heat_place_limits),
                             key::list("value", heat_source_measure(), heat_limits)};
  return keys;
}

const KeyRules& uptake_keys() {
  static const KeyRules keys{key::word("law", {"none", "constant", "first_order", "monod"}).needs("\"none\""),
                             key::quantity("rate", molar_rate_measure(), {0.0, 100.0, "between 0 and 100"}),
                             key::number("half", {1e-6, 0.5, "between 0.0001 and 50 % oxygen"})};
  return keys;
}

const KeyRules& air_keys() {
  static const KeyRules keys{
      key::word("kind", {"moist", "constant"}).needs("\"constant\""),
      key::quantity("density", density_measure(), {1e-3, 1e4, "between 0.001 and 10000 kg/m3"}),
      key::quantity("viscosity", viscosity_measure(), {1e-8, 10.0, "between 1e-8 and 10 Pa s"}),
      key::quantity("heat_capacity", heat_capacity_measure(), {1.0, 1e5, "between 1 and 100000 J/kgK"}),
      key::quantity("expansion", expansion_measure(), {0.0, 0.1, "between 0 and 0.1 1/K"}),
      key::quantity("at", temperature_measure(), face_limits)};
  return keys;
}

const KeyRules& top_keys() {
  static const KeyRules keys = [] {
    KeyRules all;
    for (const KeyRules& part :
         {bin_part(), openings_part(), recipe_part(), around_part(), computing_part(), given_part()})
      all.insert(all.end(), part.begin(), part.end());
    return all;
  }();
  return keys;
}

}  // namespace updraught
