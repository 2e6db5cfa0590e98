#include <gtest/gtest.h>

#include <cmath>

#include "solver/material/packing.h"
#include "solver/material/permeability.h"
#include "tests/materials.h"

namespace updraught {
namespace {

using namespace materials;

TEST(Resistance, GrowsSmoothlyAsPoresCloseAndStaysFinite) {
  const Blend b = blend({litres(kitchen(), 60.0), litres(chips(), 40.0)});
  const Matter m = fresh_matter(b);
  double before = 0.0;
  for (double between = 0.0; between < 0.8; between += 0.001) {
    const Resistance r = bed_resistance(b, m, between);
    EXPECT_TRUE(std::isfinite(r.permeability) && std::isfinite(r.inertia));
    EXPECT_GT(r.permeability, before);
    // No jump: at most doubled per thousandth of porosity, even in closed matter.
    if (before > 0.0) {
      EXPECT_LT(r.permeability, 2.0 * before);
    }
    EXPECT_GT(r.inertia, 0.0);
    before = r.permeability;
  }
}

TEST(Resistance, TakesTheClosedPartOffTheOpenPores) {
  const Blend b = blend({{chips(0.03), 1.0}});
  const Resistance bed = bed_resistance(b, fresh_matter(b), 0.50);
  EXPECT_NEAR(bed.permeability / ergun(0.45, 0.0024).permeability, 1.0, 1e-3);
  EXPECT_NEAR(bed.inertia / ergun(0.45, 0.0024).inertia, 1.0, 1e-3);
}

TEST(Resistance, TakesTheSurfaceMeanOfBothSizes) {
  const Blend b = blend({litres(kitchen(), 50.0), litres(chips(), 50.0)});
  const Matter m = fresh_matter(b);
  const Volumes v = particle_volumes(b, m);
  const double fill = split_water(b, m).soft / (b.capacity_soft * b.dry_soft);
  const double soft = 0.0015 * (1.0 + 0.8 * (fill - 0.6));
  const double mean = (v.chips + v.soft) / (v.chips / 0.0032 + v.soft / soft);
  EXPECT_NEAR(bed_resistance(b, m, 0.4).permeability / ergun(0.35, mean).permeability, 1.0, 1e-3);
}

TEST(Resistance, WetFinesClumpAndPassMoreAirAtTheSamePorosity) {
  const Blend b = blend({{kitchen(), 1.0}});
  Matter m = fresh_matter(b);
  const double wet = bed_resistance(b, m, 0.4).permeability;
  m.water *= 0.3;
  EXPECT_GT(wet, 1.2 * bed_resistance(b, m, 0.4).permeability);
}

TEST(Wall, LooserPackingNeedsChipsThatCarry) {
  const Blend mix = blend({litres(kitchen(), 25.0), litres(chips(), 75.0)});
  const Blend soft = blend({{kitchen(), 1.0}});
  const Matter m = fresh_matter(mix), s = fresh_matter(soft);
  const double bed = bed_resistance(mix, m, 0.35).permeability;
  EXPECT_GT(wall_resistance(mix, m, 0.35, 1.0, 0.02).permeability, 2.0 * bed);
  EXPECT_NEAR(wall_resistance(mix, m, 0.35, 0.0, 0.02).permeability / bed, 1.0, 1e-12);
  EXPECT_NEAR(
      wall_resistance(soft, s, 0.35, 1.0, 0.02).permeability / bed_resistance(soft, s, 0.35).permeability,
      1.0, 1e-12);
  EXPECT_GT(wall_resistance(mix, m, 0.35, 1.0, 0.02).permeability,
            wall_resistance(mix, m, 0.35, 1.0, 0.08).permeability);
}

TEST(Wall, InertiaSlowsThePackingsShareOfTheAirAlone) {
  const Resistance packing{1e-9, 3e5};
  const double slit = 4e-9, viscosity = 1.8e-5, density = 1.2;
  const Resistance wall = beside_slit(packing, slit);
  EXPECT_DOUBLE_EQ(wall.permeability, 5e-9);
  // Side by side both meet the same drop, the slit by Poiseuille's law (exact for two channels).
  const auto through_both = [&](double drop) {
    const double a = viscosity / packing.permeability, b = density * packing.inertia;
    return drop * slit / viscosity + 2.0 * drop / (a + std::sqrt(a * a + 4.0 * b * drop));
  };
  const auto as_one = [&](double drop) {
    const double a = viscosity / wall.permeability, b = density * wall.inertia;
    return 2.0 * drop / (a + std::sqrt(a * a + 4.0 * b * drop));
  };
  EXPECT_NEAR(as_one(1.0) / through_both(1.0), 1.0, 1e-4);
  EXPECT_NEAR(as_one(300.0) / through_both(300.0), 1.0, 0.02);
  EXPECT_EQ(beside_slit(packing, 0.0).inertia, packing.inertia);
}

TEST(Wall, MeanPorosityOfPureChipsFollowsTheExponential) {
  // Hunt and Tien 1988: e + (1 - e) exp(-6 y/d), averaged over the width by a fine sum.
  const Blend b = blend({{chips(0.03), 1.0}});
  const double inner = 0.55, width = 0.015, size = 0.03;
  double mean = 0.0;
  for (int i = 0; i < 20000; ++i)
    mean += inner + (1.0 - inner) * std::exp(-6.0 * (i + 0.5) / 20000 * width / size);
  mean /= 20000;
  const double expected = bed_resistance(b, fresh_matter(b), mean).permeability;
  EXPECT_NEAR(wall_resistance(b, fresh_matter(b), inner, 1.0, width).permeability / expected, 1.0, 1e-7);
}

TEST(Diffusion, LawsGiveTheirPublishedSpread) {
  // Comparison at S 0.30, total porosity 0.80, derived from the published forms.
  EXPECT_NEAR(diffusion_ratio(DiffusionLaw::papendick_campbell, 0.30, 0.80), 0.090, 5e-4);
  EXPECT_NEAR(diffusion_ratio(DiffusionLaw::millington_quirk_1961, 0.30, 0.80), 0.0282, 5e-5);
  EXPECT_NEAR(diffusion_ratio(DiffusionLaw::millington_quirk_1960, 0.30, 0.80), 0.104, 5e-4);
  EXPECT_NEAR(diffusion_ratio(DiffusionLaw::penman, 0.30, 0.80), 0.198, 5e-4);
  EXPECT_NEAR(diffusion_ratio(DiffusionLaw::moldrup, 0.30, 0.80), 0.055, 5e-4);
}

TEST(Conductivity, LiesInThePublishedSpan) {
  EXPECT_NEAR(bed_conductivity(0.0), 0.08, 1e-15);
  EXPECT_NEAR(bed_conductivity(0.4), 0.36, 1e-15);
}

}  // namespace
}  // namespace updraught
