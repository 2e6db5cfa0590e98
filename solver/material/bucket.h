// What a bucket of a mix tells that was weighed, dropped or filled up with water (theory 2.4, 2.5).
#pragma once

#include <optional>
#include <vector>

#include "solver/material/mixture.h"

namespace updraught {

/// Volume of solids and water in a kilogram of fresh mix (m3/kg): what is left of a bucket beside it is open.
double filled_volume(const Blend& blend);

/// Share of open pores between the pieces of fresh mix that weighs `density` as it lies (kg/m3). Negative
/// where no matter of its kind is so dense.
double open_pores_at(const Blend& blend, double density);

/// What is added to the packing constant m so that the loose mix weighs `density` (kg/m3). None where no
/// shift from -1 to 1 does that, or where m has no say since chips or soft matter are missing.
std::optional<double> packing_shift_for(const std::vector<Portion>& portions, double density);

/// Stress that presses fresh mix to this share of its loose volume (Pa). None where 100 kPa do not.
std::optional<double> stress_for_volume(const Blend& blend, double share);

}  // namespace updraught
