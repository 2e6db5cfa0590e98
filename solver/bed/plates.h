// Boards that the air of an opening crosses: as thick as what the opening lies in, side by side where sides
// differ.
#pragma once

#include "solver/bed/bed.h"

namespace updraught {

/// Thickness of the board that the air of an opening crosses (m): the opening's own where it has one, else
/// that of the wall at `side`, of the floor or of the lid; none behind a mesh or an open face.
double plate_of(const Problem& problem, const Opening& opening, Side side = Side::right);

/// The same for a gap under the lid, whose air crosses the rims of all walls side by side: the one thickness
/// that resists as they do together (theory 5.5).
double rim_plate(const Bed& bed, const Opening& gap);

/// Viscous resistance of a slot per length and viscosity (1/m2): an edge (Hasimoto 1958, from memory) and
/// flow between plates over the board's thickness. Width and thickness in m.
double slot_resistance(double width, double plate);

}  // namespace updraught
