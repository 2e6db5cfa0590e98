// Moist pore gas: what must hold between its laws, whatever their coefficients (theory 4).
#include <gtest/gtest.h>

#include <cmath>

#include "solver/bed/bed.h"
#include "solver/material/moist_air.h"

namespace updraught {
namespace {

Gas moist() {
  return gas_of(Problem{});
}

double slope_of(const auto& law, double at) {
  constexpr double d = 1e-3;
  return (law(at + d) - law(at - d)) / (2.0 * d);
}

TEST(MoistAir, SlopesAreThoseOfTheLaws) {
  const Gas gas = moist();
  for (const double t : {1.0, 25.0, 60.0, 75.0}) {
    const double saturation = slope_of(saturation_pressure, t);
    EXPECT_NEAR(saturation_slope(t) / saturation, 1.0, 1e-6) << t;
    for (const double activity : {1.0, 0.6}) {
      const double ratio = gas.vapour_ratio(t, activity);
      const double slope = gas.vapour_slope(t, activity);
      EXPECT_NEAR(slope / slope_of([&](double u) { return gas.vapour_ratio(u, activity); }, t), 1.0, 1e-6)
          << t;
      const double enthalpy =
          slope_of([&](double u) { return gas.enthalpy(u, gas.vapour_ratio(u, activity)); }, t);
      EXPECT_NEAR(gas.enthalpy_slope(t, ratio, slope) / enthalpy, 1.0, 1e-6) << t;
    }
  }
}

TEST(MoistAir, DryGasAndVapourFillTheSitesPressure) {
  const Gas gas = moist();
  const double t = 55.0;
  const double ratio = gas.vapour_ratio(t, 0.8);
  const double moles = gas.dry_density(t, ratio) * (1.0 + ratio);
  EXPECT_NEAR(moles * gas_constant * (t + zero_celsius), gas.pressure(), 1e-6 * gas.pressure());
  EXPECT_NEAR(gas.dry_density(t, ratio) * ratio * gas_constant * (t + zero_celsius),
              0.8 * saturation_pressure(t), 1e-6 * saturation_pressure(t));
}

TEST(MoistAir, VapourMakesAirLighterAndCarbonDioxideHeavier) {
  const Gas gas = moist();
  const double dry = gas.density(40.0, 0.0, air_oxygen, air_carbon_dioxide);
  const double wet = gas.density(40.0, gas.vapour_ratio(40.0, 1.0), air_oxygen, air_carbon_dioxide);
  const double used = gas.density(40.0, 0.0, 0.05, air_oxygen + air_carbon_dioxide - 0.05);
  EXPECT_LT(wet, dry);
  const double exchanged = (air_oxygen - 0.05) * (molar_carbon_dioxide - molar_oxygen);
  EXPECT_NEAR(used - dry, gas.dry_density(40.0, 0.0) * exchanged, 1e-9);
}

TEST(MoistAir, EvaporatingCostsWhatVapourCarriesBeyondLiquid) {
  const Gas gas = moist();
  const double ratio = 0.1;
  const double dry_alone = gas.enthalpy(30.0, 0.0);
  EXPECT_NEAR(gas.enthalpy(30.0, ratio) - dry_alone, ratio * gas.vapour_enthalpy(30.0), 1e-8 * dry_alone);
}

TEST(MoistAir, ActivityRisesWithWaterFromNoneToOne) {
  EXPECT_EQ(water_activity(0.0), 0.0);
  double before = 0.0;
  for (const double water : {0.05, 0.1, 0.2, 0.5}) {
    EXPECT_GT(water_activity(water), before);
    before = water_activity(water);
  }
  EXPECT_NEAR(water_activity(2.0), 1.0, 1e-12);
}

TEST(MoistAir, GasesSpreadFasterInThinWarmAir) {
  EXPECT_NEAR(diffusivity_oxygen(20.0, 50662.5) / diffusivity_oxygen(20.0, 101325.0), 2.0, 1e-12);
  EXPECT_GT(diffusivity_vapour(60.0, 101325.0), diffusivity_vapour(20.0, 101325.0));
  EXPECT_GT(diffusivity_oxygen(20.0, 101325.0), diffusivity_carbon_dioxide(20.0, 101325.0));
}

TEST(MoistAir, ConstantAirStaysAsStated) {
  Problem problem;
  problem.constant_air = ConstantAir{1.2, 1.8e-5, 1000.0, 0.003, 10.0};
  const Gas gas = gas_of(problem);
  EXPECT_EQ(gas.vapour_ratio(60.0, 1.0), 0.0);
  EXPECT_NEAR(gas.density(10.0, 0.0, air_oxygen, air_carbon_dioxide), 1.2, 1e-12);
  EXPECT_NEAR(gas.density(60.0, 0.0, 0.0, 0.2), 1.2 * (1.0 - 0.003 * 50.0), 1e-12);
  EXPECT_EQ(gas.viscosity(60.0, 0.0), 1.8e-5);
  EXPECT_NEAR(gas.enthalpy(50.0, 0.0) - gas.enthalpy(20.0, 0.0), 30.0 * 1000.0 * molar_dry_air, 1e-9);
}

}  // namespace
}  // namespace updraught
