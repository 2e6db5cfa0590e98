// What surrounds the bin, and the temperatures at the start.
#include "cases/reader/keys/keys.h"
#include "cases/reader/keys/limits.h"

namespace updraught {

namespace {

constexpr Limits half_waves{0.5, 100.0, "between 0.5 and 100"};

}  // namespace

const KeyRules& around_part() {
  static const KeyRules keys{
      key::table("outside", outside_keys).means("weather and site, see below", "as each key says"),
      key::table("initial", initial_keys)
          .means("the bed's temperature at the start: `{ temperature }`; `{ bottom, top, ripple, rolls, "
                 "rolls_lengthwise }`, linear with a roll of amplitude `ripple` and so many half waves over "
                 "the width (default 1) and, in a whole bed, over the length (default none; with it alone "
                 "none over the width); or `{ table = { height, temperature } }`",
                 "as outside")};
  return keys;
}

const KeyRules& outside_keys() {
  static const KeyRules keys{
      key::quantity("temperature", temperature_measure(), air_limits).means("of the air", "`\"10 degC\"`"),
      key::table("daily", daily_keys).means("`{ low, high }`: a wave over the day, warmest at 15 h", "-"),
      key::quantity("start_hour", time_measure(), {0.0, 86400.0, "between 0 and 24 h"})
          .means("with `daily`: clock time at the start, `\"8 h\"`", "`\"12 h\"`"),
      key::table("table", weather_table_keys)
          .means("`{ time = [\"0 d\", \"1 d\"], temperature = [\"8 degC\", \"11 degC\"] }`", "-"),
      key::quantity("shift", temperature_difference(), warmth_limits)
          .means("added to `temperature`, `daily` or `table`: a warmer or colder spell", "`\"0 K\"`"),
      key::number("humidity", {0.0, 1.0, "between 0 and 100 %"}).means("relative", "`0.75`"),
      key::quantity("pressure", pressure_measure(), {5e4, 1.1e5, "between 500 and 1100 hPa"})
          .means("of the air at the site", "`\"101325 Pa\"`"),
      key::quantity("altitude", length_measure(), {-430.0, 5000.0, "between -430 and 5000 m"})
          .means("of the site, instead of its pressure (standard atmosphere, ISO 2533)", "-"),
      key::quantity("wind", speed_measure(), wind_limits)
          .means(
              "its speed beside the bin, at the bin's height, as a steady mean: it presses on openings side "
              "by side and cools walls and lid. What a forecast says holds 10 m above open country; a metre "
              "above the ground there is about 0.5 of it where hedges stand around, 0.35 in a suburb, 0.2 "
              "in a town's middle (BS 5925, from memory)",
              "`\"0 m/s\"`, still air"),
      key::word("wind_from", {"left", "right", "front", "back"})
          .means("with `wind`: the side of a box that it blows onto; a slice has left and right alone. A box "
                 "as rings and a round bin feel its mean around",
                 "`\"left\"`"),
      key::quantity("ground", temperature_measure(), {-30.0, 50.0, "the ground is between -30 and 50 degC"})
          .means("temperature of the ground", "`\"10 degC\"` (our choice, a temperate yearly mean)")};
  return keys;
}

const KeyRules& daily_keys() {
  static const KeyRules keys{key::quantity("low", temperature_measure(), air_limits).needs("\"4 degC\""),
                             key::quantity("high", temperature_measure(), air_limits).needs("\"12 degC\"")};
  return keys;
}

const KeyRules& weather_table_keys() {
  static const KeyRules keys{
      key::list("time", time_measure(), {0.0, 4e8, "from the start on, at most twelve years"}),
      key::list("temperature", temperature_measure(), air_limits)};
  return keys;
}

const KeyRules& initial_keys() {
  static const KeyRules keys{
      key::quantity("temperature", temperature_measure(), face_limits),
      key::quantity("bottom", temperature_measure(), face_limits).needs("\"20 degC\""),
      key::quantity("top", temperature_measure(), face_limits).needs("\"10 degC\""),
      key::quantity("ripple", temperature_difference(), {-100.0, 100.0, "between -100 and 100 K"}),
      key::number("rolls", half_waves),
      key::number("rolls_lengthwise", half_waves),
      key::table("table", initial_table_keys)};
  return keys;
}

const KeyRules& initial_table_keys() {
  static const KeyRules keys{key::list("height", length_measure(), place_limits),
                             key::list("temperature", temperature_measure(), face_limits)};
  return keys;
}

}  // namespace updraught
