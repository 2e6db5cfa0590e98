// How a step's rates become increments (theory 9.1).
#pragma once

namespace updraught {

/// Time rule in increment form (theory 9.1): y_new = y_old + carried (y_old - y_older) + time x rates.
/// Backward Euler has carried 0 and time dt; the second-order rule (BDF2) with step ratio w has w^2/(1+2w)
/// and (1+w)/(1+2w) dt.
struct Bdf2 {
  double dt = 0.0;
  double beta_dt = 0.0;
  double history = 0.0;
};
Bdf2 time_rule(double dt, double last_dt, bool restart);

}  // namespace updraught
