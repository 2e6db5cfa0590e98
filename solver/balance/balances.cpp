#include "solver/balance/balances.h"

#include <algorithm>
#include <cmath>

namespace updraught {

const std::array<std::string, booked_count>& booked_names() {
  static const std::array<std::string, booked_count> names{
      "gas_in",        "gas_out",           "gas_made",           "oxygen_in",           "oxygen_out",
      "oxygen_used",   "carbon_dioxide_in", "carbon_dioxide_out", "carbon_dioxide_made", "heat_in",
      "heat_out",      "heat_made",         "water_in",           "water_out",           "water_made",
      "water_drained", "dry_lost",          "oxygen_clipped",     "heat_walls",          "heat_floor",
      "heat_top",      "heat_air",          "water_filled",       "dry_filled",          "heat_filled"};
  return names;
}

double balance_error(double before, double after, double gained, double turnover) {
  constexpr double rounding = 1e-9;  // the sums' own is below a millionth of it
  const double open_part = std::abs(after - before - gained);
  if (open_part == 0.0) return 0.0;
  const double there = std::max({std::abs(before), std::abs(after), std::abs(gained)});
  return open_part / (turnover > rounding * there ? turnover : there);
}

}  // namespace updraught
