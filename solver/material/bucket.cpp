#include "solver/material/bucket.h"

#include "solver/material/packing.h"

namespace updraught {
namespace {

constexpr int halvings = 60;

/// Where a rising function of one number meets `goal`; none where it does not within the two ends.
template <class Function>
std::optional<double> meets(double low, double high, double goal, const Function& rising) {
  if (!(rising(low) <= goal && goal <= rising(high))) return std::nullopt;
  for (int pass = 0; pass < halvings; ++pass) {
    const double middle = 0.5 * (low + high);
    (rising(middle) < goal ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double loose_density(const std::vector<Portion>& portions, double shift) {
  LawFactors laws;
  laws.packing_excess_shift = shift;
  const Blend b = blend(portions, laws);
  return 1.0 / pack(b, fresh_matter(b), 0.0).volume;
}

}  // namespace

double filled_volume(const Blend& b) {
  const Volumes v = particle_volumes(b, fresh_matter(b));
  return v.chips + v.soft + v.free_water;
}

double open_pores_at(const Blend& b, double density) {
  return 1.0 - density * filled_volume(b);
}

std::optional<double> packing_shift_for(const std::vector<Portion>& portions, double density) {
  const Blend b = blend(portions);
  if (b.dry_chips <= 0.0 || b.dry_soft <= 0.0) return std::nullopt;
  // m stays within 0 and 1, so a shift beyond its distance to either end changes nothing more.
  return meets(-b.mixing, 1.0 - b.mixing, 1.0 / density,
               [&](double shift) { return 1.0 / loose_density(portions, shift); });
}

std::optional<double> stress_for_volume(const Blend& b, double share) {
  constexpr double hardest = 1e5;  // Pa, beyond any bed
  const Matter fresh = fresh_matter(b);
  const double loose = pack(b, fresh, 0.0).volume;
  return meets(0.0, hardest, 1.0 - share,
               [&](double stress) { return 1.0 - pack(b, fresh, stress).volume / loose; });
}

}  // namespace updraught
