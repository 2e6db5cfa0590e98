// How the case is computed.
#include "cases/reader/keys/keys.h"

namespace updraught {

const KeyRules& computing_part() {
  static const KeyRules keys{
      key::number("told_day", {0.0, 3660.0, "between 0 and 3660 days"})
          .means("the day that figures show and sentences about places speak of; 0 lets the program choose",
                 "the day with the least air, or, where there is air, the hottest"),
      key::number("days", {1e-6, 3660.0, "more than 0 and up to 3660 days"}, days_measure())
          .means("how long", "`14`"),
      key::list("turned_on", days_measure(), {1e-3, 3660.0, "more than a minute and up to 3660 days"})
          .means("days on which all of the bed is turned: mixed, settled anew, its pores filled with "
                 "outside air once; what cools while it lies open is not counted",
                 "never"),
      key::word("until", {"settled"}).means("`\"settled\"`: stop early when nothing changes any more", "-"),
      key::word("mode", {"whole", "rings", "slice"})
          .means("`\"whole\"` (a box in all three directions), `\"rings\"` (round bins; a box becomes rings "
                 "whose middle loses heat as its own does), `\"slice\"` (a piece of a long heap)",
                 "round: rings; a box in quick detail: rings if nothing about it is one-sided; else whole"),
      key::word("detail", {"quick", "usual", "careful"})
          .means("`\"quick\"`, `\"usual\"`, `\"careful\"`: whole 12 x 12 x 16, 32 x 32 x 36, 48 x 48 x 56; "
                 "rings 24 x 40, 32 x 48, 48 x 80; slice 24 x 32, 48 x 48, 80 x 72; at least two in height "
                 "for each layer of material",
                 "usual"),
      key::list("cells", {"a whole number", "", "12", false, false, true},
                {1.0, 512.0, "1 to 512 parts in each direction"})
          .means("your own counts instead of `detail`: `[nx, ny, nz]` for whole, `[nx, nz]` for rings and "
                 "slices",
                 "-"),
      key::word("spacing", {"graded", "even"})
          .means("`\"graded\"` (finer at walls, floor and top) or `\"even\"`", "graded"),
      key::quantity("pictures_every", time_measure(), {0.01, 4e8, "between 0.01 s and twelve years"})
          .means("time between stored pictures", "`\"24 h\"`"),
      key::quantity("longest_step", time_measure(), {1e-3, 1e7, "between 0.001 s and 100 days"})
          .means("longest step of time", "`\"4 h\"`; `\"2 h\"` where the outside temperature varies"),
      key::several("microbes", microbes_keys)
          .means("`true`, `false` (nothing breathes, rots or warms), or constants: `{ growth, oxygen_half, "
                 "heat, quotient, rim, best_moisture, responses }`",
                 "`true`; `growth = \"4 1/d\"` (our choice), `oxygen_half = \"1 %\"` (our choice, 0.1 to 2), "
                 "`heat = \"14 MJ/kg\"` of oxygen (handbooks 13.6 to 14.4), `quotient = 1`, `rim = \"3 mm\"` "
                 "(our choice, 1.5 to 6), `best_moisture = 0.6`, `responses = \"product\"` or `\"least\"`"),
      key::flag("settles").means("the bed goes on sinking after filling", "`true`"),
      key::quantity("hold_temperature", temperature_measure(), {0.0, 90.0, "between 0 and 90 degC"})
          .means("the whole bed is held at it", "not held"),
      key::word("diffusion", {"Papendick and Campbell 1981", "Millington and Quirk 1960",
                              "Millington and Quirk 1961", "Penman 1940", "Moldrup 2000"})
          .means("law of gas diffusion: `\"Papendick and Campbell 1981\"`, `\"Millington and Quirk 1960\"`, "
                 "`\"Millington and Quirk 1961\"`, `\"Penman 1940\"`, `\"Moldrup 2000\"`",
                 "the first")};
  return keys;
}

const KeyRules& microbes_keys() {
  static const KeyRules keys{
      key::quantity("growth", rate_measure(), {1e-8, 1e-2, "between 0.001 and 800 per day"}),
      key::number("oxygen_half", {1e-5, 0.2, "between 0.001 and 20 % oxygen"}),
      key::quantity("heat", heat_per_mass_measure(), {0.0, 3e7, "between 0 and 30 MJ/kg"}),
      key::number("quotient", {0.3, 2.0, "between 0.3 and 2"}),
      key::quantity("rim", length_measure(), {1e-5, 0.1, "between 0.01 mm and 10 cm"}),
      key::number("best_moisture", {0.2, 0.95, "between 20 and 95 %"}, mass_per_mass_measure()),
      key::word("responses", {"product", "least"})};
  return keys;
}

}  // namespace updraught
