// The bin around the bed in a vertical cut, true to scale: walls, floor, the space under it, lid and
// openings.
#pragma once

#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/maps/cut_plane.h"
#include "post/result/result.h"

namespace updraught {

/// Page and bed: where the middle of the bin at floor level lies on the page, and how long a metre is.
struct Scale {
  Point floor_middle;           ///< pt
  double points_per_metre = 1;  ///< pt/m
  Point at(Point bed) const {
    return {floor_middle.x + bed.x * points_per_metre, floor_middle.y - bed.y * points_per_metre};
  }
  Box box(double left, double right, double bottom, double top) const;  ///< m
};

/// What a bin fills in a cut (m, from the middle of the bin and the floor).
struct Extent {
  double half_inner = 0.0;  ///< half the inner width
  double half_outer = 0.0;  ///< the same up to the outside of the thicker wall
  double bottom = 0.0;      ///< lowest part drawn, ground included
  double top = 0.0;         ///< of the lid, or of the bed
  double wall_left = 0.0;   ///< thickness of the wall on the left and on the right of the cut
  double wall_right = 0.0;
  double rim = 0.0;      ///< upper end of the walls
  double lid_gap = 0.0;  ///< slit between rim and lid
  double lid = 0.0;      ///< thickness that the lid is drawn with; 0: none
  double ground = 0.0;   ///< height of the ground outside

  double wall(bool right) const { return right ? wall_right : wall_left; }
  double outer(bool right) const { return half_inner + wall(right); }  ///< from the middle to its outside
};
Extent extent_of(const Problem& problem, const Cut& cut);

/// How a label points: to a dot on the part, to an arrow of the air which points on, or (parts that the cut's
/// right side does not show) not at all.
enum class Pointer { dot, arrow, none };

/// A part of the bin and its plain words.
struct PartLabel {
  Point anchor;  ///< where on the page its pointer ends; of an air space, its middle
  std::string words;
  Pointer pointer = Pointer::dot;
  TextSize room;  ///< of an air space: the words stand in it where they fit (pt)
};

/// Draws all but the bed. `flows` (may be empty) turn the arrows at the openings and add their air to the
/// words. Returns the labels from top to bottom.
std::vector<PartLabel> draw_bin(Canvas& canvas, const Scale& scale, const Problem& problem, const Cut& cut,
                                const std::vector<OpeningFlow>& flows);

}  // namespace updraught
