#include "solver/state/bdf2.h"

namespace updraught {

Bdf2 time_rule(double dt, double last_dt, bool restart) {
  if (restart || last_dt <= 0.0) return {dt, dt, 0.0};
  const double ratio = dt / last_dt;
  return {dt, (1.0 + ratio) / (1.0 + 2.0 * ratio) * dt, ratio * ratio / (1.0 + 2.0 * ratio)};
}

}  // namespace updraught
