#include "solver/material/packing.h"

#include <algorithm>
#include <cmath>

namespace updraught {
namespace {

/// Smooth larger of two volumes >= 0 (theory 2.3): p-norm with p = 64, exact where one of them is zero. With
/// p = 20 the corner of ideal packing would lie 0.017 above the least porosity that Furnas gives; 64 leaves
/// 0.005.
struct Larger {
  double value = 0.0;
  double first_share = 0.0;  // 1: the first rules, 0: the second; gentler (16th power) than the corner itself
};

Larger smooth_larger(double first, double second) {
  const double high = std::max(first, second);
  if (high <= 0.0) return {};
  const double ratio = std::min(first, second) / high;
  const double r2 = ratio * ratio, r4 = r2 * r2, r8 = r4 * r4, r16 = r8 * r8, r32 = r16 * r16;
  const double t = r32 * r32;
  const double lift = t > 1e-18 ? std::exp(std::log1p(t) / 64.0) : 1.0;
  const double low_share = r16 / (1.0 + r16);
  return {high * lift, first >= second ? 1.0 - low_share : low_share};
}

/// Room between the chips and bulk volume of the soft matrix: the two that compete (theory 2.3).
struct Rivals {
  double pores;   // of the touching chips (m3)
  double matrix;  // bulk volume of the soft matter (m3)
};

Rivals rivals(double chips, double soft, double chip_porosity, double soft_porosity) {
  return {chips * chip_porosity / (1.0 - chip_porosity), soft / (1.0 - soft_porosity)};
}

double mixed(double chips, const Rivals& r, double larger, double mixing) {
  return chips + larger + mixing * (r.pores + r.matrix - larger);
}

/// Air left when free water stands in the pores (theory 2.5): pores less water, smoothly kept above zero,
/// exact without water. A film of air of 1 % stays where the water just fills the pores; more water lifts the
/// bed (our choice).
double air_beside_water(double pores, double water) {
  if (water <= 0.0) return pores;
  const double rest = pores - water;
  return 0.5 * (rest + std::sqrt(rest * rest + 4e-4 * water * pores));
}

}  // namespace

double chip_porosity(const Blend& b, double stress) {
  return b.chip_porosity_least +
         (b.chip_porosity - b.chip_porosity_least) * std::exp(-std::max(stress, 0.0) / b.chip_stress);
}

double soft_porosity(const Blend& b, double stress, double easy_left) {
  const double softness = b.soft_stress_rotted + (b.soft_stress - b.soft_stress_rotted) * easy_left;
  return b.soft_porosity_least +
         (b.soft_porosity - b.soft_porosity_least) * std::exp(-std::max(stress, 0.0) / softness);
}

double mixed_volume(double chips, double soft, double chip_porosity, double soft_porosity, double mixing) {
  const Rivals r = rivals(chips, soft, chip_porosity, soft_porosity);
  return mixed(chips, r, smooth_larger(r.pores, r.matrix).value, mixing);
}

Packed pack(const Blend& b, const Matter& matter, double stress) {
  const Volumes v = particle_volumes(b, matter);
  // Water that soft matter takes up beyond what it came with goes into its pieces and between them: it takes
  // the place of air and does not spread the pieces further apart (theory 2.5).
  const double came = v.soft - v.taken_up;
  const double water = v.free_water + v.taken_up;
  const Rivals r =
      rivals(v.chips, came, chip_porosity(b, stress), soft_porosity(b, stress, matter.easy_left));
  const Larger larger = smooth_larger(r.pores, r.matrix);
  const double mixing = b.mixing_rotted + (b.mixing - b.mixing_rotted) * matter.easy_left;
  const double filled = v.chips + came;
  const double air = air_beside_water(mixed(v.chips, r, larger.value, mixing) - filled, water);
  Packed packed;
  packed.volume = filled + water + air;
  if (packed.volume <= 0.0) return packed;
  packed.between = air / packed.volume;
  packed.total = (air + v.wood_air) / packed.volume;
  packed.chip_carried = larger.first_share;
  return packed;
}

double mixing_from_size_ratio(double ratio) {
  // Beyond 0.824 the law knows no mixing at all; the power is our fit of the packing law to it (theory 2.6).
  constexpr double equal = 0.824;
  const double r = std::clamp(ratio / equal, 0.0, 1.0);
  return 1.0 - std::pow(1.0 - r, 1.66);
}

}  // namespace updraught
