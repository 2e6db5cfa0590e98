// The layered grid: dx[] x dy[] x dz[] times apertures. Geometry only; a value that is never changed but made
// anew; lengths in metres (theory 10.1, 10.2).
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "mesh/coordinates.h"
#include "mesh/graded_edges.h"

namespace updraught {

/// Where the bed ends: at a wall, the floor, or its own top.
enum class Boundary { wall, floor, top };

/// One cell's share of the bed's boundary. Walls come first, by cell, then floor and top, by column.
struct Patch {
  int cell;           ///< the cell that ends there
  Boundary boundary;  ///< what it ends at
  Side side;          ///< which way the patch looks, of a wall
  double width;       ///< of a wall: its length in plan (m); else 0
  double area;        ///< m2
  double distance;    ///< from the cell's centre to the patch (m)

  bool operator==(const Patch&) const = default;
};

/// Layered grid. A layer has one thickness; columns and layers are cut by apertures where sides curve or
/// slope.
///
/// Cells are stored [j][k][i], i fastest: a row of columns (one j) is a slab. Face arrays have one entry per
/// cell, for the face on its LOW side; entries on the outer boundary (i = 0, j = 0) are closed (0). A closed
/// cell keeps a trace of its volume and no open face (`closed_fraction`), so that what is divided by a volume
/// or an amount stays defined there and counts nowhere.
struct Grid {
  Mode mode = Mode::whole;
  /// Of a whole bed that its other half mirrors only the front half is counted: y ends at the middle, where
  /// no wall stands.
  bool mirrored = false;
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
  std::vector<double> plan_area;    ///< full plan area of the columns [j][i] (m2)
  // Follow from the members above.
  std::vector<Patch> patches;
  std::vector<std::uint8_t> beside_wall;  ///< 1: the cell has a patch at a wall

  int cells() const { return nx * ny * nz; }
  int columns() const { return nx * ny; }
  int cell(int i, int j, int k) const { return (j * nz + k) * nx + i; }
  int column(int i, int j) const { return j * nx + i; }
  int layer_of(int cell) const { return (cell / nx) % nz; }
  int column_of(int cell) const { return cell % nx + nx * (cell / (nx * nz)); }

  double dx(int i) const { return x[std::size_t(i) + 1] - x[std::size_t(i)]; }
  double dy(int j) const { return y[std::size_t(j) + 1] - y[std::size_t(j)]; }
  double centre_x(int i) const { return 0.5 * (x[std::size_t(i)] + x[std::size_t(i) + 1]); }
  double centre_y(int j) const { return 0.5 * (y[std::size_t(j)] + y[std::size_t(j) + 1]); }
  double centre_z(int k) const { return 0.5 * (z[std::size_t(k)] + z[std::size_t(k) + 1]); }
  double height() const { return z.back(); }
  Coordinates coordinates() const { return {mode, x, y, mirrored}; }

  /// Whether a cell holds any bed.
  bool open(int cell) const { return fraction[std::size_t(cell)] > 1e-6F; }

  /// How many cells hold any bed.
  int open_cells() const;

  /// Open volume of a cell (m3).
  double volume(int i, int j, int k) const {
    return plan_area[std::size_t(column(i, j))] * dz[std::size_t(k)] *
           double(fraction[std::size_t(cell(i, j, k))]);
  }
  /// Open area of the low-x face of a cell (m2); 0 for i = 0.
  double area_x(int i, int j, int k) const {
    if (i == 0) return 0.0;
    return coordinates().face_across_x(i, j) * dz[std::size_t(k)] *
           double(aperture_x[std::size_t(cell(i, j, k))]);
  }
  /// Open area of the low-y face of a cell (m2); 0 for j = 0.
  double area_y(int i, int j, int k) const {
    if (j == 0) return 0.0;
    return dx(i) * dz[std::size_t(k)] * double(aperture_y[std::size_t(cell(i, j, k))]);
  }
  /// Open area of the low-z face of a cell (m2); k = nz is the top face of a column whose highest cell is
  /// open.
  double area_z(int i, int j, int k) const {
    const auto share =
        k == nz ? aperture_top[std::size_t(column(i, j))] : aperture_z[std::size_t(cell(i, j, k))];
    return plan_area[std::size_t(column(i, j))] * double(share);
  }

  /// Open plan area of a layer (m2).
  double layer_area(int k) const;
  /// Area of the bed's floor, of its top (m2).
  double area_of(Boundary boundary) const;
  /// Open volume of the bed (m3).
  double volume() const;
  /// Length of the walls in plan at a layer (m).
  double perimeter(int k) const;
};

/// What a closed cell keeps of its volume: less than the rounding of any sum, and far from the smallest
/// numbers there are.
inline constexpr float closed_fraction = 1e-25F;

/// Grid of a box of the given plan edges and layers, all cells open.
Grid box_grid(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& dz);

/// The front half of a box of the given plan edges, which must mirror each other about the middle of y, with
/// an edge there (else std::invalid_argument).
Grid half_box_grid(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& dz);

/// Grid of rings around an axis with the given radii (first one 0) and layers.
Grid ring_grid(const std::vector<double>& r, const std::vector<double>& dz);

/// Grid of a slice of the thickness `across` (m) of a long heap with upright sides at both ends of x.
Grid slice_grid(const std::vector<double>& x, double across, const std::vector<double>& dz);

/// The same grid with other layer thicknesses (nz values, all > 0; else std::invalid_argument) and all that
/// follows from them.
Grid with_layers(const Grid& grid, const std::vector<double>& thickness);

/// The same grid with patches, found from its edges, layers and shares: for a grid read from a file.
Grid with_patches(Grid grid);

/// The same grid with the cells closed that are not wanted. What is left must be at least one cell (else
/// std::invalid_argument).
Grid closed_but(const Grid& grid, const std::function<bool(int i, int j, int k)>& wanted);

/// The same bed without the outer columns and layers that are closed throughout.
Grid trimmed(const Grid& grid);

}  // namespace updraught
