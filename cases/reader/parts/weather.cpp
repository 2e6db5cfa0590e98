// What surrounds the bin: outside.
#include <algorithm>
#include <cmath>

#include "cases/reader/keys/keys.h"
#include "cases/reader/parts/parsed_case.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

void read_daily(const Table& outside, Surroundings& into) {
  const auto daily = outside.table("daily");
  if (!daily) return;
  daily->allow();
  const auto low = daily->need("low");
  const auto high = daily->need("high");
  if (!low || !high) return;
  const double night = low->quantity().value_or(0.0);
  const double day = high->quantity().value_or(night);
  if (day < night) daily->report("high", "The high lies below the low.", "Swap the two.");
  into.temperature = 0.5 * (night + day);
  into.daily_swing = 0.5 * (day - night);
}

void read_table(const Table& outside, Surroundings& into) {
  const auto table = outside.table("table");
  if (!table) return;
  const auto columns = read_columns(*table, "time", "temperature");
  if (!columns) return;
  into.table_time = columns->first;
  into.table_temperature = columns->second;
  double sum = 0.0;
  for (const double value : into.table_temperature) sum += value;
  into.temperature = sum / static_cast<double>(into.table_temperature.size());
}

/// International standard atmosphere (ISO 2533) up to 5 km.
double pressure_at(double altitude) {
  return 101325.0 * std::pow(1.0 - 2.25577e-5 * altitude, 5.25588);
}

void read_pressure(const Table& outside, Surroundings& into) {
  if (outside.has("altitude")) {
    outside.forbid({"pressure"}, "altitude");
    const auto altitude = outside.quantity("altitude");
    if (altitude) into.pressure = pressure_at(*altitude);
    return;
  }
  into.pressure = outside.quantity_or(into.pressure, "pressure");
}

/// Warmer or colder than all that the case says of the air outside.
void read_shift(const Table& outside, ParsedCase& parsed_case) {
  const double shift = outside.quantity_or(0.0, "shift");
  Surroundings& into = parsed_case.problem.outside;
  parsed_case.temperature_shift = shift;
  into.temperature += shift;
  for (double& value : into.table_temperature) value += shift;
}

void read_wind_from(const Table& outside, Problem& problem) {
  const auto from = outside.word("wind_from");
  if (!from) return;
  // The words of the key stand in the order of the sides.
  const std::vector<std::string>& words = find_rule(outside_keys(), "wind_from")->words;
  problem.outside.wind_from = static_cast<Side>(std::find(words.begin(), words.end(), *from) - words.begin());
  if (!outside.has("wind"))
    outside.report("wind_from", "Where the wind comes from matters only with a wind.",
                   "Add wind = \"1 m/s\" or leave it out.");
  else if (problem.bin.kind == BinShape::Kind::round)
    outside.report("wind_from", "A round bin is alike on all sides.", "Leave it out.");
}

/// How the wind presses on openings, and the film that it makes outside walls and lid, unless the case gives
/// that itself.
void read_wind(const Table& top, const Table& outside, Problem& problem) {
  read_wind_from(outside, problem);
  const auto wind = outside.quantity("wind");
  if (!wind) return;
  top.forbid({"outer_film"}, "the wind of `outside`, which makes that film");
  problem.outside.wind = *wind;
  problem.outer_film = film_in_wind(*wind);
}

}  // namespace

void read_weather(const Table& top, ParsedCase& parsed_case) {
  parsed_case.film_given = top.has("outer_film");
  const auto outside = top.table("outside");
  if (!outside) return;
  Surroundings& into = parsed_case.problem.outside;
  outside->allow();
  if (outside->has("table")) outside->forbid({"temperature", "daily"}, "table");
  if (outside->has("daily")) outside->forbid({"temperature"}, "daily");
  into.temperature = outside->quantity_or(into.temperature, "temperature");
  read_daily(*outside, into);
  read_table(*outside, into);
  read_shift(*outside, parsed_case);
  into.humidity = outside->quantity_or(into.humidity, "humidity");
  read_pressure(*outside, into);
  read_wind(top, *outside, parsed_case.problem);
  into.ground_temperature = outside->quantity_or(into.ground_temperature, "ground");
  if (outside->has("start_hour") && !outside->has("daily"))
    outside->report("start_hour", "The hour matters only with a daily wave.",
                    "Add daily = { low, high } or leave it out.");
  into.start_hour = outside->quantity_or(into.start_hour * 3600.0, "start_hour") / 3600.0;
}

}  // namespace updraught
