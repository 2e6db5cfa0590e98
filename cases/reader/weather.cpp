// What surrounds the bin: outside.
#include <cmath>

#include "cases/reader/parsed_case.h"
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

/// The film that the wind makes outside walls and lid, unless the case gives that itself.
void read_wind(const Table& top, const Table& outside, Problem& problem) {
  const auto wind = outside.quantity("wind");
  if (!wind) return;
  top.forbid({"outer_film"}, "the wind of `outside`, which makes that film");
  problem.outside.wind = *wind;
  problem.outer_film = film_in_wind(*wind);
}

}  // namespace

void read_weather(const Table& top, ParsedCase& parsed_case) {
  const auto outside = top.table("outside");
  if (!outside) return;
  Surroundings& into = parsed_case.problem.outside;
  outside->allow();
  if (outside->has("table")) outside->forbid({"temperature", "daily"}, "table");
  if (outside->has("daily")) outside->forbid({"temperature"}, "daily");
  into.temperature = outside->quantity_or(into.temperature, "temperature");
  read_daily(*outside, into);
  read_table(*outside, into);
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
