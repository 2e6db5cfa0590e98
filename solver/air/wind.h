// How the wind presses on the outside of a bin: a steady mean from one side (theory 5.11).
#pragma once

#include "solver/problem/problem.h"

namespace updraught {

/// Wind pressure on one wall per density of the air outside (m2/s2): its coefficient times v^2/2. What goes
/// round an axis has no sides: the mean around.
double wind_on_wall(const Problem& problem, Side side);

/// The same where an opening lies on all sides at once: slots under a raised floor, the gap under a lid's
/// rim. The mean of the walls that are computed; of a round bin the mean over its circumference.
double wind_around(const Problem& problem);

/// The same on a lid, or on a bed that lies open.
double wind_on_top(const Problem& problem);

/// Pressure coefficient of a cylinder on the ground, `angle` (rad) round from where the wind meets it, for
/// its height over its width; AS/NZS 1170.2:2002, which gives it for 0.25 to 4 (measured at high Reynolds
/// numbers), and at its nearer end beyond.
double cylinder_coefficient(double angle, double slenderness);

}  // namespace updraught
