// The pairs of cases that differ in one key only, for every key of a case file.
#pragma once

#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "cases/library/feedstock_library.h"
#include "tests/whole/program.h"

namespace updraught::whole {

/// One key: lines laid over a base case, and lines laid over that which differ in the key alone.
struct Row {
  std::string key;
  std::string base;  ///< box, sides, whole, given or slice
  std::string both;
  std::string other;
};

inline const std::map<std::string, std::string>& bases() {
  static const std::string shared =
      "bin = { width = \"0.9 m\", length = \"0.9 m\", height = \"1 m\" }\n"
      "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
      "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
      "fill = [ { what = \"kitchen waste\", buckets = 2 }, { what = \"woodchip, coarse\", buckets = 3 } ]\n"
      "depth = \"0.6 m\"\n"
      "outside = { temperature = \"12 degC\" }\n"
      "initial = { temperature = \"30 degC\" }\n"
      "days = 0.3\n";
  static const std::string vented = "air_in = [ { where = \"base\", kind = \"mesh\" } ]\n";
  static const std::string textbook =
      "bin = { width = \"1 m\", height = \"1 m\" }\n"
      "mode = \"slice\"\ncells = [6, 8]\nspacing = \"even\"\n"
      "walls = \"insulated\"\nbase = { kind = \"closed\" }\nfloor = { held_at = \"30 degC\" }\n"
      "lid = { kind = \"none\", held_at = \"10 degC\" }\n"
      "air = { kind = \"constant\", expansion = \"0.003 1/K\", at = \"10 degC\" }\n"
      "initial = { bottom = \"30 degC\", top = \"10 degC\", ripple = \"1 K\" }\n"
      "outside = { temperature = \"10 degC\" }\ndays = 0.3\n"
      "prescribed.permeability = \"1e-7 m2\"\nprescribed.porosity = 0.4\nprescribed.density = \"600 kg/m3\"\n"
      "prescribed.conductivity = \"0.3 W/mK\"\nprescribed.heat_capacity = \"1000 J/kgK\"\n"
      "prescribed.diffusivity = \"5e-6 m2/s\"\n";
  static const std::map<std::string, std::string> texts{
      {"box", shared + vented + "mode = \"rings\"\ncells = [6, 8]\n"},
      {"sides", shared + "base = { kind = \"closed\" }\nmode = \"rings\"\ncells = [6, 8]\n"},
      {"whole", shared + vented + "mode = \"whole\"\ncells = [8, 8, 6]\n"},
      {"given", textbook},
      {"slice", shared + vented + "mode = \"slice\"\ncells = [6, 8]\n"}};
  return texts;
}

inline std::vector<Row> bin_rows() {
  const std::string boards = "walls = [ { of = \"brick\", thick = \"5 cm\" } ]";
  return {
      {"question", "box", "", "question = \"Is it warm?\""},
      {"design", "box", "", "design = \"the vented base\""},
      {"bin.shape", "box", "", "bin = { shape = \"round\", width = \"0.9 m\", height = \"1 m\" }"},
      {"bin.width", "whole", "", "bin = { width = \"0.8 m\", length = \"0.9 m\", height = \"1 m\" }"},
      {"bin.length", "whole", "", "bin = { width = \"0.9 m\", length = \"0.8 m\", height = \"1 m\" }"},
      {"bin.height", "box", "", "bin = { width = \"0.9 m\", length = \"0.9 m\", height = \"1.2 m\" }"},
      {"walls.of", "box", "", "walls = [ { of = \"cork board\", thick = \"18 mm\" } ]"},
      {"walls.thick", "box", "", "walls = [ { of = \"timber\", thick = \"25 mm\" } ]"},
      {"walls.conductivity", "box", "",
       "walls = [ { of = \"timber\", thick = \"18 mm\", conductivity = \"0.2 W/mK\" } ]"},
      {"walls.layers", "box", "walls = \"insulated\"",
       "walls = { layers = [ { of = \"timber\", thick = \"18 mm\" } ] }"},
      {"walls.held_at", "box", "walls = { held_at = \"20 degC\" }", "walls = { held_at = \"25 degC\" }"},
      {"walls.flux", "box", "walls = { flux = \"5 W/m2\" }", "walls = { flux = \"9 W/m2\" }"},
      {"walls.film", "box", "walls = { film = \"5 W/m2K\" }", "walls = { film = \"9 W/m2K\" }"},
      {"walls.to", "box", "walls = { film = \"5 W/m2K\" }",
       "walls = { film = \"5 W/m2K\", to = \"20 degC\" }"},
      {"sides.left", "whole", "sides = { left = \"insulated\" }",
       "sides = { left = { held_at = \"20 degC\" } }"},
      {"sides.right", "whole", "sides = { right = \"insulated\" }",
       "sides = { right = { held_at = \"20 degC\" } }"},
      {"sides.front", "whole", "sides = { front = \"insulated\" }",
       "sides = { front = { held_at = \"20 degC\" } }"},
      {"sides.back", "whole", "sides = { back = \"insulated\" }",
       "sides = { back = { held_at = \"20 degC\" } }"},
      {"sides", "whole", "", "sides = { left = \"insulated\" }"},
      {"walls", "box", "", boards},
      {"floor", "box", "", "floor = { held_at = \"20 degC\" }"},
      {"lid", "box", "", "lid = [ { of = \"timber\", thick = \"18 mm\" } ]"},
      {"lid.kind", "box", "- air_out\nlid = { kind = \"on the bed\" }", "lid = { kind = \"closed\" }"},
      {"lid.drip", "box", "outside = { temperature = \"-5 degC\" }",
       "lid = { kind = \"closed\", drip = \"away\" }"},
      {"lid.insulated", "box", "", "lid = { kind = \"closed\", insulated = true }"},
      {"base.kind", "sides", "",
       "base = { kind = \"raised\" }\nair_in = [ { where = \"base\", kind = \"open\" } ]"},
      {"base.height", "box", "base = { inlet = \"30 cm2\" }",
       "base = { inlet = \"30 cm2\", height = \"20 cm\" }"},
      {"base.inlet", "box", "", "base = { inlet = \"30 cm2\" }"},
      {"base.inlet_height", "box", "base = { inlet = \"30 cm2\" }",
       "base = { inlet = \"30 cm2\", inlet_height = \"5 cm\" }"},
      {"base.soil", "sides", "", "base = { kind = \"closed\", soil = \"2.5 W/mK\" }"},
      {"wall_gap", "box", "", "wall_gap = \"2 mm\""},
      {"wall_lane", "box", "", "wall_lane = false"},
      {"wall_friction", "box", "", "wall_friction = 0.2"},
      {"side_load", "box", "", "side_load = 0.3"},
      {"outer_film", "box", "", "outer_film = \"10 W/m2K\""},
  };
}

inline std::vector<Row> opening_rows() {
  const auto holes = [](const std::string& more) {
    return "air_in = [ { where = \"side\", kind = \"holes\", size = \"12 mm\", count = 60, heights = [\"10 "
           "cm\"]" +
           more + " } ]";
  };
  const auto mesh = [](const std::string& more) {
    return "air_in = [ { where = \"base\", kind = \"mesh\"" + more + " } ]";
  };
  const auto hole = [](const std::string& where, const std::string& more) {
    return "air_in = [ { where = \"" + where + "\", kind = \"hole\", size = \"5 cm\"" + more + " } ]";
  };
  const auto slots = [](const std::string& more) {
    return "air_in = [ { where = \"base\", kind = \"slots\", size = \"4 mm\", " + more + " } ]";
  };
  const std::string high = ", heights = [\"10 cm\"]";
  return {
      {"air_in", "box", "",
       mesh("").replace(mesh("").size() - 1, 1,
                        ", { where = \"side\", kind = \"hole\", size = \"5 cm\", heights = [\"10 cm\"] } ]")},
      {"air_out", "box", "", "- air_out"},
      {"air_out.where", "box",
       "air_out = [ { where = \"lid\", kind = \"holes\", size = \"12 mm\", count = 20 } ]",
       "air_out = [ { where = \"base\", kind = \"holes\", size = \"12 mm\", count = 20 } ]"},
      {"air_in.kind", "box", "", "air_in = [ { where = \"base\", kind = \"open\" } ]"},
      {"air_in.name", "box", "", mesh(", name = \"grate\"")},
      {"air_in.size", "sides", holes(""), holes("").replace(holes("").find("12 mm"), 5, "9 mm")},
      {"mesh: size", "box", mesh(", open = 0.1"), mesh(", open = 0.1, size = \"1 mm\"")},
      {"air_in.count", "sides", holes(""), holes("").replace(holes("").find("60"), 2, "90")},
      {"air_in.heights", "sides", holes(""), holes("").replace(holes("").find("10 cm"), 5, "25 cm")},
      {"air_in.length", "box", slots("length = \"1 m\""), slots("length = \"2 m\"")},
      {"air_in.side", "whole", hole("side", high), hole("side", high + ", side = \"front\"")},
      {"air_in.along", "whole", hole("side", high), hole("side", high + ", along = 0.2")},
      {"air_in.across", "whole", hole("base", ", along = 0.3"), hole("base", ", along = 0.3, across = 0.2")},
      {"air_in.from", "whole", mesh(""), mesh(", from = 0.4")},
      {"air_in.to", "whole", mesh(""), mesh(", to = 0.6")},
      {"air_in.open", "box", mesh(""), mesh(", open = 0.05")},
      {"holes: open", "sides", holes(""), holes(", open = 0.5")},
      {"air_in.blocked", "box", mesh(""), mesh(", blocked = 0.9")},
      {"air_in.plate", "sides", holes(", plate = \"5 mm\""), holes(", plate = \"50 mm\"")},
      {"air_in.loss", "sides", holes(""), holes(", loss = 5")},
      {"air_in.pressure", "box", mesh(""), mesh(", pressure = \"1 Pa\"")},
      {"air_in.held_at", "box", mesh(", held_at = \"20 degC\""), mesh(", held_at = \"30 degC\"")},
      {"air_in.diffuses", "box", "lid = \"none\"\nair_out = [ { where = \"top\", kind = \"open\" } ]",
       "air_out = [ { where = \"top\", kind = \"open\", diffuses = false } ]"},
  };
}

inline std::vector<Row> fill_rows() {
  const std::string chips = ", { what = \"woodchip, coarse\", buckets = 3 } ]";
  const std::string layers = "- fill\n- depth\n";
  const auto two = [](const std::string& lower, const std::string& upper) {
    return "layers = [ { " + lower + ", fill = [ { what = \"woodchip, coarse\", buckets = 1 } ] }, { " +
           upper +
           ", fill = [ { what = \"kitchen waste\", buckets = 1 }, { what = \"woodchip, coarse\", buckets = 1 "
           "} ] } ]";
  };
  const std::string deep = "depth = \"50 cm\"";
  const auto pour = [](const std::string& what) { return "waterings = [ { " + what + " } ]"; };
  const auto more = [](const std::string& what) { return "refills = [ { " + what + " } ]"; };
  return {
      {"fill", "box", "", "fill = [ { what = \"grass\", buckets = 2 }" + chips},
      {"woodchip_share", "box", "", "woodchip_share = 0.5"},
      {"laws", "box", "", "laws = { ergun_factor = 0.5 }"},
      {"laws.packing_excess_shift", "box", "", "laws = { packing_excess_shift = -0.1 }"},
      {"laws.ergun_factor", "box", "", "laws = { ergun_factor = 2 }"},
      {"laws.uptake_factor", "box", "", "laws = { uptake_factor = 2 }"},
      {"fill.what", "box", "", "fill = [ { what = \"cooked food\", buckets = 2 }" + chips},
      {"fill.buckets", "box", "", "fill = [ { what = \"kitchen waste\", buckets = 3 }" + chips},
      {"fill.volume", "box", "fill = [ { what = \"kitchen waste\", volume = \"20 L\" }" + chips,
       "fill = [ { what = \"kitchen waste\", volume = \"30 L\" }" + chips},
      {"fill.mass", "box", "fill = [ { what = \"kitchen waste\", mass = \"10 kg\" }" + chips,
       "fill = [ { what = \"kitchen waste\", mass = \"15 kg\" }" + chips},
      {"bucket", "box", "- depth\nbucket = \"80 L\"", "bucket = \"90 L\""},
      {"depth", "box", "", "depth = \"0.7 m\""},
      {"activity", "box", "", "activity = 0.2"},
      {"layers", "box", layers + two("depth = \"10 cm\"", deep), two("depth = \"20 cm\"", deep)},
      {"layers.depth", "box", layers + two("depth = \"10 cm\"", deep),
       two("depth = \"10 cm\"", "depth = \"60 cm\"")},
      {"layers.activity", "box", layers + two("depth = \"10 cm\"", deep),
       two("depth = \"10 cm\"", deep + ", activity = 0.3")},
      {"layers.fill", "box", layers + two("depth = \"10 cm\"", deep),
       replaced(two("depth = \"10 cm\"", deep), "woodchip, coarse", "woodchip, fine")},
      {"refills", "box", "", "refills = [ { every = 0.1, mass = \"20 kg\" } ]"},
      {"refills.fill", "box", more("on = [0.1], fill = [ { what = \"grass\", buckets = 1 } ]"),
       more("on = [0.1], fill = [ { what = \"straw\", buckets = 1 } ]")},
      {"refills.buckets", "box", more("on = [0.1], buckets = 1"), more("on = [0.1], buckets = 2")},
      {"refills.volume", "box", more("on = [0.1], volume = \"10 L\""), more("on = [0.1], volume = \"20 L\"")},
      {"refills.mass", "box", more("on = [0.1], mass = \"10 kg\""), more("on = [0.1], mass = \"20 kg\"")},
      {"waterings", "box", "", pour("on = [0.1], volume = \"10 L\"")},
      {"waterings.volume", "box", pour("on = [0.1], volume = \"10 L\""),
       pour("on = [0.1], volume = \"20 L\"")},
      {"waterings.temperature", "box", pour("on = [0.1], volume = \"10 L\""),
       pour("on = [0.1], volume = \"10 L\", temperature = \"30 degC\"")},
      {"refills.temperature", "box", more("on = [0.1], mass = \"20 kg\""),
       more("on = [0.1], mass = \"20 kg\", temperature = \"5 degC\"")},
      {"feedstocks", "box", "", "feedstocks = { \"kitchen waste\" = { moisture = \"70 %\" } }"},
      {"feedstocks.like", "box",
       "fill = [ { what = \"mine\", buckets = 2 }" + chips +
           "\nfeedstocks = { mine = { like = \"kitchen waste\" } }",
       "feedstocks = { mine = { like = \"grass\" } }"},
  };
}

/// When something is done by hand, of all that says so.
inline std::vector<Row> by_hand_rows() {
  std::vector<Row> rows;
  for (const std::string key : {"refills", "waterings"}) {
    const auto on = [&](const std::string& when) {
      return key + " = [ { " + when + ", volume = \"20 L\" } ]";
    };
    rows.insert(rows.end(), {{key + ".on", "box", on("on = [0.1]"), on("on = [0.2]")},
                             {key + ".every", "box", on("every = 0.1"), on("every = 0.12")},
                             {key + ".from", "box", on("every = 0.1"), on("every = 0.1, from = 0.05")},
                             {key + ".until", "box", on("every = 0.1"), on("every = 0.1, until = 0.15")}});
  }
  return rows;
}

inline std::vector<Row> surroundings_rows() {
  const std::string wave = "outside = { daily = { low = \"4 degC\", high = \"12 degC\" }";
  const auto table = [](const std::string& time, const std::string& temperature) {
    return "outside = { table = { time = [\"0 h\", \"" + time + "\"], temperature = [\"8 degC\", \"" +
           temperature + "\"] } }";
  };
  const auto heights = [](const std::string& height, const std::string& temperature) {
    return "initial = { table = { height = [\"0 m\", \"" + height + "\"], temperature = [\"20 degC\", \"" +
           temperature + "\"] } }";
  };
  const std::string linear = "initial = { bottom = \"30 degC\", top = \"10 degC\"";
  return {
      {"outside", "box", "", "- outside"},
      {"outside.temperature", "box", "", "outside = { temperature = \"5 degC\" }"},
      {"outside.daily.low", "box", wave + " }",
       "outside = { daily = { low = \"2 degC\", high = \"12 degC\" } }"},
      {"outside.daily.high", "box", wave + " }",
       "outside = { daily = { low = \"4 degC\", high = \"16 degC\" } }"},
      {"outside.start_hour", "box", wave + " }", wave + ", start_hour = \"6 h\" }"},
      {"outside.table.time", "box", table("7 h", "14 degC"), table("3 h", "14 degC")},
      {"outside.table.temperature", "box", table("7 h", "14 degC"), table("7 h", "12 degC")},
      {"outside.humidity", "box", "", "outside = { temperature = \"12 degC\", humidity = 0.2 }"},
      {"outside.pressure", "box", "", "outside = { temperature = \"12 degC\", pressure = \"950 hPa\" }"},
      {"outside.altitude", "box", "", "outside = { temperature = \"12 degC\", altitude = \"1000 m\" }"},
      {"outside.ground", "sides", "", "outside = { temperature = \"12 degC\", ground = \"4 degC\" }"},
      {"outside.wind", "box", "", "outside = { temperature = \"12 degC\", wind = \"5 m/s\" }"},
      {"outside.wind_from", "whole",
       "air_in = [ { where = \"side\", kind = \"hole\", side = \"left\", size = \"3 cm\", heights = [\"10 "
       "cm\"] } ]\n"
       "outside = { temperature = \"12 degC\", wind = \"3 m/s\" }",
       "outside = { temperature = \"12 degC\", wind = \"3 m/s\", wind_from = \"right\" }"},
      {"outside.shift", "box", "", "outside = { temperature = \"12 degC\", shift = \"3 K\" }"},
      {"initial", "box", "", "- initial"},
      {"initial.temperature", "box", "", "initial = { temperature = \"40 degC\" }"},
      {"initial.bottom", "given", "",
       "initial = { bottom = \"25 degC\", top = \"10 degC\", ripple = \"1 K\" }"},
      {"initial.top", "given", "", "initial = { bottom = \"30 degC\", top = \"15 degC\", ripple = \"1 K\" }"},
      {"initial.ripple", "given", "", linear + ", ripple = \"2 K\" }"},
      {"initial.rolls", "given", "", linear + ", ripple = \"1 K\", rolls = 2 }"},
      {"initial.rolls_lengthwise", "whole", linear + ", ripple = \"1 K\" }",
       linear + ", ripple = \"1 K\", rolls_lengthwise = 1 }"},
      {"initial.table.height", "box", heights("0.5 m", "40 degC"), heights("0.3 m", "40 degC")},
      {"initial.table.temperature", "box", heights("0.5 m", "40 degC"), heights("0.5 m", "45 degC")},
  };
}

inline std::vector<Row> computing_rows() {
  const std::string longer = "days = 3";
  return {
      {"told_day", "box", "", "told_day = 0.1"},
      {"days", "box", "", "days = 0.4"},
      {"turned_on", "box", "", "turned_on = [0.1]"},
      {"until", "given",
       "air = { kind = \"constant\", expansion = \"0 1/K\" }\ndays = 400\nlongest_step = \"3 d\"",
       "until = \"settled\""},
      {"mode", "slice", "", "mode = \"rings\""},
      {"detail", "box", "- cells\ndetail = \"quick\"\ndays = 0.05", "detail = \"usual\""},
      {"cells", "box", "", "cells = [7, 8]"},
      {"spacing", "box", "", "spacing = \"even\""},
      {"pictures_every", "box", "", "pictures_every = \"2 h\""},
      {"longest_step", "box", "longest_step = \"1 h\"", "longest_step = \"10 min\""},
      {"microbes", "box", "", "microbes = false"},
      {"microbes.growth", "box", "", "microbes = { growth = \"6 1/d\" }"},
      {"microbes.oxygen_half", "box", "", "microbes = { oxygen_half = \"2 %\" }"},
      {"microbes.heat", "box", "", "microbes = { heat = \"13 MJ/kg\" }"},
      {"microbes.quotient", "box", "", "microbes = { quotient = 0.8 }"},
      {"microbes.rim", "box", "", "microbes = { rim = \"1.5 mm\" }"},
      {"microbes.best_moisture", "box", "", "microbes = { best_moisture = 0.5 }"},
      {"microbes.responses", "box", "", "microbes = { responses = \"least\" }"},
      {"settles", "box", "activity = 0.9\n" + longer, "settles = false"},
      {"hold_temperature", "box", "- initial", "hold_temperature = \"40 degC\""},
      {"diffusion: Millington and Quirk 1960", "box", "", "diffusion = \"Millington and Quirk 1960\""},
      {"diffusion: Millington and Quirk 1961", "box", "", "diffusion = \"Millington and Quirk 1961\""},
      {"diffusion: Penman 1940", "box", "", "diffusion = \"Penman 1940\""},
      {"diffusion", "box", "", "diffusion = \"Moldrup 2000\""},
  };
}

inline std::vector<Row> prescribed_rows() {
  const std::string table = "prescribed.permeability = { height = [\"0 m\", \"";
  const auto air = [](const std::string& more) {
    return "air = { kind = \"constant\", expansion = \"0.003 1/K\", at = \"10 degC\"" + more + " }";
  };
  const auto uptake = [](const std::string& law) { return "prescribed.uptake = { law = " + law + " }"; };
  return {
      {"prescribed", "box", "", "prescribed = { permeability = \"1e-9 m2\" }"},
      {"prescribed.permeability", "given", "", "prescribed.permeability = \"2e-7 m2\""},
      {"prescribed.permeability.height", "given", table + "0.5 m\"], value = [\"1e-7 m2\", \"3e-7 m2\"] }",
       table + "0.8 m\"], value = [\"1e-7 m2\", \"3e-7 m2\"] }"},
      {"prescribed.permeability.value", "given", table + "0.5 m\"], value = [\"1e-7 m2\", \"3e-7 m2\"] }",
       table + "0.5 m\"], value = [\"1e-7 m2\", \"2e-7 m2\"] }"},
      {"prescribed.inertia", "given", "", "prescribed.inertia = \"1e6 1/m\""},
      {"prescribed.porosity", "given", "", "prescribed.porosity = 0.5"},
      {"prescribed.density", "given", "", "prescribed.density = \"500 kg/m3\""},
      {"prescribed.conductivity", "given", "", "prescribed.conductivity = \"0.4 W/mK\""},
      {"prescribed.heat_capacity", "given", "", "prescribed.heat_capacity = \"900 J/kgK\""},
      {"prescribed.diffusivity", "given", uptake("\"constant\", rate = \"1e-4 mol/m3s\""),
       "prescribed.diffusivity = \"9e-6 m2/s\""},
      {"prescribed.heat", "given", "", "prescribed.heat = \"20 W/m3\""},
      {"prescribed.uptake", "given", "", uptake("\"constant\", rate = \"1e-4 mol/m3s\"")},
      {"prescribed.uptake.law", "given", uptake("\"monod\", rate = \"1e-4 mol/m3s\""),
       uptake("\"constant\", rate = \"1e-4 mol/m3s\"")},
      {"prescribed.uptake.law first_order", "given", "", uptake("\"first_order\", rate = \"1e-4 1/s\"")},
      {"prescribed.uptake.rate", "given", uptake("\"constant\", rate = \"1e-4 mol/m3s\""),
       uptake("\"constant\", rate = \"2e-4 mol/m3s\"")},
      {"prescribed.uptake.half", "given", uptake("\"monod\", rate = \"1e-4 mol/m3s\""),
       uptake("\"monod\", rate = \"1e-4 mol/m3s\", half = 0.05")},
      {"prescribed.air_speed", "given",
       "base = { kind = \"raised\" }\nair_in = [ { where = \"base\", kind = \"open\" } ]\n- floor\n- "
       "prescribed.permeability\nprescribed.air_speed = \"1 mm/s\"",
       "prescribed.air_speed = \"2 mm/s\""},
      {"air", "box", "", "air = { kind = \"constant\" }"},
      {"air.kind", "box", "air = { kind = \"moist\" }", "air = { kind = \"constant\" }"},
      {"air.density", "given", "", air(", density = \"1.1 kg/m3\"")},
      {"air.viscosity", "given", "", air(", viscosity = \"1.7e-5 Pa s\"")},
      {"air.heat_capacity", "given", "", air(", heat_capacity = \"900 J/kgK\"")},
      {"air.expansion", "given", "",
       "air = { kind = \"constant\", expansion = \"0.004 1/K\", at = \"10 degC\" }"},
      {"air.at", "given",
       "base = { kind = \"raised\" }\n- floor\nair_in = [ { where = \"base\", kind = \"open\" } ]",
       "air = { kind = \"constant\", expansion = \"0.003 1/K\", at = \"15 degC\" }"},
  };
}

/// Every key of a feedstock, moved by a tenth within its limits, in a fill that rots for some days.
inline std::vector<Row> feedstock_rows() {
  const FeedstockLibrary library = load_feedstock_library(UPDRAUGHT_SOURCE_DIR "/cases/feedstocks.toml");
  std::vector<Row> rows;
  for (const FeedstockKey& key : feedstock_keys()) {
    const bool chips = key.kind == FeedstockKey::For::chips;
    const std::string name = chips ? "woodchip, coarse" : "kitchen waste";
    const auto found = library.find(name)->values.find(key.name);
    const double now = found == library.find(name)->values.end() ? key.least : found->second.value;
    double other = now * 0.9;
    if (other < key.least || other == now) other = 0.9 * now + 0.1 * key.most;
    const bool plain = key.unit == "1" || key.unit == "kg/kg";
    std::ostringstream value;
    value.precision(12);
    value << (plain ? "" : "\"") << other / key.to_si << (plain ? "" : " " + key.unit + "\"");
    rows.push_back({"feedstocks." + key.name, "box", "activity = 0.5\ndays = 3",
                    "feedstocks = { \"" + name + "\" = { " + key.name + " = " + value.str() + " } }"});
    if (key.name == "activity") rows.back().both = "";
    if (key.name == "heat_loving_activity") rows.back().both = "days = 4";
  }
  return rows;
}

inline std::vector<Row> all_rows() {
  std::vector<Row> all;
  for (const auto& rows : {bin_rows(), opening_rows(), fill_rows(), by_hand_rows(), surroundings_rows(),
                           computing_rows(), prescribed_rows(), feedstock_rows()})
    all.insert(all.end(), rows.begin(), rows.end());
  return all;
}

}  // namespace updraught::whole
