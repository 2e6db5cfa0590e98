// How much oxygen the microbes of each cell would use, and how they answer to what there is (theory 7.1
// to 7.5).
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/state/state.h"

namespace updraught {

/// How uptake in a cell answers to the dry mole fraction of oxygen; 1 in the respirometer's state.
struct OxygenResponse {
  enum class Law { none, proportional, monod, breathing };
  Law law = Law::none;
  double half = 0.01;      ///< mole fraction
  double rim = 0.0;        ///< breathing rim in air at the present rate (m)
  double size = 0.0;       ///< of the pieces (m)
  double reference = 1.0;  ///< share times Monod factor in the respirometer

  double operator()(double oxygen) const;
  double slope(double oxygen) const;  ///< per mole fraction
};

/// Potential uptake of every cell at a temperature field.
struct Uptake {
  std::vector<double> potential;  ///< mol O2/s at response 1
  std::vector<float> rim;         ///< breathing rim in air at the present rate (m)
  /// kg VS/s at response 1, per pool; in single precision, which all that is booked from it shares.
  std::vector<std::array<float, pool_count>> pool_rate;
  std::vector<OxygenResponse> by_mixture;  ///< what is common to the cells of a mixture: all but the rim
  std::vector<std::uint16_t> mixture;      ///< of each cell

  /// How a cell answers to oxygen.
  OxygenResponse response(std::size_t cell) const {
    OxygenResponse r = by_mixture[mixture[cell]];
    r.rim = static_cast<double>(rim[cell]);
    return r;
  }
};

}  // namespace updraught
