// Holes, rows of holes and slots in the side walls, and single holes in the floor (theory 5.7 to 5.9).
#pragma once

#include <array>
#include <vector>

#include "solver/air/air_paths.h"
#include "solver/air/sub_grid_resistance.h"

namespace updraught {

/// Adds the connections of an opening in the sides.
void side_opening(const Bed& bed, const Properties& now, int index, ResistanceCache& known,
                  std::vector<AirPath>& out);

/// How many holes of each row of an opening lie in each wall of a whole bed, by Side: by the walls' shares of
/// the length round it.
std::array<int, 4> holes_by_wall(const Problem& problem, const Opening& opening);

/// Adds the connections of a single round hole in floor or top.
void level_hole(const Bed& bed, const Properties& now, int index, ResistanceCache& known,
                std::vector<AirPath>& out);

/// Resistance of the slit between wall and bed around a hole, per viscosity (1/m3): 12 ln(w/a)/(2 pi b^3),
/// radial flow in a slit of gap b from the hole's edge to the lane's width w.
double slit_resistance(double gap, double lane_width, double hole_radius);

}  // namespace updraught
