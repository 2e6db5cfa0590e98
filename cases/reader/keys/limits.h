// Limits that several keys share.
#pragma once

#include "cases/text/key_rule.h"

namespace updraught {

constexpr Limits gap_limits{0.0, 0.05, "a gap is between 0 and 5 cm"};
constexpr Limits width_limits{0.01, 20.0, "a bin or heap is between 1 cm and 20 m wide"};
constexpr Limits bin_height_limits{0.01, 10.0, "a bin or heap is between 1 cm and 10 m high"};
constexpr Limits place_limits{0.0, 10.0, "between 0 and 10 m above the floor"};
constexpr Limits air_limits{-60.0, 60.0, "outside air is between -60 and 60 degC"};
constexpr Limits face_limits{-60.0, 150.0, "between -60 and 150 degC"};
constexpr Limits warmth_limits{-10.0, 10.0, "between -10 and 10 K"};
constexpr Limits wind_limits{0.0, 30.0, "between 0 and 30 m/s"};
constexpr Limits film_limits{1e-3, 1e6, "between 0.001 and 1000000 W/m2K"};
constexpr Limits shift_limits{-1.0, 1.0, "between -1 and 1"};
constexpr Limits factor_limits{0.001, 1000.0, "between 0.001 and 1000"};

}  // namespace updraught
