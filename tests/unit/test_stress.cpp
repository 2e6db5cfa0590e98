#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "solver/material/stress.h"

namespace updraught {
namespace {

constexpr double gravity = 9.80665;

std::vector<LoadedLayer> equal_layers(int count, double mass) {
  return std::vector<LoadedLayer>(static_cast<std::size_t>(count), LoadedLayer{mass / count, 0.0});
}

TEST(Settle, FreeHeapCarriesTheWeightAbove) {
  const auto layers = settle(equal_layers(10, 500.0), {}, [](int, double) { return 0.1; });
  for (std::size_t k = 0; k < layers.size(); ++k)
    EXPECT_NEAR(layers[k].stress, (9.5 - static_cast<double>(k)) * 50.0 * gravity, 1e-9);
}

TEST(Settle, BinOfUniformDensityFollowsJanssenWhateverTheLayers) {
  const WallFriction wall{0.6, 0.45, 0.4};
  for (const int count : {3, 17}) {
    const double thick = 0.9 / count;
    const auto layers = settle(equal_layers(count, 540.0), wall, [&](int, double) { return thick; });
    for (int k = 0; k < count; ++k) {
      const double depth = (count - k - 0.5) * thick;
      EXPECT_NEAR(layers[static_cast<std::size_t>(k)].stress / janssen_stress(600.0, depth, wall), 1.0,
                  1e-12);
    }
  }
}

TEST(Settle, NeedsFewLayersForASoftBed) {
  const auto soft = [](double mass) {
    return [mass](int, double stress) { return mass / (500.0 + 0.06 * stress); };
  };
  const WallFriction wall{0.9, 0.45, 0.4};
  const auto height = [&](int count) {
    double sum = 0.0;
    for (const SettledLayer& layer : settle(equal_layers(count, 500.0), wall, soft(500.0 / count)))
      sum += layer.thickness;
    return sum;
  };
  const double coarse = std::abs(height(10) - height(320)), fine = std::abs(height(20) - height(320));
  EXPECT_LT(fine, 1e-3);
  EXPECT_GT(coarse / fine, 3.5);  // second order
}

TEST(Settle, DoesNotSpringBackWhenTheLoadIsTakenOff) {
  const auto law = [](int, double stress) { return 0.05 + 0.05 * std::exp(-stress / 2000.0); };
  auto layers = equal_layers(8, 400.0);
  const auto loaded = settle(layers, {}, law);
  for (std::size_t k = 0; k < layers.size(); ++k) {
    layers[k].largest_stress = loaded[k].largest_stress;
    layers[k].mass *= 0.5;
  }
  const auto relieved = settle(layers, {}, law);
  for (std::size_t k = 0; k < layers.size(); ++k) {
    EXPECT_EQ(relieved[k].thickness, loaded[k].thickness);
    EXPECT_NEAR(relieved[k].stress, 0.5 * loaded[k].stress, 1e-9);
    EXPECT_EQ(relieved[k].largest_stress, loaded[k].largest_stress);
  }
}

TEST(Settle, PassesOverEmptyLayers) {
  auto layers = equal_layers(4, 400.0);
  layers[2].mass = 0.0;
  const auto settled = settle(layers, {0.6, 0.45, 0.4}, [&](int k, double) { return k == 2 ? 0.0 : 0.2; });
  EXPECT_EQ(settled[2].thickness, 0.0);
  EXPECT_GT(settled[1].stress, settled[3].stress);
}

TEST(Settle, SaysSoWhenALawOfThicknessCannotBeMet) {
  // Thicker under more stress: the layer flips between two thicknesses for ever.
  const auto wrong = [](int, double stress) { return stress > 470.0 ? 4.0 : 0.1; };
  EXPECT_THROW(settle({{100.0, 0.0}}, {0.6, 0.45, 0.4}, wrong), std::runtime_error);
}

TEST(Janssen, LevelsOffDeepDownAndIsPlainWeightWithoutAWall) {
  const WallFriction wall{0.6, 0.45, 0.4};
  EXPECT_NEAR(janssen_stress(600.0, 100.0, wall), 600.0 * gravity * 0.6 / (4.0 * 0.45 * 0.4), 1e-6);
  EXPECT_NEAR(janssen_stress(600.0, 0.9, {}), 600.0 * gravity * 0.9, 1e-9);
}

}  // namespace
}  // namespace updraught
