// From half of a bed that its other half mirrors to the whole of it (theory 10.6).
#pragma once

#include "solver/output/snapshot.h"

namespace updraught {

/// The whole box of which `half` is the front half (Grid::mirrored), all cells open.
Grid unfolded(const Grid& half);

/// A state, a picture of the half on the whole box: what lies in cells is there twice, air that flows along
/// the length flows the other way in the other half, and spaces beside the bed and books hold twice as much.
State unfolded(const Grid& half, const State& state);
Picture unfolded(const Grid& half, const Picture& picture);

/// What a computation of the half is to call so that `whole` sees the whole bed. Keeps a reference: lives no
/// longer than `whole`.
Observer unfolding(const Observer& whole);

}  // namespace updraught
