#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/material/packing.h"
#include "tests/materials.h"

namespace updraught {
namespace {

using namespace materials;

/// Mixes from soft matter alone over chips alone to matter under water.
std::vector<std::vector<Portion>> mixes() {
  std::vector<std::vector<Portion>> all;
  for (int share = 0; share <= 100; share += 5)
    all.push_back({litres(kitchen(), 100.0 - share), litres(chips(), share)});
  all.push_back({litres(kitchen(), 50.0), litres(straw(), 50.0)});
  all.push_back({litres(kitchen(), 50.0), {water(), 40.0}});
  all.push_back({litres(kitchen(), 30.0), litres(chips(), 70.0), {water(), 100.0}});
  all.push_back({litres(chips(), 100.0), {water(), 60.0}});
  return all;
}

TEST(Packing, GivesSingleMaterialsBackExactly) {
  const Blend soft = blend({{kitchen(), 1.0}}), stiff = blend({{chips(), 1.0}});
  EXPECT_NEAR(1.0 / pack(soft, fresh_matter(soft), 0.0).volume, 500.0, 1e-10);
  EXPECT_NEAR(pack(stiff, fresh_matter(stiff), 0.0).between, 0.60, 1e-14);
  EXPECT_EQ(mixed_volume(0.4, 0.0, 0.6, 0.3, 0.0), 0.4 / (1.0 - 0.6));
  EXPECT_EQ(mixed_volume(0.0, 0.7, 0.6, 0.3, 0.0), 0.7 / (1.0 - 0.3));
  EXPECT_EQ(pack(soft, fresh_matter(soft), 0.0).chip_carried, 0.0);
  EXPECT_EQ(pack(stiff, fresh_matter(stiff), 0.0).chip_carried, 1.0);
}

TEST(Packing, StaysPhysicalForEveryMixAndStress) {
  for (const auto& mix : mixes()) {
    const Blend b = blend(mix);
    Matter m = fresh_matter(b);
    for (const double soaked : {0.0, 0.5, 1.0}) {
      m.soaked = soaked;
      for (double stress = 0.0; stress < 2e5; stress = 1.3 * stress + 10.0) {
        const Packed p = pack(b, m, stress);
        EXPECT_GT(p.volume, 0.0);
        EXPECT_GT(p.between, 0.0);
        EXPECT_LT(p.between, 1.0);
        EXPECT_GE(p.total, p.between - 1e-12);
        EXPECT_GE(p.chip_carried, 0.0);
        EXPECT_LE(p.chip_carried, 1.0);
      }
    }
  }
}

TEST(Packing, NeverGrowsThickerUnderMoreStress) {
  for (const auto& mix : mixes()) {
    const Blend b = blend(mix);
    const Matter m = fresh_matter(b);
    double before = pack(b, m, 0.0).volume;
    for (double stress = 5.0; stress < 3e4; stress += 5.0) {
      const double now = pack(b, m, stress).volume;
      EXPECT_LE(now, before * (1.0 + 1e-15));
      before = now;
    }
  }
}

/// Largest change of the slope of volume with stress between two neighbouring steps.
double largest_bend(const Blend& b, double step) {
  const Matter m = fresh_matter(b);
  const auto volume = [&](int i) { return pack(b, m, i * step).volume; };
  double largest = 0.0;
  for (int i = 1; i * step < 2e4; ++i)
    largest = std::max(largest, std::abs(volume(i + 1) - 2.0 * volume(i) + volume(i - 1)) / step);
  return largest;
}

TEST(Packing, BendsSmoothlyWithStress) {
  // A kink changes the slope by as much however short the step; a smooth bend shrinks with it.
  for (const auto& mix : mixes()) {
    const Blend b = blend(mix);
    EXPECT_LT(largest_bend(b, 1.25), 0.4 * largest_bend(b, 5.0));
  }
}

TEST(Packing, VolumeLiesBetweenIdealAndNoMixing) {
  for (double soft = 0.0; soft <= 1.0; soft += 0.05) {
    const double ideal = mixed_volume(1.0 - soft, soft, 0.6, 0.3, 0.0);
    const double none = mixed_volume(1.0 - soft, soft, 0.6, 0.3, 1.0);
    const double real = mixed_volume(1.0 - soft, soft, 0.6, 0.3, 0.35);
    EXPECT_NEAR(none, (1.0 - soft) / 0.4 + soft / 0.7, 1e-14);
    EXPECT_NEAR(real, ideal + 0.35 * (none - ideal), 1e-14);
    EXPECT_LE(ideal, none + 1e-14);
  }
}

TEST(Packing, ScalesWithTheAmount) {
  const Blend b = blend({litres(kitchen(), 50.0), litres(chips(), 50.0)});
  Matter m = fresh_matter(b);
  const Packed one = pack(b, m, 1500.0);
  for (double* amount : {&m.chips, &m.soft_organic, &m.soft_ash, &m.water}) *amount *= 730.0;
  const Packed many = pack(b, m, 1500.0);
  EXPECT_NEAR(many.volume / (730.0 * one.volume), 1.0, 1e-13);
  EXPECT_NEAR(many.between, one.between, 1e-13);
}

// Wet chips give water to dry soft matter: it fills pores and does not lift the bed (practice: a heap never
// grows).
TEST(Packing, WaterThatSoftMatterTakesUpDoesNotSwellTheBed) {
  Portion wet = litres(chips(), 50.0);
  wet.feedstock.moisture = 0.5;
  wet.mass *= 1.5;
  Portion dry = litres(kitchen(), 50.0);
  dry.feedstock.moisture = 0.12;
  dry.feedstock.loose_density = 60.0;
  dry.feedstock.loose_porosity = 0.9;
  dry.feedstock.water_capacity = 3.0;
  const Blend b = blend({wet, dry});
  Matter m = fresh_matter(b);
  const Packed laid = pack(b, m, 200.0);
  m.soaked = 1.0;
  EXPECT_GT(particle_volumes(b, m).taken_up, 0.0);
  // A film of air stays beside water (theory 2.5); it is all that rises.
  EXPECT_LE(pack(b, m, 200.0).volume, laid.volume * (1.0 + 1e-4));
}

TEST(Packing, TotalAirSpaceIsWhatTheDensityFormulaSays) {
  for (const auto& mix : mixes()) {
    const Blend b = blend(mix);
    const Matter m = fresh_matter(b);
    const Packed p = pack(b, m, 2000.0);
    const double organic = b.dry_chips + b.dry_soft - b.ash_chips - b.ash_soft;
    const double matter = organic / 1600.0 + (b.ash_chips + b.ash_soft) / 2500.0 + b.water / 1000.0;
    EXPECT_NEAR(p.total, 1.0 - matter / p.volume, 1e-12);
  }
}

TEST(Packing, MatrixThatRotsInsideCarriedChipPoresFreesAir) {
  const Blend b = blend({litres(kitchen(), 25.0), litres(chips(), 75.0)});
  Matter m = fresh_matter(b);
  const Packed fresh = pack(b, m, 2000.0);
  m.soft_organic *= 0.6;
  m.water *= 0.8;
  const Packed rotted = pack(b, m, 2000.0);
  EXPECT_GT(fresh.chip_carried, 0.9);
  EXPECT_GT(rotted.between, fresh.between + 0.03);
  EXPECT_GT(rotted.volume, 0.9 * fresh.volume);
}

TEST(Packing, MatrixThatRotsBetweenFloatingChipsSinks) {
  const Blend b = blend({litres(kitchen(), 80.0), litres(chips(), 20.0)});
  Matter m = fresh_matter(b);
  const Packed fresh = pack(b, m, 5000.0);
  m.soft_organic *= 0.6;
  m.soft_ash *= 0.6;
  m.water *= 0.6;
  const Packed rotted = pack(b, m, 5000.0);
  EXPECT_LT(rotted.volume, 0.75 * fresh.volume);
}

TEST(Packing, MixingConstantOfTheSizeRatioGrowsFromZeroToOne) {
  EXPECT_EQ(mixing_from_size_ratio(0.0), 0.0);
  EXPECT_EQ(mixing_from_size_ratio(0.9), 1.0);
  double before = 0.0;
  for (double r = 0.05; r <= 0.8; r += 0.05) {
    EXPECT_GT(mixing_from_size_ratio(r), before);
    before = mixing_from_size_ratio(r);
  }
}

}  // namespace
}  // namespace updraught
