// Plausible beds made up for tests of what is said of them.
#pragma once

#include <vector>

#include "post/result/tried_beds.h"

namespace updraught::made_up {

/// A course of 14 days in which so much of the bed's hours go without air; below half of them it keeps its
/// air throughout.
inline Course course(double airless, double hottest = 60.0, double mean = 40.0) {
  constexpr double day = 86400.0;
  Course c;
  c.duration = 14.0 * day;
  c.airless_share = airless;
  if (airless >= 0.5) c.lost = 1.0 * day;
  c.hottest = hottest;
  c.mean_temperature = mean;
  if (hottest >= 45.0) c.going = 1.5 * day;
  if (hottest >= 55.0) {
    c.hot = 2.0 * day;
    c.hours_hot = 100.0;
  }
  c.moisture_at_end = 0.6;
  c.mean_air_in = 1.0;
  return c;
}

/// One bed for each airless share, numbered from 1, on two inputs: the first rises with the number, the
/// second comes and goes.
inline TriedBeds beds(const std::vector<double>& airless, double hottest = 60.0, double mean = 40.0) {
  TriedBeds out{1, {"a", "b"}, {}};
  for (std::size_t n = 0; n < airless.size(); ++n) {
    const double along = (static_cast<double>(n) + 0.5) / static_cast<double>(airless.size());
    out.beds.push_back(
        {static_cast<int>(n) + 1, {along, n % 2 == 0 ? 0.25 : 0.75}, course(airless[n], hottest, mean)});
  }
  return out;
}

}  // namespace updraught::made_up
