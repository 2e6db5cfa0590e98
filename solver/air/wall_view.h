// A wall, or floor and top, as a hole in it sees the bed behind: cells around it, how wide they seem, how
// well they pass air (theory 5.7).
#pragma once

#include <vector>

#include "solver/bed/bed.h"
#include "solver/bed/properties.h"

namespace updraught {

/// Which cells a patch spans in one direction.
struct Window {
  int first = 0;
  std::vector<double> widths;  ///< m
  double position = 0.0;       ///< of the hole from the window's low end (m)
  bool ends_low = false;
  bool ends_high = false;
};

/// The cell that holds a position (m) between edges (m).
int cell_at(const std::vector<double>& edges, double position);

/// The cells around a hole of a radius (m) at a position; `sinks`: they are layers, which sink with the bed.
Window window_around(const std::vector<double>& edges, double position, double radius, bool sinks = false);

/// Thicknesses of the layers behind a hole in the floor or the top, from there inward (m).
std::vector<double> layers_behind(const Grid& grid, bool top, double radius);

/// The wall cells seen from outside: tangential index along the wall, layer, and depth from the wall. All of
/// the wall and of what is behind it, also where only half of the bed is computed.
struct WallView {
  const Bed* bed;
  Side side;
  std::vector<double> along;   ///< plan edges along the wall (m)
  std::vector<double> normal;  ///< widths from the wall inward (m)
  int columns;                 ///< that are computed, from the low end

  /// Whether only the low half of the wall is computed, and where that ends (m).
  bool is_half() const { return columns + 1 < static_cast<int>(along.size()); }
  double middle() const { return along[static_cast<std::size_t>(columns)]; }
  /// The cell, or the one that it mirrors.
  int cell(int u, int k, int depth) const;
};
WallView view_of(const Bed& bed, Side side, double radius);

/// Widths from the wall inward as a hole at a place sees them (m): where the packing conducts better along
/// the wall than across it, widths grow by the root of the ratio, which makes it a packing of equal
/// permeability in all directions, the geometric mean (theory 5.7).
std::vector<double> seen_widths(const WallView& view, const Properties& now, int u, int k);

/// Permeability that a hole of a radius sees (m2): harmonic mean over the cells within three radii behind it.
double seen_permeability(const WallView& view, const Properties& now, int u, int k, double radius);

/// The same, the mean along the wall: what dries at the mouth of a hole is less than a cell, and how much of
/// a cell it seems to be would hang on the cell.
double permeability_along(const WallView& view, const Properties& now, int k, double radius);

}  // namespace updraught
