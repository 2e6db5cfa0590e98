// The course of a computed bed where somebody had put thermometers and gas probes, and the value that stands
// beside a measured one.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "solver/problem/problem.h"
#include "tests/outside/published_rows.h"

namespace updraught::outside {

/// Heights on the bed's axis that tables speak of, as shares of the present height.
struct AxisPlace {
  const char* name;
  double share;
};
inline constexpr std::array<AxisPlace, 3> axis_places{{{"base", 0.1}, {"middle", 0.5}, {"top", 0.9}}};

/// The bed at the end of a step.
struct Moment {
  double day = 0.0;
  double hottest = 0.0;                                  ///< degC
  double mean_temperature = 0.0;                         ///< degC
  double outside_temperature = 0.0;                      ///< degC
  double air_in = 0.0;                                   ///< m3/h, of the true bed
  double dry_mass = 0.0;                                 ///< kg
  double wet_mass = 0.0;                                 ///< kg
  double height = 0.0;                                   ///< m
  double base_between = 0.0;                             ///< air between the pieces in the lowest layer
  double axis_temperature = 0.0;                         ///< degC, mean along the axis
  std::array<double, axis_places.size()> temperature{};  ///< degC, by axis_places
  std::array<double, axis_places.size()> oxygen{};       ///< % of the dry gas
};

/// All moments of a run. Throws std::runtime_error where it ended before its time.
using History = std::vector<Moment>;
History history_of(const Problem& problem);

/// The computed value beside a measured one; infinite where a temperature is never reached. `other_bed` gives
/// the history of another bed by its name. Throws std::runtime_error for a row that cannot be compared.
double value_of(const MeasuredRow& row, const History& history,
                const std::function<const History&(const std::string&)>& other_bed);

/// Root mean square of the misses of all temperature readings from day 1 on; NaN with fewer than two.
double temperature_miss(const std::vector<MeasuredRow>& rows, const History& history);

}  // namespace updraught::outside
