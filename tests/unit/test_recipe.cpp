#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>

#include "solver/material/recipe.h"
#include "tests/materials.h"

namespace updraught {
namespace {

using namespace materials;

MixQuestion question(double kitchen_litres, double chip_litres, double depth = 0.8) {
  MixQuestion ask;
  ask.portions = {litres(kitchen(), kitchen_litres), litres(chips(), chip_litres)};
  ask.depth = depth;
  ask.chips = chips();
  ask.dry = straw();
  return ask;
}

bool found(const MixAnswer& answer, MixFinding finding) {
  return std::find(answer.findings.begin(), answer.findings.end(), finding) != answer.findings.end();
}

TEST(Recipe, AmountsReachTheGoalTheyWereAskedFor) {
  std::vector<Portion> mix = {{kitchen(), 10.0}, {chips(), 2.0}};
  const double dry = mass_for_moisture(mix, straw(), 0.6).value();
  mix.push_back({straw(), dry});
  EXPECT_NEAR(mix_moisture(mix), 0.6, 1e-14);
  mix.back().mass = 0.0;
  mix.back().mass = mass_for_carbon_nitrogen(mix, straw(), 60.0).value();
  EXPECT_NEAR(mix_carbon_nitrogen(mix), 60.0, 1e-11);
}

TEST(Recipe, SaysWhenAGoalIsOutOfReach) {
  EXPECT_FALSE(mass_for_moisture({{kitchen(), 1.0}}, kitchen(), 0.6));
  EXPECT_FALSE(mass_for_moisture({{kitchen(), 1.0}}, straw(), 0.9));
  EXPECT_FALSE(mass_for_carbon_nitrogen({{straw(), 1.0}}, chips(), 30.0));
  EXPECT_EQ(mass_for_moisture({{kitchen(), 1.0}}, straw(), 0.85).value(), 0.0);
}

TEST(Recipe, AvailableCarbonLeavesMostOfTheWoodOut) {
  const std::vector<Portion> mix = {{kitchen(), 10.0}, {chips(), 10.0}};
  EXPECT_GT(mix_carbon_nitrogen(mix), 2.0 * mix_available_carbon_nitrogen(mix));
  EXPECT_TRUE(std::isinf(mix_carbon_nitrogen({{water(), 1.0}})));
}

TEST(Column, HasTheDepthThatWasAskedFor) {
  const Blend b = blend(question(50, 50).portions);
  for (const double depth : {0.05, 0.6, 2.5}) {
    const Column column = fill_column(b, depth, {});
    double height = 0.0;
    for (const SettledLayer& layer : column.layers) height += layer.thickness;
    EXPECT_NEAR(height / depth, 1.0, 1e-9);
    EXPECT_NEAR(column.layers.front().stress / (column.mass * 9.80665), 1.0 - 0.5 / 40, 1e-9);
  }
  EXPECT_THROW(fill_column(b, 0.0, {}), std::invalid_argument);
}

TEST(Column, AWallCarriesPartOfTheLoad) {
  const Blend b = blend(question(80, 20).portions);
  EXPECT_GT(fill_column(b, 1.0, {0.6, 0.45, 0.4}).base.between, fill_column(b, 1.0, {}).base.between + 0.02);
}

TEST(MixAnswer, AddingWhatItSaysMendsTheMix) {
  MixQuestion ask = question(30, 5, 1.0);
  const MixAnswer answer = assess_recipe(ask);
  EXPECT_TRUE(found(answer, MixFinding::base_closes));
  EXPECT_TRUE(found(answer, MixFinding::too_wet));
  EXPECT_TRUE(found(answer, MixFinding::chips_float));
  ASSERT_TRUE(answer.chips.value && answer.dry.value);
  EXPECT_GT(*answer.chips.value, 0.5);
  ask.portions.push_back(litres(ask.chips, 10.0 * *answer.chips.value));
  ask.portions.push_back(litres(ask.dry, 10.0 * *answer.dry.value));
  const MixAnswer after = assess_recipe(ask);
  EXPECT_GE(after.air_base.value, 0.20 - 1e-6);
  EXPECT_LE(after.moisture, 0.65 + 1e-9);
  EXPECT_NEAR(after.air_base.value, answer.mended_air_base, 1e-9);
  EXPECT_NEAR(*after.chips.value, 0.0, 1e-5);
}

TEST(MixAnswer, ABaseThatClosesOnceItRotsIsToldAsSuch) {
  MixQuestion ask = question(30, 25, 0.8);
  Feedstock& waste = ask.portions.front().feedstock;
  waste.mixing_rotted = waste.mixing;
  waste.softness_stress = 6000.0;
  waste.rotted_stiffness = 0.1;
  const MixAnswer limp = assess_recipe(ask);
  EXPECT_GE(limp.air_base.value, 0.20);
  EXPECT_LT(limp.air_limp.value, 0.20);
  EXPECT_TRUE(found(limp, MixFinding::base_closes_later));
  EXPECT_FALSE(found(limp, MixFinding::base_closes));
  waste.rotted_stiffness = 1.0;
  const MixAnswer stiff = assess_recipe(ask);
  EXPECT_NEAR(stiff.air_limp.value, stiff.air_base.value, 1e-12);
  EXPECT_FALSE(found(stiff, MixFinding::base_closes_later));
}

TEST(MixAnswer, FewerChipsWouldNotDo) {
  MixQuestion ask = question(30, 5, 1.0);
  const double enough = *assess_recipe(ask).chips.value;
  ask.portions.push_back(litres(ask.chips, 10.0 * (enough - 0.2)));
  EXPECT_GT(*assess_recipe(ask).chips.value, 0.1);
}

TEST(MixAnswer, ADeeperBedNeedsMoreChips) {
  const MixAnswer shallow = assess_recipe(question(30, 0, 0.5)), deep = assess_recipe(question(30, 0, 1.5));
  EXPECT_LT(*shallow.chips.value, *deep.chips.value);
  EXPECT_GT(shallow.air_base.value, deep.air_base.value);
}

TEST(MixAnswer, HalfTheDepthIsThatOfABedHalfAsDeep) {
  const MixAnswer whole = assess_recipe(question(30, 5, 1.0)), half = assess_recipe(question(30, 5, 0.5));
  EXPECT_NEAR(whole.air_half.value, half.air_base.value, 1e-9);
  EXPECT_NEAR(whole.air_half.low, half.air_base.low, 1e-9);
  EXPECT_GT(whole.air_loose.value, whole.air_half.value);
  EXPECT_GT(whole.air_half.value, whole.air_base.value);
}

TEST(MixAnswer, TellsTheShareOfChipsThatItsAdviceMakes) {
  MixQuestion ask = question(30, 5, 1.0);
  const MixAnswer answer = assess_recipe(ask);
  EXPECT_GT(answer.mended_chip_share, answer.chip_share);
  const double chips_in_all = 5.0 + 10.0 * *answer.chips.value;
  EXPECT_NEAR(answer.mended_chip_share, chips_in_all / (chips_in_all + 30.0 + 10.0 * *answer.dry.value),
              1e-9);
}

TEST(MixAnswer, LowAndHighEncloseTheMiddle) {
  for (const double depth : {0.4, 0.8, 1.6}) {
    const MixAnswer a = assess_recipe(question(30, 20, depth));
    EXPECT_LT(a.air_base.low, a.air_base.value);
    EXPECT_GT(a.air_base.high, a.air_base.value);
    EXPECT_LE(*a.chips.low, *a.chips.value);
    EXPECT_GE(*a.chips.high, *a.chips.value);
    EXPECT_LE(*a.dry.low, *a.dry.value);
    EXPECT_GE(*a.dry.high, *a.dry.value);
  }
}

TEST(MixAnswer, OwnsUpWhenNothingHelps) {
  MixQuestion ask = question(30, 0, 1.0);
  ask.dry = kitchen();
  ask.limits.air_at_base = 0.7;
  const MixAnswer answer = assess_recipe(ask);
  EXPECT_FALSE(answer.chips.value);
  EXPECT_FALSE(answer.chips.high);
}

TEST(MixAnswer, NothingToAddToOpenDryChips) {
  MixQuestion ask = question(0, 30);
  const MixAnswer answer = assess_recipe(ask);
  EXPECT_EQ(*answer.chips.value, 0.0);
  EXPECT_EQ(*answer.dry.value, 0.0);
  EXPECT_TRUE(answer.chips_carry);
  EXPECT_TRUE(found(answer, MixFinding::little_nitrogen));
  EXPECT_TRUE(found(answer, MixFinding::too_dry));
}

TEST(MixAnswer, ComesWithinASecond) {
  const auto start = std::chrono::steady_clock::now();
  assess_recipe(question(30, 5, 1.5));
  EXPECT_LT(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(), 1.0);
}

TEST(MixAnswer, RefusesQuestionsWithoutSense) {
  MixQuestion ask = question(30, 5);
  ask.depth = 0.0;
  EXPECT_THROW(assess_recipe(ask), std::invalid_argument);
  ask = question(30, 5);
  ask.bucket = -1.0;
  EXPECT_THROW(assess_recipe(ask), std::invalid_argument);
  ask = question(30, 5);
  ask.chips = straw();
  EXPECT_THROW(assess_recipe(ask), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
