#include <gtest/gtest.h>

#include <cmath>

#include "solver/material/mixture.h"
#include "solver/material/packing.h"
#include "tests/materials.h"

namespace updraught {
namespace {

using namespace materials;

TEST(Blend, LeavesASingleMaterialAsItIs) {
  const Feedstock k = kitchen();
  const Blend b = blend({{k, 12.0}});
  EXPECT_NEAR(b.dry_soft, 0.15, 1e-14);
  EXPECT_NEAR(b.water, 0.85, 1e-14);
  EXPECT_NEAR(b.ash_soft, 0.015, 1e-14);
  EXPECT_NEAR(b.loose_volume, 1.0 / 500.0, 1e-15);
  EXPECT_NEAR(b.soft_stress, 2000.0, 1e-9);
  EXPECT_NEAR(b.soft_ergun, 0.0015, 1e-15);
  EXPECT_NEAR(b.pools[pool_of::easy].share, 0.55 * 0.135, 1e-14);
  EXPECT_NEAR(b.pools[pool_of::easy].rate, 0.40 / day, 1e-18);
  EXPECT_EQ(b.pools[pool_of::wood].share, 0.0);
  EXPECT_EQ(b.chip_share, 0.0);
}

TEST(Blend, DoesNotDependOnTheAmountNorOnTheOrder) {
  const Blend a = blend({{kitchen(), 3.0}, {straw(), 1.0}, {chips(), 2.0}});
  const Blend b = blend({{chips(), 200.0}, {kitchen(), 300.0}, {straw(), 100.0}});
  EXPECT_NEAR(a.soft_porosity, b.soft_porosity, 1e-13);
  EXPECT_NEAR(a.soft_stress / b.soft_stress, 1.0, 1e-13);
  EXPECT_NEAR(a.mixing, b.mixing, 1e-13);
  EXPECT_NEAR(a.carbon_nitrogen_available / b.carbon_nitrogen_available, 1.0, 1e-13);
}

TEST(Blend, ClosesTheMassOfSolidsPoolsAndWater) {
  const Blend b = blend({{kitchen(), 3.0}, {straw(), 1.0}, {chips(), 2.0}, {water(), 0.5}});
  EXPECT_NEAR(b.dry_chips + b.dry_soft + b.water, 1.0, 1e-14);
  double pools = 0.0;
  for (const Pool& pool : b.pools) pools += pool.share;
  EXPECT_NEAR(pools + b.ash_chips + b.ash_soft, b.dry_chips + b.dry_soft, 1e-14);
}

TEST(Blend, KeepsOxygenInAllAndUptakeAtTheStart) {
  const Blend b = blend({{kitchen(), 1.0}, {straw(), 1.0}});
  double oxygen = 0.0, uptake = 0.0, parts_oxygen = 0.0, parts_uptake = 0.0;
  for (const Pool& p : b.pools) {
    oxygen += p.share * p.demand;
    uptake += p.share * p.demand * p.rate;
  }
  for (const Feedstock& f : {kitchen(), straw()}) {
    for (const Pool& p : f.pools) {
      const double mass = 0.5 * (1.0 - f.moisture) * f.volatile_solids * p.share;
      parts_oxygen += mass * p.demand;
      parts_uptake += mass * p.demand * p.rate;
    }
  }
  EXPECT_NEAR(oxygen / parts_oxygen, 1.0, 1e-13);
  EXPECT_NEAR(uptake / parts_uptake, 1.0, 1e-13);
}

TEST(Blend, PutsAllVolatileSolidsOfChipsIntoTheWoodPool) {
  const Blend b = blend({{kitchen(), 1.0}, {chips(), 1.0}});
  EXPECT_NEAR(b.pools[pool_of::wood].share, 0.5 * 0.6 * 0.98, 1e-14);
  EXPECT_NEAR(b.pools[pool_of::wood].rate, 0.002 / day, 1e-18);
  EXPECT_NEAR(b.pools[pool_of::wood].demand, 1.41, 1e-13);
}

TEST(Blend, TakesVolatileSolidsOutsideThePoolsAsMatterThatDoesNotRot) {
  Feedstock k = kitchen();
  k.pools[pool_of::hard] = {0.0, 0.0, 0.0};
  const Blend b = blend({{k, 1.0}});
  EXPECT_NEAR(b.pools[pool_of::hard].share, 0.20 * 0.135, 1e-14);
  EXPECT_EQ(b.pools[pool_of::hard].rate, 0.0);
}

TEST(Blend, BlendsTwoKindsOfChipsIntoOnePacking) {
  const Feedstock coarse = chips(0.04, 0.65), fine = chips(0.015, 0.58);
  const Blend b = blend({litres(coarse, 10.0), litres(fine, 10.0)});
  EXPECT_GT(b.chip_porosity, 0.58);
  EXPECT_LT(b.chip_porosity, 0.65);
  EXPECT_NEAR(1.0 / pack(b, fresh_matter(b), 0.0).volume, 0.5 * (coarse.loose_density + fine.loose_density),
              1e-9);
  EXPECT_GT(b.chip_ergun, 0.0012);
  EXPECT_LT(b.chip_ergun, 0.0032);
  EXPECT_EQ(b.largest_piece, 0.04);
}

TEST(Blend, SettingsMoveMixingErgunSizesAndRatesOnly) {
  const std::vector<Portion> mix = {{kitchen(), 3.0}, {chips(), 1.0}};
  const Blend middle = blend(mix), low = blend(mix, {-0.1, 0.7, 1.3}), far = blend(mix, {-5.0, 1.0, 1.0});
  EXPECT_NEAR(low.mixing, middle.mixing - 0.1, 1e-14);
  EXPECT_NEAR(low.mixing_rotted, middle.mixing_rotted - 0.1, 1e-14);
  EXPECT_NEAR(low.soft_ergun, 0.7 * middle.soft_ergun, 1e-15);
  EXPECT_NEAR(low.chip_ergun, 0.7 * middle.chip_ergun, 1e-15);
  EXPECT_NEAR(low.pools[pool_of::easy].rate, 1.3 * middle.pools[pool_of::easy].rate, 1e-18);
  EXPECT_EQ(low.soft_porosity, middle.soft_porosity);
  EXPECT_EQ(far.mixing, 0.0);
}

TEST(Blend, WetterSoftMatterIsSofter) {
  const Blend dry = blend({{straw(), 1.0}});
  const Blend wet = blend({{straw(), 1.0}, {water(), 1.0}});
  EXPECT_LT(wet.soft_stress, 0.5 * dry.soft_stress);
}

TEST(Blend, SmallerChipsLeaveSmallerPoresSoThatLessSlipsIn) {
  const Blend coarse = blend({{kitchen(), 1.0}, {chips(0.04), 1.0}});
  const Blend fine = blend({{kitchen(), 1.0}, {chips(0.02), 1.0}});
  EXPECT_NEAR(coarse.mixing, 0.35, 1e-14);
  EXPECT_GT(fine.mixing, coarse.mixing);
}

TEST(Blend, RefusesWhatCannotBe) {
  EXPECT_THROW(blend({}), std::invalid_argument);
  EXPECT_THROW(blend({{water(), 1.0}}), std::invalid_argument);
  EXPECT_THROW(blend({{kitchen(), -1.0}, {chips(), 2.0}}), std::invalid_argument);
  Feedstock heavy = kitchen();
  heavy.pools[pool_of::easy].share = 0.9;
  EXPECT_THROW(blend({{heavy, 1.0}}), std::invalid_argument);
  Feedstock nameless = kitchen();
  nameless.loose_density = 0.0;
  EXPECT_THROW(blend({{nameless, 1.0}}), std::invalid_argument);
}

TEST(Water, DryChipsDrinkUntilBothAreFilledAlike) {
  const Blend b = blend({{kitchen(), 1.0}, {chips(), 1.0}});
  Matter m = fresh_matter(b);
  const WaterSplit before = split_water(b, m);
  m.soaked = 1.0;
  const WaterSplit after = split_water(b, m);
  EXPECT_NEAR(before.chips, 0.2, 1e-14);
  EXPECT_GT(after.chips, before.chips);
  EXPECT_NEAR(after.chips / (b.capacity_chips * m.chips),
              after.soft / (b.capacity_soft * m.soft_organic / 0.9), 1e-12);
  EXPECT_NEAR(after.chips + after.soft + after.free, m.water, 1e-14);
}

TEST(Water, AboveBothCapacitiesLiesFree) {
  const Blend b = blend({{kitchen(), 1.0}, {chips(), 1.0}});
  Matter m = fresh_matter(b);
  m.soaked = 1.0;
  m.water = b.capacity_chips * m.chips + b.capacity_soft * (m.soft_organic + m.soft_ash) + 0.3;
  EXPECT_NEAR(particle_volumes(b, m).free_water, 0.3e-3, 1e-15);
}

TEST(Water, WoodHoldsNoMoreThanItsRoom) {
  Feedstock dense = chips();
  dense.basic_density = 550.0;
  dense.loose_porosity = 0.6;
  const Blend b = blend({{dense, 1.0}});
  Matter m = fresh_matter(b);
  m.water = 5.0 * m.chips;
  EXPECT_LT(b.capacity_chips, 1.3);
  EXPECT_GE(particle_volumes(b, m).wood_air, -1e-18);
}

}  // namespace
}  // namespace updraught
