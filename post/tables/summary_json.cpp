#include "post/tables/summary_json.h"

#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>

namespace updraught {

using nlohmann::json;

namespace {

constexpr double seconds_a_day = 86400.0;

json numbers(const std::map<std::string, double>& values) {
  json out = json::object();
  for (const auto& [name, value] : values) out[name] = finite_or_null(value);
  return out;
}

double number(const json& object, const char* key) {
  const json& value = object.at(key);
  return value.is_null() ? std::numeric_limits<double>::quiet_NaN() : value.get<double>();
}

std::map<std::string, double> read_numbers(const json& object) {
  std::map<std::string, double> out;
  for (const auto& [name, value] : object.items()) {
    out[name] = value.is_null() ? std::numeric_limits<double>::quiet_NaN() : value.get<double>();
  }
  return out;
}

json day_json(const Day& day) {
  json out{{"day", finite_or_null(day.day)},
           {"mean_temperature_c", finite_or_null(day.mean_temperature)},
           {"hottest_c", finite_or_null(day.hottest)},
           {"coldest_c", finite_or_null(day.coldest)},
           {"aired_share", finite_or_null(day.aired_share)},
           {"well_aired_share", finite_or_null(day.well_aired_share)},
           {"air_in_m3_h", finite_or_null(day.air_in)},
           {"oxygen_uptake_g_h", finite_or_null(day.oxygen_uptake)},
           {"height_m", finite_or_null(day.height)},
           {"moisture", finite_or_null(day.moisture)},
           {"base_air_between", finite_or_null(day.base_air_between)},
           {"base_stress_pa", finite_or_null(day.base_stress)},
           {"coldest_hours_hot", finite_or_null(day.coldest_hours_hot)}};
  for (const auto& [name, value] : headlines()) {
    const auto band = day.bands.find(name);
    out[name + "_low"] = band == day.bands.end() ? json() : finite_or_null(band->second.low);
    out[name + "_high"] = band == day.bands.end() ? json() : finite_or_null(band->second.high);
  }
  return out;
}

Day read_day(const json& object) {
  Day day;
  day.day = number(object, "day");
  day.mean_temperature = number(object, "mean_temperature_c");
  day.hottest = number(object, "hottest_c");
  day.coldest = number(object, "coldest_c");
  day.aired_share = number(object, "aired_share");
  day.well_aired_share = number(object, "well_aired_share");
  day.air_in = number(object, "air_in_m3_h");
  day.oxygen_uptake = number(object, "oxygen_uptake_g_h");
  day.height = number(object, "height_m");
  day.moisture = number(object, "moisture");
  day.base_air_between = number(object, "base_air_between");
  day.base_stress = number(object, "base_stress_pa");
  day.coldest_hours_hot = number(object, "coldest_hours_hot");
  for (const auto& [name, value] : headlines()) {
    if (object.at(name + "_low").is_null()) continue;
    day.bands[name] = {object.at(name + "_low").get<double>(), object.at(name + "_high").get<double>()};
  }
  return day;
}

/// One list for both ways: visit(key, unit in seconds, member) for every number of a course.
template <class AnyCourse, class Visit>
void members_of(AnyCourse& course, const Visit& visit) {
  visit("days", seconds_a_day, course.duration);
  visit("going_day", seconds_a_day, course.going);
  visit("hot_day", seconds_a_day, course.hot);
  visit("mean_going_day", seconds_a_day, course.mean_going);
  visit("hours_hot", 1.0, course.hours_hot);
  visit("hours_mean_going", 1.0, course.hours_mean_going);
  visit("hours_coldest_hot", 1.0, course.hours_coldest_hot);
  visit("hottest_c", 1.0, course.hottest);
  visit("hottest_day", seconds_a_day, course.hottest_at);
  visit("mean_temperature_c", 1.0, course.mean_temperature);
  visit("airless_share", 1.0, course.airless_share);
  visit("airless_share_since_going", 1.0, course.airless_since_going);
  visit("lost_day", seconds_a_day, course.lost);
  visit("regained_day", seconds_a_day, course.regained);
  visit("died_day", seconds_a_day, course.died);
  visit("worst_aired_share", 1.0, course.worst_share);
  visit("worst_day", seconds_a_day, course.worst_at);
  visit("mean_air_in_m3_h", 1.0, course.mean_air_in);
  visit("height_at_end_m", 1.0, course.height_at_end);
  visit("moisture_at_end", 1.0, course.moisture_at_end);
  visit("dry_mass_lost_share", 1.0, course.dry_mass_lost);
}

json shown(double value, double unit) {
  return finite_or_null(value / unit);
}
json shown(const std::optional<double>& value, double unit) {
  return value ? shown(*value, unit) : json();
}

/// Times that do not come are null.
json plausible_json(const Summary& summary) {
  if (summary.plausible_beds == 0) return {};
  json measures = json::object();
  for (const auto& [key, band] : summary.likely)
    measures[key] = {{"low", finite_or_null(band.low)}, {"high", finite_or_null(band.high)}};
  return {{"beds", summary.plausible_beds}, {"seed", summary.seed}, {"measures", measures}};
}

json course_json(const std::optional<Course>& course) {
  if (!course) return {};
  json out = json::object();
  members_of(*course,
             [&](const char* key, double unit, const auto& value) { out[key] = shown(value, unit); });
  return out;
}

void take(const json& value, double unit, double& out) {
  out = value.is_null() ? std::numeric_limits<double>::quiet_NaN() : value.get<double>() * unit;
}
void take(const json& value, double unit, std::optional<double>& out) {
  if (!value.is_null()) out = value.get<double>() * unit;
}

std::optional<Course> read_course(const json& object) {
  if (object.is_null()) return {};
  Course course;
  members_of(course, [&](const char* key, double unit, auto& value) { take(object.at(key), unit, value); });
  return course;
}

json loose_json(const LooseFacts& loose) {
  return {{"free_air_space", finite_or_null(loose.free_air_space)},
          {"air_between", finite_or_null(loose.air_between)},
          {"moisture", finite_or_null(loose.moisture)},
          {"cn", finite_or_null(loose.carbon_nitrogen)},
          {"cn_available", finite_or_null(loose.carbon_nitrogen_available)},
          {"woodchip_share", finite_or_null(loose.woodchip_share)},
          {"density_kg_m3", finite_or_null(loose.density)}};
}

LooseFacts read_loose(const json& object) {
  LooseFacts loose;
  loose.free_air_space = number(object, "free_air_space");
  loose.air_between = number(object, "air_between");
  loose.moisture = number(object, "moisture");
  loose.carbon_nitrogen = number(object, "cn");
  loose.carbon_nitrogen_available = number(object, "cn_available");
  loose.woodchip_share = number(object, "woodchip_share");
  loose.density = number(object, "density_kg_m3");
  return loose;
}

json balances_json(const Balances& balances) {
  return {{"dry_gas", finite_or_null(balances.dry_gas)},
          {"oxygen", finite_or_null(balances.oxygen)},
          {"heat", finite_or_null(balances.heat)},
          {"water", finite_or_null(balances.water)},
          {"dry_mass", finite_or_null(balances.dry_mass)},
          {"clipped_oxygen_mol", finite_or_null(balances.clipped_oxygen)},
          {"largest_flow_residual", finite_or_null(balances.largest_flow_residual)},
          {"largest_mismatch_k", finite_or_null(balances.largest_mismatch)},
          {"step_temperature_k", finite_or_null(balances.step_temperature)},
          {"step_oxygen", finite_or_null(balances.step_oxygen)}};
}

Balances read_balances(const json& object) {
  Balances balances;
  balances.dry_gas = number(object, "dry_gas");
  balances.oxygen = number(object, "oxygen");
  balances.heat = number(object, "heat");
  balances.water = number(object, "water");
  balances.dry_mass = number(object, "dry_mass");
  balances.clipped_oxygen = number(object, "clipped_oxygen_mol");
  balances.largest_flow_residual = number(object, "largest_flow_residual");
  balances.largest_mismatch = number(object, "largest_mismatch_k");
  balances.step_temperature = number(object, "step_temperature_k");
  balances.step_oxygen = number(object, "step_oxygen");
  return balances;
}

}  // namespace

std::string json_text(const json& object, int indent) {
  return object.dump(indent, ' ', false, json::error_handler_t::replace);
}

json finite_or_null(double value) {
  return std::isfinite(value) ? json(value) : json();
}

json to_json(const Summary& summary) {
  json days = json::array();
  for (const Day& day : summary.days) days.push_back(day_json(day));
  json openings = json::array();
  for (const OpeningSummary& opening : summary.openings) {
    openings.push_back({{"name", opening.name},
                        {"air_in_m3_h", finite_or_null(opening.air_in)},
                        {"air_out_m3_h", finite_or_null(opening.air_out)}});
  }
  return {{"case", summary.name},
          {"mode", summary.mode},
          {"cells", summary.cells},
          {"wall_seconds", finite_or_null(summary.wall_seconds)},
          {"band_seconds", finite_or_null(summary.band_seconds)},
          {"peak_memory_mb", finite_or_null(summary.peak_memory)},
          {"settled_height_m", finite_or_null(summary.settled_height)},
          {"loose", loose_json(summary.loose)},
          {"days", days},
          {"plausible", plausible_json(summary)},
          {"course", course_json(summary.course)},
          {"heat_by_path_w", numbers(summary.heat_by_path)},
          {"steps", summary.steps},
          {"unknowns", summary.unknowns},
          {"seconds", numbers(summary.seconds)},
          {"openings", openings},
          {"balances", balances_json(summary.balances)},
          {"stopped", summary.stopped},
          {"ended", summary.ended},
          {"verdict", summary.verdict},
          {"cautions", summary.cautions}};
}

Summary summary_from_json(const json& object) {
  try {
    Summary out;
    out.name = object.at("case").get<std::string>();
    out.mode = object.at("mode").get<std::string>();
    out.cells = object.at("cells").get<int>();
    out.wall_seconds = number(object, "wall_seconds");
    out.band_seconds = number(object, "band_seconds");
    out.peak_memory = number(object, "peak_memory_mb");
    out.settled_height = number(object, "settled_height_m");
    out.loose = read_loose(object.at("loose"));
    for (const json& day : object.at("days")) out.days.push_back(read_day(day));
    out.course = read_course(object.at("course"));
    out.heat_by_path = read_numbers(object.at("heat_by_path_w"));
    out.steps = object.at("steps").get<int>();
    out.unknowns = object.at("unknowns").get<int>();
    out.seconds = read_numbers(object.at("seconds"));
    for (const json& opening : object.at("openings")) {
      out.openings.push_back({opening.at("name").get<std::string>(), number(opening, "air_in_m3_h"),
                              number(opening, "air_out_m3_h")});
    }
    out.balances = read_balances(object.at("balances"));
    out.stopped = object.at("stopped").get<bool>();
    out.ended = object.at("ended").get<std::string>();
    out.verdict = object.at("verdict").get<std::vector<std::string>>();
    out.cautions = object.at("cautions").get<std::vector<std::string>>();
    return out;
  } catch (const json::exception& error) {
    throw std::runtime_error(std::string("this is not the summary of a computed case: ") + error.what());
  }
}

}  // namespace updraught
