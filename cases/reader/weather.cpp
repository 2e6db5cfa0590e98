// What surrounds the bin: outside.
#include <cmath>

#include "cases/reader/draft.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

constexpr Limits time_limits{0.0, 4e8, "from the start on, at most twelve years"};

void read_daily(const Table& outside, Surroundings& into) {
  const auto daily = outside.table("daily");
  if (!daily) return;
  daily->allow({"low", "high"});
  const auto low = daily->need("low", "low = \"4 degC\"");
  const auto high = daily->need("high", "high = \"12 degC\"");
  if (!low || !high) return;
  const double night = low->quantity(temperature_measure(), air_limits).value_or(0.0);
  const double day = high->quantity(temperature_measure(), air_limits).value_or(night);
  if (day < night) daily->wrong("high", "The high lies below the low.", "Swap the two.");
  into.temperature = 0.5 * (night + day);
  into.daily_swing = 0.5 * (day - night);
}

void read_table(const Table& outside, Surroundings& into) {
  const auto table = outside.table("table");
  if (!table) return;
  const auto columns = read_columns(*table, {"time", time_measure(), time_limits},
                                    {"temperature", temperature_measure(), air_limits});
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
    const auto altitude =
        outside.quantity("altitude", length_measure(), {-430.0, 5000.0, "between -430 and 5000 m"});
    if (altitude) into.pressure = pressure_at(*altitude);
    return;
  }
  into.pressure = outside.quantity_or(into.pressure, "pressure", pressure_measure(),
                                      {5e4, 1.1e5, "between 500 and 1100 hPa"});
}

/// The film that the wind makes outside walls and lid, unless the case gives that itself.
void read_wind(const Table& top, const Table& outside, Problem& problem) {
  const auto wind = outside.quantity("wind", speed_measure(), {0.0, 30.0, "between 0 and 30 m/s"});
  if (!wind) return;
  top.forbid({"outer_film"}, "the wind of `outside`, which makes that film");
  problem.outside.wind = *wind;
  problem.outer_film = film_in_wind(*wind);
}

}  // namespace

void read_weather(const Table& top, Draft& draft) {
  const auto outside = top.table("outside");
  if (!outside) return;
  Surroundings& into = draft.problem.outside;
  outside->allow(
      {"temperature", "daily", "table", "humidity", "pressure", "altitude", "ground", "start_hour", "wind"});
  if (outside->has("table")) outside->forbid({"temperature", "daily"}, "table");
  if (outside->has("daily")) outside->forbid({"temperature"}, "daily");
  into.temperature = outside->quantity_or(into.temperature, "temperature", temperature_measure(), air_limits);
  read_daily(*outside, into);
  read_table(*outside, into);
  into.humidity = outside->number_or(into.humidity, "humidity", {0.0, 1.0, "between 0 and 100 %"});
  read_pressure(*outside, into);
  read_wind(top, *outside, draft.problem);
  into.ground_temperature = outside->quantity_or(into.ground_temperature, "ground", temperature_measure(),
                                                 {-30.0, 50.0, "the ground is between -30 and 50 degC"});
  if (outside->has("start_hour") && !outside->has("daily"))
    outside->wrong("start_hour", "The hour matters only with a daily wave.",
                   "Add daily = { low, high } or leave it out.");
  into.start_hour = outside->quantity_or(into.start_hour * 3600.0, "start_hour", time_measure(),
                                         {0.0, 86400.0, "between 0 and 24 h"}) /
                    3600.0;
}

}  // namespace updraught
