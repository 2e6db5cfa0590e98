#include "tests/made_cases/key_rules.h"

#include <sstream>

namespace updraught::made_cases {

namespace {

using Rows = std::vector<KeyRule>;

std::vector<std::string> parts(const std::string& text, char between) {
  std::vector<std::string> out;
  std::istringstream stream(text);
  for (std::string part; std::getline(stream, part, between);) out.push_back(part);
  return out;
}

/// Values with a unit, in quotes: `amounts` parted by "|".
KeyRule amounts(Kind table, const std::string& key, const std::string& amounts) {
  KeyRule rule{table, key, Kind::none, {}};
  for (const std::string& amount : parts(amounts, '|')) rule.values.push_back('"' + amount + '"');
  return rule;
}

/// Values as they stand, parted by "|".
KeyRule plain(Kind table, const std::string& key, const std::string& values, Kind within = Kind::none) {
  return {table, key, within, parts(values, '|')};
}

const char* const any_boundary =
    R"("insulated"|{ held_at = "30 degC" }|{ flux = "10 W/m2" }|{ film = "10 W/m2K", to = "20 degC" })"
    R"(|[ { of = "timber", thick = "18 mm" }, { of = "cork board", thick = "3 cm" } ]|{ film = "3 W/m2K" })";

Rows bin_rules() {
  using enum Kind;
  return {
      plain(top, "bin",
            R"({ width = "0.9 m", length = "0.9 m", height = "1 m" })"
            R"(|{ shape = "round", width = "55 cm", height = "90 cm" })",
            bin),
      plain(bin, "shape", R"("box"|"round")"),
      amounts(bin, "width", "1 cm|1.1 cm|5 cm|30 cm|90 cm|3 m|19.9 m|20 m"),
      amounts(bin, "length", "1 cm|1.1 cm|5 cm|30 cm|90 cm|3 m|19.9 m|20 m"),
      amounts(bin, "height", "1 cm|2 cm|10 cm|60 cm|1 m|2.5 m|9.9 m|10 m"),
      plain(top, "walls", any_boundary, boundary),
      plain(top, "sides", R"({ left = "insulated" }|{ back = { held_at = "30 degC" } })", sides),
      plain(sides, "left", any_boundary, boundary),
      plain(sides, "right", any_boundary, boundary),
      plain(sides, "front", any_boundary, boundary),
      plain(sides, "back", any_boundary, boundary),
      plain(top, "floor", any_boundary, boundary),
      plain(boundary, "layers", R"([ { of = "timber", thick = "18 mm" } ])", layer),
      amounts(boundary, "held_at", "-60 degC|-59 degC|0 degC|20 degC|60 degC|95 degC|149 degC|150 degC"),
      amounts(boundary, "flux", "-100000 W/m2|-100 W/m2|0 W/m2|10 W/m2|1000 W/m2|100000 W/m2"),
      amounts(boundary, "film", "0.001 W/m2K|0.01 W/m2K|10 W/m2K|1000 W/m2K|1000000 W/m2K"),
      amounts(boundary, "to", "-60 degC|0 degC|20 degC|99 degC|150 degC"),
      plain(layer, "of", R"("timber"|"steel"|"straw bale"|"soil"|"insulation board"|"my board")"),
      plain(layer, "like", R"("brick"|"cork board")"),
      amounts(layer, "thick", "0.01 mm|0.02 mm|1 mm|18 mm|50 cm|199 cm|2 m"),
      amounts(layer, "conductivity", "0.005 W/mK|0.006 W/mK|0.1 W/mK|5 W/mK|499 W/mK|500 W/mK"),
      plain(top, "lid",
            R"("closed"|"none"|"on the bed"|{ kind = "closed", drip = "away" })"
            R"(|{ kind = "none", held_at = "10 degC" }|[ { of = "timber", thick = "18 mm" } ])",
            lid),
      plain(lid, "kind", R"("closed"|"none"|"on the bed")"),
      plain(lid, "drip", R"("back"|"away")"),
      plain(lid, "layers", R"([ { of = "timber", thick = "18 mm" } ])", layer),
      amounts(lid, "held_at", "-60 degC|0 degC|20 degC|60 degC|150 degC"),
      amounts(lid, "flux", "-1000 W/m2|0 W/m2|100 W/m2"),
      amounts(lid, "film", "0.001 W/m2K|10 W/m2K|1000000 W/m2K"),
      amounts(lid, "to", "-60 degC|20 degC|150 degC"),
      plain(lid, "insulated", "true|false"),
      plain(top, "base",
            R"({ kind = "raised", height = "10 cm", inlet = "30 cm2" }|{ kind = "closed" })"
            R"(|{ kind = "ground" }|{ kind = "raised", inlet = "open" })",
            base),
      plain(base, "kind", R"("raised"|"closed"|"ground")"),
      amounts(base, "height", "5 mm|6 mm|10 cm|99 cm|1 m"),
      amounts(base, "inlet", "1 mm2|2 mm2|1 cm2|40 cm2|9.9 m2|10 m2|open"),
      amounts(base, "inlet_height", "0 m|1 mm|10 cm|1 m"),
      amounts(base, "soil", "0.2 W/mK|0.21 W/mK|3.9 W/mK|4 W/mK"),
      amounts(top, "wall_gap", "0 mm|0.01 mm|0.1 mm|2 mm|49 mm|5 cm"),
      plain(top, "wall_lane", "true|false"),
      plain(top, "wall_friction", "0|0.001|0.4|0.999|1"),
      plain(top, "side_load", "0|0.001|0.45|0.999|1"),
      amounts(top, "outer_film", "0.001 W/m2K|0.01 W/m2K|9 W/m2K|25 W/m2K|1000 W/m2K|1000000 W/m2K"),
  };
}

Rows opening_rules() {
  using enum Kind;
  const char* const lists =
      R"([ { where = "base", kind = "mesh", open = 0.6 } ]|[ { where = "lid", kind = "gap", size = "5 mm" } ])"
      R"(|[ { where = "side", kind = "holes", size = "12 mm", count = 60, heights = ["10 cm", "25 cm"] } ])"
      R"(|[ { where = "side", kind = "hole", size = "3 cm", heights = ["15 cm"], along = 0.5 } ])"
      R"(|[ { where = "side", kind = "slots", size = "5 mm", length = "1 m", heights = ["5 cm"] } ])"
      R"(|[ { where = "base", kind = "slots", size = "4 mm", length = "3 m" } ]|[])"
      R"(|[ { where = "base", kind = "hole", size = "5 cm" } ]|[ { where = "top", kind = "open" } ])"
      R"(|[ { where = "lid", kind = "holes", size = "6 mm", count = 24 } ]|[ { where = "top", kind = "mesh" } ])";
  return {
      plain(top, "air_in", lists, opening),
      plain(top, "air_out", lists, opening),
      plain(opening, "where", R"("side"|"base"|"lid"|"top")"),
      plain(opening, "kind", R"("open"|"mesh"|"slots"|"hole"|"holes"|"gap")"),
      plain(opening, "name", R"("way in"|"ü"|"")"),
      amounts(opening, "size", "0.5 mm|0.6 mm|0.1 mm|5 mm|3 cm|19 cm|50 cm|99 cm|1 m"),
      plain(opening, "count", "1|2|24|1000|99999|100000"),
      amounts(opening, "length", "1 mm|2 mm|1 m|3 m|99 m|100 m"),
      plain(opening, "side", R"("left"|"right"|"front"|"back"|"all")"),
      plain(opening, "heights",
            R"(["0 m"]|["1 mm"]|["10 cm", "25 cm"]|["59 cm"]|["10 m"]|["20 cm", "20 cm"])"),
      plain(opening, "along", "0|0.001|0.5|0.999|1"),
      plain(opening, "across", "0|0.001|0.5|0.999|1"),
      plain(opening, "from", "0|0.001|0.3|0.999"),
      plain(opening, "to", "0.001|0.5|0.999|1"),
      plain(opening, "open", "0.001|0.002|0.5|0.999|1"),
      plain(opening, "blocked", "0|0.001|0.5|0.998|0.999"),
      amounts(opening, "plate", "0 m|0.01 mm|18 mm|99 cm|1 m"),
      plain(opening, "loss", "0|1|1.01|2.8|999|1000"),
      amounts(opening, "pressure", "-100000 Pa|-100 Pa|-1 Pa|0 Pa|0.001 Pa|1 Pa|100 Pa|100000 Pa"),
      amounts(opening, "held_at", "-60 degC|0 degC|20 degC|60 degC|150 degC"),
      plain(opening, "diffuses", "true|false"),
  };
}

Rows recipe_rules() {
  using enum Kind;
  const char* const fills =
      R"([ { what = "kitchen waste", buckets = 3 }, { what = "woodchip, coarse", buckets = 2 } ])"
      R"(|[ { what = "grass clippings", buckets = 1 } ]|[ { what = "woodchip, fine", buckets = 1 } ])"
      R"(|[ { what = "straw", volume = "100 L" }, { what = "poultry manure", mass = "30 kg" } ])"
      R"(|[ { what = "paper", buckets = 1 }, { what = "water", buckets = 1 } ]|[ { what = "water", buckets = 1 } ])";
  return {
      plain(top, "fill", fills, portion),
      plain(portion, "what",
            R"("kitchen waste"|"grass clippings"|"straw"|"cardboard"|"sawdust"|"leaves"|"water")"
            R"(|"bread"|"nut shells"|"sewage sludge")"
            R"(|"woodchip, coarse"|"woodchip, fine"|"finished compost"|"poultry manure"|"hay")"
            R"(|"cattle manure"|"fruit"|"paper"|"our scraps")"),
      plain(portion, "buckets", "0.001|0.1|1|3|1000|99999|100000"),
      amounts(portion, "volume", "1 mL|1 L|40 L|1 m3|10000 m3"),
      amounts(portion, "mass", "1 g|1 kg|30 kg|1000 kg|10000000 kg"),
      amounts(top, "bucket", "0.1 L|0.11 L|10 L|999 L|1000 L"),
      amounts(top, "depth", "1 cm|2 cm|10 cm|60 cm|90 cm|1 m|9.9 m|10 m"),
      plain(top, "woodchip_share", R"(0|0.001|"40 %"|0.9|1)"),
      plain(top, "laws", "{ packing_excess_shift = -0.1 }|{ ergun_factor = 0.5, uptake_factor = 2 }", laws),
      plain(laws, "packing_excess_shift", "-1|-0.1|0|0.1|1"),
      plain(laws, "ergun_factor", "0.001|0.5|1|2|1000"),
      plain(laws, "uptake_factor", "0.001|0.5|1|2|1000"),
      plain(top, "activity", "0.0001|0.0002|0.02|0.5|0.98|0.99"),
      plain(top, "layers",
            R"([ { depth = "8 cm", fill = [ { what = "woodchip, coarse", buckets = 1 } ] },)"
            R"( { name = "mix", depth = "50 cm", fill = [ { what = "kitchen waste", buckets = 3 } ] } ])",
            batch),
      plain(batch, "name", R"("mix"|"base")"),
      plain(batch, "fill", fills, portion),
      amounts(batch, "depth", "1 cm|2 cm|10 cm|50 cm|10 m"),
      plain(batch, "activity", "0.0001|0.02|0.99"),
      plain(top, "refills",
            R"([ { every = 0.1, mass = "4 kg" } ]|[ { on = [0.1, 0.2], buckets = 1 } ])"
            R"(|[ { on = [0.1], fill = [ { what = "woodchip, coarse", buckets = 1 } ] } ])",
            refill),
      plain(refill, "on", "[0.04]|[0.1, 0.2]|[3660]|[]"),
      plain(refill, "every", "0.04|0.1|3|3660"),
      plain(refill, "from", "0.04|0.1|3660"),
      plain(refill, "until", "0.04|0.2|3660"),
      plain(refill, "fill", fills, portion),
      plain(refill, "buckets", "0.001|1|1000|100000"),
      amounts(refill, "volume", "1 mL|8 L|10000 m3"),
      amounts(refill, "mass", "1 g|4 kg|10000000 kg"),
      plain(top, "waterings", R"([ { every = 0.1, volume = "5 L" } ])", watering),
      plain(watering, "on", "[0.04]|[0.1, 0.2]|[3660]|[]"),
      plain(watering, "every", "0.04|0.1|3|3660"),
      plain(watering, "from", "0.04|0.1|3660"),
      plain(watering, "until", "0.04|0.2|3660"),
      amounts(watering, "volume", "1 mL|8 L|1000 m3"),
      amounts(watering, "temperature", "0 degC|20 degC|100 degC"),
      amounts(refill, "temperature", "-60 degC|-5 degC|0 degC|20 degC|150 degC"),
      plain(top, "feedstocks",
            R"({ "our scraps" = { like = "kitchen waste", moisture = "80 %" } })"
            R"(|{ "kitchen waste" = { moisture = "60 %" } })",
            feedstocks),
      plain(feedstock, "like", R"("kitchen waste"|"woodchip, coarse"|"straw"|"water")"),
      plain(feedstock, "moisture", R"(0|0.001|"20 %"|"80 %"|"95 %"|0.98)"),
      plain(feedstock, "volatile_solids", "0|0.01|0.5|0.99|1"),
      plain(feedstock, "carbon", "0|0.01|0.45|0.6"),
      plain(feedstock, "nitrogen", "0|0.0001|0.02|0.15"),
      plain(feedstock, "available_carbon", "0|0.01|0.5|1"),
      amounts(feedstock, "loose_density", "10 kg/m3|50 kg/m3|480 kg/m3|1000 kg/m3|1500 kg/m3"),
      amounts(feedstock, "piece_size", "0.1 mm|1 mm|20 mm|10 cm|50 cm"),
      amounts(feedstock, "ergun_size", "0.01 mm|0.1 mm|1 mm|1 cm|10 cm"),
      plain(feedstock, "ergun_share", "0.005|0.01|0.5|1"),
      plain(feedstock, "water_capacity", R"(0|0.01|3|"3 kg/kg"|29|30)"),
      amounts(feedstock, "basic_density", "100 kg/m3|400 kg/m3|1199 kg/m3|1200 kg/m3"),
      plain(feedstock, "inner_air", "0|0.01|0.5|1"),
      plain(feedstock, "loose_porosity", "0.05|0.06|0.6|0.97|0.98"),
      plain(feedstock, "least_porosity", "0|0.001|0.3|0.9"),
      amounts(feedstock, "softness_stress", "10 Pa|11 Pa|1 kPa|1000 kPa"),
      plain(feedstock, "rotted_stiffness", "0.01|0.3|1"),
      plain(feedstock, "mixing", "0|0.01|0.5|1"),
      plain(feedstock, "mixing_rotted", "0|0.01|0.5|1"),
      plain(feedstock, "activity", "0.0001|0.02|0.99"),
      plain(feedstock, "heat_loving_activity", "0.0001|0.02|0.99"),
      plain(feedstock, "easy_share", "0|0.3|1"),
      plain(feedstock, "middling_share", "0|0.3|1"),
      plain(feedstock, "hard_share", "0|0.4|1"),
      amounts(feedstock, "easy_rate", "0 1/d|0.01 1/d|0.5 1/d|5 1/d"),
      amounts(feedstock, "middling_rate", "0 1/d|0.01 1/d|5 1/d"),
      amounts(feedstock, "hard_rate", "0 1/d|0.01 1/d|5 1/d"),
      plain(feedstock, "easy_demand", "0|0.01|1.2|4"),
      plain(feedstock, "middling_demand", "0|0.01|1.2|4"),
      plain(feedstock, "hard_demand", "0|0.01|1.2|4"),
  };
}

Rows weather_rules() {
  using enum Kind;
  return {
      plain(top, "outside",
            R"({ temperature = "8 degC" }|{ daily = { low = "4 degC", high = "12 degC" } })"
            R"(|{ table = { time = ["0 d", "1 d"], temperature = ["8 degC", "11 degC"] } })",
            outside),
      amounts(outside, "temperature", "-60 degC|-59 degC|-20 degC|0 degC|20 degC|59 degC|60 degC"),
      plain(outside, "daily",
            R"({ low = "-60 degC", high = "60 degC" }|{ low = "4 degC", high = "12 degC" })"
            R"(|{ low = "-5 degC", high = "5 degC" }|{ low = "9 degC", high = "9 degC" })",
            daily),
      amounts(daily, "low", "-60 degC|-10 degC|0 degC|4 degC"),
      amounts(daily, "high", "5 degC|12 degC|30 degC|60 degC"),
      amounts(outside, "start_hour", "0 h|1 s|8 h|24 h"),
      plain(outside, "table",
            R"({ time = ["0 d", "1 d"], temperature = ["8 degC", "11 degC"] })"
            R"(|{ time = ["1 d", "1 d", "2 d"], temperature = ["-60 degC", "60 degC", "0 degC"] })"
            R"(|{ time = ["0 s"], temperature = ["60 degC"] })",
            weather_table),
      plain(weather_table, "time", R"(["0 d", "1 d"]|["0 s"]|["1 d", "1 d"]|["0 d", "4629 d"])"),
      plain(weather_table, "temperature", R"(["8 degC", "11 degC"]|["-60 degC"]|["60 degC", "-60 degC"])"),
      plain(outside, "humidity", R"(0|0.001|0.5|0.999|1|"75 %")"),
      amounts(outside, "pressure", "500 hPa|501 hPa|1013 hPa|1099 hPa|1100 hPa"),
      amounts(outside, "altitude", "-430 m|-429 m|0 m|1000 m|4999 m|5000 m"),
      amounts(outside, "wind", "0 m/s|0.001 m/s|4 m/s|29.9 m/s|30 m/s"),
      plain(outside, "wind_from", R"("left"|"right"|"front"|"back")"),
      amounts(outside, "shift", "-10 K|-3 K|0 K|0.001 K|3 K|10 K"),
      amounts(outside, "ground", "-30 degC|-29 degC|0 degC|49 degC|50 degC"),
      plain(top, "initial",
            R"({ temperature = "30 degC" }|{ bottom = "30 degC", top = "10 degC", ripple = "1 K" })"
            R"(|{ table = { height = ["0 m", "0.5 m"], temperature = ["40 degC", "20 degC"] } })",
            initial),
      amounts(initial, "temperature", "-60 degC|-20 degC|0 degC|30 degC|60 degC|80 degC|95 degC|150 degC"),
      amounts(initial, "bottom", "-60 degC|0 degC|30 degC|80 degC|150 degC"),
      amounts(initial, "top", "-60 degC|0 degC|10 degC|80 degC|150 degC"),
      amounts(initial, "ripple", "-100 K|-1 K|0 K|1 K|20 K|100 K"),
      plain(initial, "rolls", "0.5|1|3|99|100"),
      plain(initial, "rolls_lengthwise", "0.5|1|3|100"),
      plain(initial, "table",
            R"({ height = ["0 m", "0.5 m"], temperature = ["40 degC", "20 degC"] })"
            R"(|{ height = ["0 m", "0 m"], temperature = ["-60 degC", "150 degC"] })",
            height_table),
      plain(height_table, "height", R"(["0 m", "0.5 m"]|["10 m"]|["0.2 m", "0.2 m"])"),
      plain(height_table, "temperature", R"(["40 degC", "20 degC"]|["90 degC"]|["0 degC", "80 degC"])"),
  };
}

Rows control_rules() {
  using enum Kind;
  return {
      plain(top, "question", R"("Is it warm?"|"Wird es warm? Ä"|"")"),
      plain(top, "design", R"("the vented base"|"Ä"|"")"),
      plain(top, "told_day", "0|0.5|2|3660"),
      plain(top, "days", "0.000001|0.001|0.5|3|14|365|3660"),
      plain(top, "turned_on", "[0.001]|[0.4]|[0.1, 0.2]|[3, 6]|[2, 1]|[]"),
      plain(top, "until", R"("settled")"),
      plain(top, "mode", R"("whole"|"rings"|"slice")"),
      plain(top, "detail", R"("quick"|"usual"|"careful")"),
      plain(top, "cells",
            "[6, 8]|[4, 4, 4]|[1, 10]|[1, 1]|[1, 1, 1]|[512, 512, 512]|[512, 512]|[64, 2]|[2, 512]"),
      plain(top, "spacing", R"("graded"|"even")"),
      amounts(top, "pictures_every", "0.01 s|1 s|1 h|24 h|4629 d"),
      amounts(top, "longest_step", "0.001 s|1 s|10 min|4 h|99 d|100 d"),
      plain(top, "settles", "true|false"),
      amounts(top, "hold_temperature", "0 degC|0.1 degC|25 degC|60 degC|89 degC|90 degC"),
      plain(top, "diffusion",
            R"("Papendick and Campbell 1981"|"Millington and Quirk 1960"|"Moldrup 2000")"
            R"(|"Millington and Quirk 1961"|"Penman 1940")"),
      plain(top, "microbes", R"(true|false|{ growth = "4 1/d", oxygen_half = "1 %" }|{ quotient = 1.2 })",
            microbes),
      amounts(microbes, "growth", "0.001 1/d|0.1 1/d|4 1/d|100 1/d|800 1/d"),
      plain(microbes, "oxygen_half", R"(0.00001|0.0001|"1 %"|0.19|0.2)"),
      amounts(microbes, "heat", "0 MJ/kg|0.001 MJ/kg|14 MJ/kg|29 MJ/kg|30 MJ/kg"),
      plain(microbes, "quotient", "0.3|0.31|1|1.99|2"),
      amounts(microbes, "rim", "0.01 mm|0.1 mm|3 mm|99 mm|10 cm"),
      plain(microbes, "best_moisture", "0.2|0.21|0.6|0.94|0.95"),
      plain(microbes, "responses", R"("product"|"least")"),
  };
}

Rows prescribed_rules() {
  using enum Kind;
  return {
      plain(top, "prescribed",
            R"-({ permeability = "1e-8 m2" }|{ heat = "50 W/m3" }|{ conductivity = "0.3 W/mK" })-"
            R"-(|{ uptake = { law = "constant", rate = "0.001 mol/(m3 s)" } })-",
            prescribed),
      plain(prescribed, "permeability",
            R"("1e-15 m2"|"1e-14 m2"|"1e-10 m2"|"1e-8 m2"|"1e-6 m2"|"1e-4 m2")"
            R"(|{ height = ["0 m", "0.5 m"], value = ["1e-9 m2", "1e-7 m2"] })",
            by_place),
      amounts(prescribed, "inertia", "0 1/m|1 1/m|1000 1/m|10000000 1/m"),
      plain(prescribed, "porosity", "0.001|0.002|0.4|0.9|0.999|1"),
      amounts(prescribed, "density", "0.1 kg/m3|1 kg/m3|600 kg/m3|2400 kg/m3|3000 kg/m3"),
      amounts(prescribed, "conductivity", "0 W/mK|0.001 W/mK|0.4 W/mK|100 W/mK|10000 W/mK"),
      amounts(prescribed, "heat_capacity", "1 J/kgK|2520 J/kgK|2521 J/kgK|4000 J/kgK|100000 J/kgK"),
      amounts(prescribed, "diffusivity", "0 m2/s|1e-9 m2/s|5e-6 m2/s|1e-3 m2/s|1 m2/s"),
      plain(prescribed, "heat",
            R"("-100000 W/m3"|"-10 W/m3"|"0 W/m3"|"100 W/m3"|"5000 W/m3"|"100000 W/m3")"
            R"(|{ width = ["0 m", "0.5 m"], value = ["0 W/m3", "100 W/m3"] })",
            by_place),
      plain(by_place, "height", R"(["0 m", "0.5 m"]|["0 m", "0.5 m", "0.5 m"]|["10 m"])"),
      plain(by_place, "width", R"(["0 m", "0.5 m"]|["20 m"])"),
      plain(by_place, "length", R"(["0 m", "0.5 m"]|["0.1 m"])"),
      plain(by_place, "value", R"(["0 W/m3", "100 W/m3"]|["1e-9 m2", "1e-7 m2"]|["1e-8 m2"])"),
      plain(prescribed, "uptake",
            R"-({ law = "none" }|{ law = "constant", rate = "0.001 mol/(m3 s)" })-"
            R"-(|{ law = "monod", rate = "100 mol/(m3 s)", half = 0.000001 })-"
            R"-(|{ law = "first_order", rate = "100 1/s" })-",
            uptake),
      plain(uptake, "law", R"("none"|"constant"|"monod"|"first_order")"),
      amounts(uptake, "rate", "0 mol/(m3 s)|0.001 mol/(m3 s)|100 mol/(m3 s)|0 1/s|0.01 1/s|100 1/s"),
      plain(uptake, "half", "0.000001|0.01|0.5"),
      amounts(prescribed, "air_speed", "-1 m/s|-0.001 m/s|0 m/s|0.001 m/s|0.1 m/s|1 m/s"),
      plain(top, "air",
            R"({ kind = "moist" }|{ kind = "constant", expansion = "0.003 1/K", at = "10 degC" })"
            R"(|{ kind = "constant" })",
            air),
      plain(air, "kind", R"("moist"|"constant")"),
      amounts(air, "density", "0.001 kg/m3|1.2 kg/m3|10000 kg/m3"),
      amounts(air, "viscosity", "1e-8 Pa s|1.85e-5 Pa s|10 Pa s"),
      amounts(air, "heat_capacity", "1 J/kgK|1006 J/kgK|100000 J/kgK"),
      amounts(air, "expansion", "0 1/K|0.003 1/K|0.1 1/K"),
      amounts(air, "at", "-60 degC|10 degC|150 degC"),
  };
}

Rows all_rules() {
  Rows all;
  for (const Rows& rows :
       {bin_rules(), opening_rules(), recipe_rules(), weather_rules(), control_rules(), prescribed_rules()})
    all.insert(all.end(), rows.begin(), rows.end());
  return all;
}

}  // namespace

const std::vector<KeyRule>& key_rules() {
  static const std::vector<KeyRule> rules = all_rules();
  return rules;
}

std::vector<const KeyRule*> rules_of(Kind table) {
  std::vector<const KeyRule*> out;
  for (const KeyRule& rule : key_rules())
    if (rule.table == table) out.push_back(&rule);
  return out;
}

Kind kind_within(Kind table, std::string_view key, bool in_list) {
  if (table == Kind::feedstocks) return Kind::feedstock;
  for (const KeyRule& rule : key_rules()) {
    if (rule.table != table || rule.key != key) continue;
    const bool wall = rule.within == Kind::boundary || rule.within == Kind::lid;
    return wall && in_list ? Kind::layer : rule.within;
  }
  return Kind::none;
}

const std::vector<std::string>& odd_values() {
  static const std::vector<std::string> values = [] {
    std::vector<std::string> all = parts(
        R"x(0|1|-1|0.5|-0.0|nan|inf|-inf|1e308|-1e-308|9223372036854775807|-9223372036854775808|true|false|[]|{})x"
        R"x(|[[]]|[[[[]]]]|[1, "a", {}]|2020-01-01|07:32:00|2020-01-01T00:00:00Z|""|" "|"1"|"nan m"|"inf degC")x"
        R"x(|"1e999 m"|"1e-999 m"|"-1 m"|"0 m"|"1,000 L"|"0,9 m"|"1 500 mm"|"3 ft 2"|"½ m"|"1 m2"|"1 K"|"0 K")x"
        R"x(|"-300 degC"|"1 furlong"|"1 m^99999999999"|"1 m/m/m/m"|"1 log(re 1 mW)"|"1 m @ 5"|"1 (((((m"|"5 %")x"
        R"x(|"150 %"|"1 g/(kg h)"|"36 W/m2K/s"|"3 buckets"|"1 hours since 2020-01-01"|"1e5"|"+-1 m"|"1.2.3 m")x"
        R"x(|"0x10 m"|"\u0007"|"\u001b[2J"|"a\nb"|"\u009b2J"|"\U0001F331"|"\u202e"|"%s%n{}{0}"|"../../x"|"none")x"
        R"x(|"open"|"all"|"insulated"|["1 m", "nan m"]|[1, 2, 3, 4]|[0, 0]|[-1, 2]|[512, 512, 512])x"
        R"x(|{ a = { b = { c = 1 } } })x",
        '|');
    all.push_back('"' + std::string(300, 'x') + '"');
    all.push_back("\"1 " + std::string(3000, 'm') + '"');
    all.push_back('"' + std::string(400, '9') + " m\"");
    all.push_back("\"1 " + std::string(200, '(') + '"');
    all.push_back("\"1 km" + std::string(150, '^') + '"');
    all.push_back(std::string(200, '[') + std::string(200, ']'));
    return all;
  }();
  return values;
}

}  // namespace updraught::made_cases
