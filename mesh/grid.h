// The layered grid: dx[] x dy[] x dz[] times apertures. Geometry only; lengths in metres (theory 10.1, 10.2).
#pragma once

#include <cstddef>
#include <vector>

namespace updraught {

/// How space is counted: all three directions, rings around an axis, or one row of columns of a long heap.
enum class Mode { whole, rings, slice };

/// The outer sides of a bed. Rings have one side, `right` (the wall at the largest radius).
enum class Side { left, right, front, back };

/// One cell's share of a side wall. The wall area of the cell is `width * dz[k]`.
struct WallFace {
  int cell;         ///< cell that touches the wall
  Side side;        ///< which wall
  double width;     ///< length of the wall in plan (m)
  double distance;  ///< from the cell's centre to the wall (m)
};

/// Layered grid. A layer has one thickness; columns and layers are cut by apertures where sides curve or
/// slope.
///
/// Cells are stored [j][k][i], i fastest: a row of columns (one j) is a slab. Face arrays have one entry per
/// cell, for the face on its LOW side; entries on the outer boundary (i = 0, j = 0) are closed (0).
struct Grid {
  Mode mode = Mode::whole;
  int nx = 0;              ///< columns in x, or rings
  int ny = 1;              ///< columns in y; 1 in rings and slice
  int nz = 0;              ///< layers
  std::vector<double> x;   ///< plan edges, nx + 1 (m); radius from 0 in rings
  std::vector<double> y;   ///< plan edges, ny + 1 (m); {0, across} in slice; {0, 1} and unused in rings
  std::vector<double> dz;  ///< thickness of each layer, nz (m)
  std::vector<double> z;   ///< heights of the layer faces above the floor, nz + 1 (m); follows dz
  // Shares need no more than single precision; wherever one counts, it counts with the same bits.
  std::vector<float> fraction;      ///< open share of each cell, 0..1
  std::vector<float> aperture_x;    ///< open share of each low-x face
  std::vector<float> aperture_y;    ///< open share of each low-y face
  std::vector<float> aperture_z;    ///< open share of each low-z face (k = 0: the floor)
  std::vector<float> aperture_top;  ///< open share of the top faces [j][i]
  std::vector<WallFace> wall;       ///< side walls, ordered by cell
  std::vector<double> plan_area;    ///< full plan area of the columns [j][i] (m2)

  int cells() const { return nx * ny * nz; }
  int columns() const { return nx * ny; }
  int cell(int i, int j, int k) const { return (j * nz + k) * nx + i; }
  int column(int i, int j) const { return j * nx + i; }

  double dx(int i) const { return x[std::size_t(i) + 1] - x[std::size_t(i)]; }
  double dy(int j) const { return y[std::size_t(j) + 1] - y[std::size_t(j)]; }
  double centre_x(int i) const { return 0.5 * (x[std::size_t(i)] + x[std::size_t(i) + 1]); }
  double centre_y(int j) const { return 0.5 * (y[std::size_t(j)] + y[std::size_t(j) + 1]); }
  double centre_z(int k) const { return 0.5 * (z[std::size_t(k)] + z[std::size_t(k) + 1]); }
  double height() const { return z.back(); }

  /// Open volume of a cell (m3).
  double volume(int i, int j, int k) const;
  /// Open area of the low-x face of a cell (m2); 0 for i = 0.
  double area_x(int i, int j, int k) const;
  /// Open area of the low-y face of a cell (m2); 0 for j = 0.
  double area_y(int i, int j, int k) const;
  /// Open area of the low-z face of a cell (m2); k = nz is the top face.
  double area_z(int i, int j, int k) const;

  /// Open plan area of a layer (m2).
  double layer_area(int k) const;
  /// Open volume of the bed (m3).
  double volume() const;
  /// Perimeter of the side walls in plan at a layer (m).
  double perimeter(int k) const;

  /// Replaces the layer thicknesses (nz values, all > 0) and the heights that follow from them.
  void set_layers(const std::vector<double>& thickness);
};

/// Edges of `n` cells over `length`. The first and last cell have the widths `first` and `last` (0: free);
/// between them the widths grow smoothly (geometric, same ratio from both ends), or are even where an end
/// cell is wider than an even one. Throws std::invalid_argument when they do not fit.
std::vector<double> graded_edges(double length, int n, double first, double last);

/// Grid of a box of the given plan edges and layers, all apertures open.
Grid box_grid(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& dz);

/// Grid of rings around an axis with the given radii (first one 0) and layers.
Grid ring_grid(const std::vector<double>& r, const std::vector<double>& dz);

/// Grid of a slice of the thickness `across` (m) of a long heap with upright sides at both ends of x.
Grid slice_grid(const std::vector<double>& x, double across, const std::vector<double>& dz);

}  // namespace updraught
