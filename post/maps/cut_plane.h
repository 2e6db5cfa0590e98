// A vertical cut through the bed: which cells it meets, their values, and a fine lattice of points between
// which values run linearly. Lengths in metres; `across` counts from the middle of the bin, heights from the
// floor.
#pragma once

#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/result/result.h"

namespace updraught {

/// Where a bed is cut. Rings and slices know one cut only.
struct CutPlace {
  bool along_x = true;  ///< the cut runs from the left wall to the right one; else from front to back
  double share = 0.5;   ///< place of the plane along the other direction, as a share of that length
};

/// The cut that shows the openings best: through a single hole where there is one in a wall or the floor,
/// from front to back where only those walls have openings, else through the middle from left to right.
CutPlace choose_cut(const Problem& problem);

/// The cells that a cut meets, stored [k][i], i from left to right. Rings appear on both sides of their axis.
struct Cut {
  CutPlace place;
  bool mirrored = false;       ///< rings: the left half is the right one seen from behind
  std::vector<double> across;  ///< edges of the columns (m), rising
  std::vector<double> z;       ///< edges of the layers (m), rising
  std::vector<int> low,
      high;  ///< the grid's cells on the two sides of the plane (the same where it runs inside one)
  std::vector<double> high_share;   ///< weight of `high`
  std::vector<unsigned char> open;  ///< 0: closed, not drawn
  int columns() const { return static_cast<int>(across.size()) - 1; }
  int layers() const { return static_cast<int>(z.size()) - 1; }
};

/// The cut through a picture. Throws std::invalid_argument when the picture's heights do not fit the grid.
Cut cut_of(const Grid& grid, const Picture& picture, const CutPlace& place);

/// The field of a name. Throws std::runtime_error, naming it, when the picture holds none.
const PictureField& field_of(const Picture& picture, const std::string& name);

/// Values of one component of a field in the cells of a cut; not a number where a cell is closed.
std::vector<double> cut_values(const Cut& cut, const PictureField& field, int component = 0);
/// The same without any mixing of neighbours, for fields that hold an index.
std::vector<double> cut_indices(const Cut& cut, const PictureField& field);

/// A fine mesh of points over a cut, four steps to a cell both ways, so that bands have smooth edges. Values
/// run through the cells' centres by cubics that never overshoot their neighbours and stay level from the
/// outermost centres to the sides. Stored [layer line][column line]; not a number where a point belongs to
/// closed cells only.
struct Lattice {
  std::vector<double> x;  ///< m, 4 columns + 1
  std::vector<double> z;  ///< m, 4 layers + 1
  std::vector<double> value;
  std::vector<unsigned char> open;  ///< per mesh, (4 columns) x (4 layers)
  int points_x() const { return static_cast<int>(x.size()); }
  int points_z() const { return static_cast<int>(z.size()); }
  std::size_t point(int a, int b) const {
    return static_cast<std::size_t>(b) * x.size() + static_cast<std::size_t>(a);
  }
};
/// Cubics after Fritsch and Carlson (1980), with Brodlie's mean of the slopes on both sides.
Lattice lattice_of(const Cut& cut, const std::vector<double>& values);

/// The part of a flat band of values: edges[band - 1] to edges[band].
struct BandShape {
  int band = 0;
  std::vector<Loop> outlines;  ///< m, even-odd
  double area = 0.0;           ///< m2
};

/// Flat bands between rising edges; the first lies below edges[0], the last above edges.back(). Only bands
/// that occur.
std::vector<BandShape> band_shapes(const Lattice& lattice, const std::vector<double>& edges);

/// One shape per index that occurs, cell by cell.
std::vector<BandShape> index_shapes(const Cut& cut, const std::vector<double>& indices);

/// Lines of one value (m).
std::vector<Loop> value_lines(const Lattice& lattice, double value);

}  // namespace updraught
