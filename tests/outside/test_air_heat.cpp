// Published values of moist air, films, exchange through openings and heat conduction.
#include <cmath>
#include <string>

#include "cases/library/feedstock_library.h"
#include "solver/air/air_paths.h"
#include "solver/material/moist_air.h"
#include "solver/material/permeability.h"
#include "solver/transport/boundary_heat.h"
#include "tests/outside/record.h"

namespace updraught::outside {
namespace {

Gas moist_air(double pressure = 101325.0) {
  Problem problem;
  problem.outside.pressure = pressure;
  return gas_of(problem);
}

/// Vapour per dry air by mass, from moles.
double humidity_ratio(double moles) {
  return moles * molar_water / molar_dry_air;
}

double air_density(const Gas& gas, double temperature, double vapour_ratio) {
  return gas.density(temperature, vapour_ratio, air_oxygen, air_carbon_dioxide);
}

std::string at_degrees(const char* what, double temperature) {
  return std::string(what) + " at " + number(temperature) + " °C";
}

TEST(AirAndHeat, SaturationPressure) {
  record_check("saturation pressure at 300 K, Pa", saturation_pressure(26.85), 3536.58941,
               Hold::relative(1e-8), "IAPWS-IF97 (R7-97, 2012), region 4, table 35", "R");
}

TEST(AirAndHeat, SaturatedAir) {
  const Gas gas = moist_air();
  struct Row {
    double temperature, pressure, humidity, enthalpy, density;
  };
  for (const Row& row : {Row{20.0, 2339.0, 0.01470, 57.4, 1.194}, Row{40.0, 7384.0, 0.04889, 166.2, 1.096},
                         Row{60.0, 19946.0, 0.15244, 458.6, 0.981}}) {
    const double t = row.temperature;
    const double ratio = gas.vapour_ratio(t, 1.0);
    const char* const source = "psychrometrics, ideal gas on IF97";
    const Hold hold = Hold::relative(0.003);
    record_check(at_degrees("vapour pressure of saturated air", t) + ", Pa", saturation_pressure(t),
                 row.pressure, hold, source, "E");
    record_check(at_degrees("humidity ratio of saturated air", t) + ", kg/kg", humidity_ratio(ratio),
                 row.humidity, hold, source, "E");
    record_check(at_degrees("enthalpy of saturated air", t) + ", kJ/kg dry",
                 gas.enthalpy(t, ratio) / molar_dry_air / 1e3, row.enthalpy, hold, source, "E");
    record_check(at_degrees("density of saturated air", t) + ", kg/m3", air_density(gas, t, ratio),
                 row.density, hold, source, "E");
  }
}

TEST(AirAndHeat, SaturatedAirAgainstRealGasTables) {
  const Gas gas = moist_air();
  const char* const source = "ASHRAE Handbook Fundamentals 2017, tables 2 and 3";
  const Hold hold = Hold::relative(0.02);
  const double ratio = gas.vapour_ratio(25.0, 1.0);
  record_check("saturation pressure at 25 °C, Pa", saturation_pressure(25.0), 3169.7, hold, source, "R");
  record_check("humidity ratio of saturated air at 25 °C, kg/kg", humidity_ratio(ratio), 0.020173, hold,
               source, "R");
  record_check("enthalpy of saturated air at 25 °C, kJ/kg dry",
               gas.enthalpy(25.0, ratio) / molar_dry_air / 1e3, 76.504, hold, source, "R");
  record_check("humidity ratio of saturated air at 50 °C, kg/kg", humidity_ratio(gas.vapour_ratio(50.0, 1.0)),
               0.086863, hold, source, "R");
}

TEST(AirAndHeat, MoistAirAtALowerPressure) {
  const Gas gas = moist_air(95461.0);
  const double ratio = 0.02 * molar_dry_air / molar_water;
  const char* const source = "ASHRAE-based worked value";
  record_check("moist air at 30 °C, humidity ratio 0.02, 95461 Pa: density, kg/m3",
               air_density(gas, 30.0, ratio), 1.08411986, Hold::relative(0.002), source, "R");
  record_check("the same: enthalpy, J/kg dry", gas.enthalpy(30.0, ratio) / molar_dry_air, 81316.0,
               Hold::relative(0.002), source, "R");
}

TEST(AirAndHeat, OxygenInHotPoreAir) {
  const double ratio = moist_air().vapour_ratio(60.0, 1.0);
  record_check("oxygen in saturated pore air at 60 °C without uptake, % wet",
               100.0 * air_oxygen / (1.0 + ratio), 16.8, Hold::absolute(0.05), "arithmetic", "E");
}

TEST(AirAndHeat, DiffusivityOfOxygen) {
  const char* const source = "Cornell composting pages, diffusion";
  record_check("oxygen in air at 20 °C, cm2/s", 1e4 * diffusivity_oxygen(20.0, 101325.0), 0.213,
               Hold::relative(0.04), source, "R");
  // A miss: the page's own two figures rise with (T/273 K)^2, reviewed measurements with the power 1.81 from
  // a lower start (solver/moist_air.h), and the law keeps to those.
  record_check("oxygen in air at 60 °C, cm2/s", 1e4 * diffusivity_oxygen(60.0, 101325.0), 0.275,
               Hold::show(0.04), source, "R");
  const char* const review = "Massman 1998, as a code of it has it: 0.182 cm2/s (T/273.15 K)^1.81";
  for (const double t : {20.0, 60.0})
    record_check(at_degrees("oxygen in air", t) + ", by the review of measurements, cm2/s",
                 1e4 * diffusivity_oxygen(t, 101325.0),
                 0.182 * std::pow((t + zero_celsius) / zero_celsius, 1.81), Hold::relative(0.04), review,
                 "R second-hand");
}

TEST(AirAndHeat, DrivingGap) {
  const Gas gas = moist_air();
  const double gap = air_density(gas, 10.0, gas.vapour_ratio(10.0, 0.7)) -
                     air_density(gas, 60.0, gas.vapour_ratio(60.0, 1.0));
  record_check("60 °C saturated under 10 °C at 70 %: lighter by, kg/m3", gap, 0.262, Hold::relative(0.01),
               "gas law", "E");
  record_check("the same: pull, Pa/m", gap * gravity, 2.57, Hold::relative(0.01), "gas law", "E");
}

TEST(AirAndHeat, SurfaceResistances) {
  const Hold digits = Hold::absolute(0.005);
  const char* const source = "EN ISO 6946";
  record_check("inside surface, heat going up, m2K/W", 1.0 / (film_up + film_radiation), 0.10, digits, source,
               "R");
  record_check("inside surface, heat going level, m2K/W", 1.0 / (film_level + film_radiation), 0.13, digits,
               source, "R");
  record_check("inside surface, heat going down, m2K/W", 1.0 / (film_down + film_radiation), 0.17, digits,
               source, "R");
  record_check("outside surface in a wind of 4 m/s, m2K/W", 1.0 / film_in_wind(4.0), 0.04, digits, source,
               "R");
}

/// Heat that turns liquid of a temperature into vapour of the same temperature (J/kg).
double heat_of_evaporation(const Gas& gas, double temperature) {
  return gas.vapour_enthalpy(temperature) / molar_water - heat_capacity_water * temperature;
}

TEST(AirAndHeat, EvaporationFromAWetSurface) {
  const Gas gas = moist_air();
  const AirBeside air{10.0, gas.vapour_ratio(10.0, 0.8)};
  // Next to no bed between, so that the surface is as warm as the bed.
  constexpr double bed_resistance = 1e-9;
  struct Row {
    double surface, heat;
    Hold hold;
  };
  // What evaporation takes from the surface is the latent heat at the surface's own warmth; the rest of what
  // vapour carries away came with the liquid. At 30 and 40 °C that misses: the published figures do not say
  // with which rho c_p and which latent heat they were worked out.
  for (const Row& row : {Row{20.0, 101.0, Hold::relative(0.02)}, Row{30.0, 236.0, Hold::show(0.02)},
                         Row{40.0, 450.0, Hold::show(0.02)}}) {
    const double t = row.surface;
    record_check(
        at_degrees("evaporation from a wet surface", t) + " into air at 10 °C and 80 %, W/m2",
        heat_of_evaporation(gas, t) * surface_flux(gas, t, 1.0, bed_resistance, air, 5.0, t).evaporation,
        row.heat, row.hold, "film law", "E");
  }
}

TEST(AirAndHeat, CounterflowThroughALevelHole) {
  const double published[][2] = {{0.05, 0.12}, {0.10, 0.68}, {0.20, 3.8}};
  for (const auto& [diameter, flow] : published)
    record_check(
        "counterflow through a level hole of " + number(1e3 * diameter) + " mm, density ratio 0.12, m3/h",
        3600.0 * level_exchange(diameter, 0.12, 1.0), flow, Hold::relative(0.03), "Epstein 1988, from memory",
        "M, E");
}

/// Conductivity of a loose material whose water is 80 % of what it holds (W/(m K)).
double conductivity_of(const FeedstockLibrary& library, const char* name) {
  const Feedstock& f = library.find(name)->feedstock;
  const double dry =
      f.chips ? f.basic_density * (1.0 - f.loose_porosity) : f.loose_density * (1.0 - f.moisture);
  return bed_conductivity(0.8 * f.water_capacity * dry / 1000.0);
}

TEST(AirAndHeat, ConductivityOfMoistMaterials) {
  const FeedstockLibrary library =
      load_feedstock_library(std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/feedstocks.toml");
  const char* const source = "Ahn, Sauer, Richard, Glanville 2009, at 80 % of water-holding capacity";
  record_range("straw, W/mK", conductivity_of(library, "straw"), 0.03, 0.30, true, source, "R");
  record_range("fine woodchip (for shavings), W/mK", conductivity_of(library, "woodchip, fine"), 0.03, 0.30,
               true, source, "R");
  record_range("grass clippings (for silage), W/mK", conductivity_of(library, "grass clippings"), 0.09, 0.47,
               true, source, "R");
  record_range("sawdust, W/mK", conductivity_of(library, "sawdust"), 0.12, 0.81, true, source, "R");
  record_range("cattle manure, W/mK", conductivity_of(library, "cattle manure"), 0.12, 0.81, true, source,
               "R");
}

}  // namespace
}  // namespace updraught::outside
