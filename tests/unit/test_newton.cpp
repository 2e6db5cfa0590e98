// One unknown by Newton's method says whether it was found; a step that needs it is not taken where it was
// not.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "solver/bed/enthalpy.h"
#include "solver/linear/newton.h"
#include "solver/scratch/books.h"
#include "solver/transport/boundary_heat.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr AtRest rest{1e-12, 0.0, 30};

Laid laid_bed() {
  return lay_bed(step_tests::problem_of(reader_tests::sound_case()));
}

TEST(Newton, FindsARoot) {
  const Root root = newton(1.0, rest, [](double x) { return (2.0 - x * x) / (2.0 * x); });
  EXPECT_TRUE(root.found);
  EXPECT_NEAR(root.value, std::sqrt(2.0), 1e-15);
}

TEST(Newton, SaysWhenThereIsNone) {
  EXPECT_FALSE(newton(1.0, rest, [](double x) { return -(1.0 + x * x) / (2.0 * x); }).found);
  EXPECT_FALSE(newton(nan, rest, [](double x) { return (2.0 - x * x) / (2.0 * x); }).found);
}

TEST(Newton, SaysWhenThePassesDoNotDo) {
  const AtRest two{1e-12, 0.0, 2};
  EXPECT_FALSE(newton(100.0, two, [](double x) { return (2.0 - x * x) / (2.0 * x); }).found);
}

TEST(Newton, ACellWithoutANumberForItsHeatHasNoTemperature) {
  const Laid laid = laid_bed();
  const double heat = cell_enthalpy(laid.bed, 1.0, 2.0, 0.1, 40.0, 1.0);
  const Root found = recover_temperature(laid.bed, 1.0, 2.0, 0.1, 1.0, heat, 20.0);
  EXPECT_TRUE(found.found);
  EXPECT_NEAR(found.value, 40.0, 1e-9);
  EXPECT_FALSE(recover_temperature(laid.bed, 1.0, 2.0, 0.1, 1.0, nan, 20.0).found);
}

TEST(Newton, ASurfaceWithoutANumberBelowItHasNoTemperature) {
  const Laid laid = laid_bed();
  const Gas& gas = laid.bed.setup->gas;
  const AirBeside air{10.0, gas.vapour_ratio(10.0, 0.7)};
  EXPECT_TRUE(surface_flux(gas, 50.0, 1.0, 0.1, air, film_up, 50.0).found);
  EXPECT_FALSE(surface_flux(gas, nan, 1.0, 0.1, air, film_up, 50.0).found);
}

TEST(Newton, WhatWasNotFoundIsTakenDown) {
  Books books;
  note_found(true, "warmth", books);
  EXPECT_EQ(books.unsolved, nullptr);
  note_found(false, "warmth", books);
  EXPECT_STREQ(books.unsolved, "warmth");
}

}  // namespace
}  // namespace updraught
