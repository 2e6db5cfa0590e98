#include "solver/material/recipe.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace updraught {
namespace {

double ratio(double over, double under) {
  return under > 0.0 ? over / under : std::numeric_limits<double>::infinity();
}

struct Amounts {
  double mass = 0.0, water = 0.0;       // kg
  double carbon = 0.0, nitrogen = 0.0;  // kg
};

Amounts amounts(const std::vector<Portion>& portions) {
  Amounts a;
  for (const auto& [f, mass] : portions) {
    const double dry = mass * (1.0 - f.moisture);
    a.mass += mass;
    a.water += mass - dry;
    a.carbon += dry * f.carbon;
    a.nitrogen += dry * f.nitrogen;
  }
  if (a.mass <= 0.0) throw std::invalid_argument("the recipe holds nothing");
  return a;
}

std::optional<double> positive(double over, double under) {
  if (over == 0.0) return 0.0;
  if (under == 0.0 || over / under < 0.0) return std::nullopt;
  return over / under;
}

/// Layers of equal mass, `mass` in all (kg/m2).
std::vector<SettledLayer> settle_column(const Blend& b, const Matter& fresh, double mass,
                                        const WallFriction& wall, int layers) {
  const double each = mass / layers;
  const std::vector<LoadedLayer> loaded(static_cast<std::size_t>(layers), LoadedLayer{each, 0.0});
  return settle(loaded, wall, [&](int, double stress) { return each * pack(b, fresh, stress).volume; });
}

double height(const std::vector<SettledLayer>& layers) {
  double sum = 0.0;
  for (const SettledLayer& layer : layers) sum += layer.thickness;
  return sum;
}

}  // namespace

double mix_moisture(const std::vector<Portion>& portions) {
  const Amounts a = amounts(portions);
  return a.water / a.mass;
}

double mix_carbon_nitrogen(const std::vector<Portion>& portions) {
  const Amounts a = amounts(portions);
  return ratio(a.carbon, a.nitrogen);
}

double mix_available_carbon_nitrogen(const std::vector<Portion>& portions) {
  double carbon = 0.0, nitrogen = 0.0;
  for (const auto& [f, mass] : portions) {
    const double dry = mass * (1.0 - f.moisture);
    carbon += dry * f.carbon * f.available_carbon;
    // Nitrogen inside wood is as far out of reach as its carbon.
    nitrogen += dry * f.nitrogen * (f.chips ? f.available_carbon : 1.0);
  }
  return ratio(carbon, nitrogen);
}

std::optional<double> mass_for_moisture(const std::vector<Portion>& mix, const Feedstock& other,
                                        double goal) {
  const Amounts a = amounts(mix);
  return positive(goal * a.mass - a.water, other.moisture - goal);
}

std::optional<double> mass_for_carbon_nitrogen(const std::vector<Portion>& mix, const Feedstock& other,
                                               double goal) {
  const Amounts a = amounts(mix);
  const double dry = 1.0 - other.moisture;
  return positive(goal * a.nitrogen - a.carbon, (other.carbon - goal * other.nitrogen) * dry);
}

Column fill_column(const Blend& b, double depth, const WallFriction& wall, int layers) {
  if (!(depth > 0.0) || layers < 1) throw std::invalid_argument("the depth of a bed must be above zero");
  const Matter fresh = fresh_matter(b);
  // Height grows with mass and each kilogram takes at most its loose volume and at least that of the last
  // layer, so the secant through the last two trials lands within a few passes.
  Column column;
  column.mass = depth / pack(b, fresh, 0.0).volume;
  double before_mass = 0.0, before_height = 0.0;
  constexpr int most_passes = 60;
  for (int pass = 0; pass < most_passes; ++pass) {
    column.layers = settle_column(b, fresh, column.mass, wall, layers);
    const double now = height(column.layers);
    if (std::abs(now - depth) <= 1e-10 * depth) break;
    const double slope = (now - before_height) / (column.mass - before_mass);
    before_mass = column.mass;
    before_height = now;
    column.mass += (depth - now) / slope;
    if (pass + 1 == most_passes) throw std::runtime_error("the bed finds no settled depth");
  }
  column.top = pack(b, fresh, column.layers.back().largest_stress);
  column.base = pack(b, fresh, column.layers.front().largest_stress);
  return column;
}

}  // namespace updraught
