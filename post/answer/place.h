// Where in the bed something lies, said in the words of people who stand in front of it.
#pragma once

#include <string>
#include <vector>

#include "mesh/grid.h"
#include "solver/output/snapshot.h"

namespace updraught {

/// How a marked part of the bed lies in it. Shares are of the marked volume.
struct Place {
  double volume = 0.0;  ///< m3 of the computed bed
  double share = 0.0;   ///< of the whole bed's volume
  double lower = 0.0;   ///< in the lowest third of the height
  double centre = 0.0;  ///< in the middle third of the height
  double upper = 0.0;   ///< in the highest third
  double inner = 0.0;   ///< in the inner half of the plan area
  double left = 0.5;    ///< on the left half (0.5 in rings)
  double front = 0.5;   ///< on the front half (0.5 in rings and slice)
};

/// The grid with the layer heights of a picture. Throws std::invalid_argument when they do not fit together.
Grid grid_at(const Grid& grid, const Picture& picture);

/// The values of a picture's field by name, or nullptr.
const PictureField* find_field(const Picture& picture, const std::string& name);

/// Where the cells with a mark lie. `marked` has one entry per cell of the grid.
Place place_of(const Grid& grid, const std::vector<bool>& marked);

/// The place in words, for instance "the lower middle", "the upper edge", "the lower two thirds".
std::string place_in_words(const Place& place);

}  // namespace updraught
