#include "solver/material/stress.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/material/moist_air.h"

namespace updraught {
namespace {

double friction_per_depth(const WallFriction& wall) {
  return wall.hydraulic_diameter > 0.0 ? 4.0 * wall.lateral_ratio * wall.coefficient / wall.hydraulic_diameter
                                       : 0.0;
}

/// (1 - exp(-x))/x, smooth through x = 0.
double mean_decay(double x) {
  return x > 1e-12 ? -std::expm1(-x) / x : 1.0;
}

/// Theory 2.7: stress at a depth inside a layer of uniform `weight` per depth (Pa/m) under `top` (Pa).
double stress_below(double top, double weight, double depth, double friction) {
  const double x = friction * depth;
  return top * std::exp(-x) + weight * depth * mean_decay(x);
}

/// Thickness and mid-layer stress agree: a fixed point that contracts by less than the friction over one
/// layer.
SettledLayer settle_layer(int index, const LoadedLayer& layer, double top, double friction,
                          const std::function<double(int, double)>& thickness) {
  constexpr int most_passes = 200;
  SettledLayer settled;
  settled.largest_stress = std::max(layer.largest_stress, top);
  settled.thickness = thickness(index, settled.largest_stress);
  for (int pass = 0; pass < most_passes; ++pass) {
    const double before = settled.thickness;
    const double weight = before > 0.0 ? layer.mass * gravity / before : 0.0;
    settled.stress = stress_below(top, weight, 0.5 * before, friction);
    settled.largest_stress = std::max(layer.largest_stress, settled.stress);
    settled.thickness = thickness(index, settled.largest_stress);
    if (std::abs(settled.thickness - before) <= 1e-13 * before) return settled;
  }
  throw std::runtime_error("a layer of the bed does not settle: its thickness rises with the stress");
}

}  // namespace

std::vector<SettledLayer> settle(const std::vector<LoadedLayer>& layers, const WallFriction& wall,
                                 const std::function<double(int layer, double stress)>& thickness) {
  const double friction = friction_per_depth(wall);
  std::vector<SettledLayer> settled(layers.size());
  double top = 0.0;
  for (int k = static_cast<int>(layers.size()) - 1; k >= 0; --k) {
    const auto i = static_cast<std::size_t>(k);
    settled[i] = settle_layer(k, layers[i], top, friction, thickness);
    const double depth = settled[i].thickness;
    const double weight = depth > 0.0 ? layers[i].mass * gravity / depth : 0.0;
    top = stress_below(top, weight, depth, friction);
  }
  return settled;
}

double janssen_stress(double density, double depth, const WallFriction& wall) {
  return stress_below(0.0, density * gravity, depth, friction_per_depth(wall));
}

}  // namespace updraught
