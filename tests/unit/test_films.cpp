// Heat and vapour at free surfaces and through boundaries (theory 6).
#include <gtest/gtest.h>

#include <cmath>

#include "solver/bed/bed.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {
namespace {

Gas moist() {
  return gas_of(Problem{});
}

Gas constant() {
  Problem problem;
  problem.constant_air = ConstantAir{};
  return gas_of(problem);
}

TEST(Films, WhatReachesTheSurfaceLeavesIt) {
  const Gas gas = moist();
  const AirBeside air{10.0, gas.vapour_ratio(10.0, 0.8)};
  for (const double resistance : {0.01, 0.1, 1.0}) {
    const SurfaceFlux f = surface_flux(gas, 50.0, 1.0, resistance, air, film_up, 50.0);
    EXPECT_NEAR((50.0 - f.surface) / resistance / f.heat, 1.0, 1e-8);
    EXPECT_GT(f.surface, 10.0);
    EXPECT_LT(f.surface, 50.0);
  }
}

TEST(Films, ADrySurfaceLosesByTheFilmAlone) {
  const SurfaceFlux f = surface_flux(constant(), 30.0, 1.0, 0.2, {10.0, 0.0}, film_up, 30.0);
  EXPECT_EQ(f.evaporation, 0.0);
  EXPECT_NEAR(f.heat, 20.0 / (0.2 + 1.0 / (film_up + film_radiation)), 1e-9);
}

TEST(Films, SurfaceInBalanceWithItsAirExchangesNothing) {
  const Gas gas = moist();
  const SurfaceFlux f = surface_flux(gas, 25.0, 0.9, 0.1, {25.0, gas.vapour_ratio(25.0, 0.9)}, film_up, 20.0);
  EXPECT_NEAR(f.heat, 0.0, 1e-7);
  EXPECT_NEAR(f.evaporation, 0.0, 1e-13);
}

TEST(Films, WarmDampAirCondensesOnAColdSurface) {
  const Gas gas = moist();
  const SurfaceFlux f = surface_flux(gas, 10.0, 1.0, 0.1, {40.0, gas.vapour_ratio(40.0, 1.0)}, film_up, 10.0);
  EXPECT_LT(f.evaporation, 0.0);
  EXPECT_LT(f.heat, 0.0);
}

TEST(Films, SlopeIsThatOfTheLaw) {
  const Gas gas = moist();
  const AirBeside air{10.0, gas.vapour_ratio(10.0, 0.8)};
  const auto heat = [&](double t) { return surface_flux(gas, t, 1.0, 0.1, air, film_up, t).heat; };
  const double slope = (heat(45.01) - heat(44.99)) / 0.02;
  EXPECT_NEAR(surface_flux(gas, 45.0, 1.0, 0.1, air, film_up, 45.0).slope / slope, 1.0, 1e-3);
}

TEST(Films, ADayOfWeatherSwingsAboutItsMean) {
  Surroundings s;
  s.temperature = 8.0;
  s.daily_swing = 6.0;
  s.start_hour = 15.0;
  EXPECT_NEAR(outside_temperature(s, 0.0), 14.0, 1e-9);
  EXPECT_NEAR(outside_temperature(s, 43200.0), 2.0, 1e-9);
  EXPECT_NEAR(outside_temperature(s, 86400.0), outside_temperature(s, 0.0), 1e-9);
}

TEST(Films, ATableOfWeatherIsFollowedLinearly) {
  Surroundings s;
  s.table_time = {0.0, 3600.0, 7200.0};
  s.table_temperature = {0.0, 10.0, 4.0};
  EXPECT_NEAR(outside_temperature(s, 1800.0), 5.0, 1e-12);
  EXPECT_NEAR(outside_temperature(s, 5400.0), 7.0, 1e-12);
}

}  // namespace
}  // namespace updraught
