// How far a step went and how far it may be off: what its length is chosen by (theory 9.6).
#pragma once

#include "solver/bed/bed.h"
#include "solver/bed/properties.h"

namespace updraught {

/// Largest changes of a cell over a step.
struct StepChange {
  double temperature = 0.0;  ///< K
  double oxygen = 0.0;       ///< mole fraction
};
StepChange change_over_step(const Bed& bed, const State& old, const State& next);

/// Where a step ended, less where the last one foresaw it: larger than the error of the second-order rule as
/// long as the steps are short against what goes on.
struct StepError {
  double temperature = 0.0;        ///< root mean square by heat capacity (K)
  double worst_temperature = 0.0;  ///< largest in a cell (K)
  double oxygen = 0.0;             ///< root mean square by volume (mole fraction)
  double node_oxygen = 0.0;        ///< largest in an air space beside the bed (mole fraction)
};

/// `ratio` is the step's length over the last one's, 0 where there was none.
StepError departure_from_prediction(const Bed& bed, const State& old, double ratio, const Properties& now,
                                    const State& next);

}  // namespace updraught
