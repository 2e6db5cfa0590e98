// The state at the end of a step, while the step is being worked out (theory 9.2).
#pragma once

#include "solver/bed/properties.h"
#include "solver/state/state.h"

namespace updraught {

/// Empties `next` but for its layers, so that the solves get the memory of the rest.
void begin_state(const State& old, State& next);

/// Matter as the last increments foresee it for the end of the step, into `next`; `ratio` is dt over the last
/// dt, 0 where there was none. What the bed is like then is taken from there: taken from the start, a drying
/// bed would lag behind.
void predict_matter(const State& old, double dt, double ratio, State& next);

/// Takes the predicted matter back; in `now` dry mass and water activity become those of `old`, which stored
/// heat is reckoned from.
void discard_matter(const State& old, State& next, Properties& now);

/// Takes over from the old state all that the step has not written yet, but for the last increments.
void complete_state(const State& old, State& next);

}  // namespace updraught
