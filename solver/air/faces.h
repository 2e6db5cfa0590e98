// Values on the faces of a grid and the loops over them, shared by flow, heat and gases.
#pragma once

#include <cstddef>
#include <type_traits>
#include <vector>

#include "mesh/grid.h"
#include "mesh/parallel/rows.h"

namespace updraught {

/// One value per low face of each cell, as in Grid: entries of closed outer faces are 0. Flows count positive
/// towards higher x, y, z.
struct Faces {
  std::vector<double> x, y, z;

  void assign(std::size_t cells, double value) {
    x.assign(cells, value);
    y.assign(cells, value);
    z.assign(cells, value);
  }
};

/// A face between two cells: the cell on its low side, the one on its high side, open area, the distances
/// from both cell centres to it (m2, m), and the place of the high cell in its line of cells.
struct FacePair {
  int low;
  int high;
  double area;
  double to_low;
  double to_high;
  int position;
  double distance() const { return to_low + to_high; }
};

/// A direction that is known when the loop is compiled: 0 for x, 1 for y, 2 for z.
template <int n>
using Direction = std::integral_constant<int, n>;

/// Calls visit(Direction, FacePair) for every inner face, in parallel over rows of columns; a face belongs to
/// the row of its high cell, so writing to entries of `high` is safe.
template <class Visit>
void for_faces(const Grid& g, const Visit& visit) {
  const int slab = g.nx * g.nz;
  const auto half = [](double width) { return 0.5 * width; };
  for_rows(g.ny, static_cast<std::size_t>(g.cells()), [&](int j) {
    for (int k = 0; k < g.nz; ++k) {
      const int first = g.cell(0, j, k);
      for (int i = 1; i < g.nx; ++i)
        visit(Direction<0>{},
              FacePair{first + i - 1, first + i, g.area_x(i, j, k), half(g.dx(i - 1)), half(g.dx(i)), i});
      if (j > 0) {
        const double low = half(g.dy(j - 1)), high = half(g.dy(j));
        for (int i = 0; i < g.nx; ++i)
          visit(Direction<1>{}, FacePair{first + i - slab, first + i, g.area_y(i, j, k), low, high, j});
      }
      if (k > 0) {
        const double low = half(g.dz[static_cast<std::size_t>(k) - 1]);
        const double high = half(g.dz[static_cast<std::size_t>(k)]);
        for (int i = 0; i < g.nx; ++i)
          visit(Direction<2>{}, FacePair{first + i - g.nx, first + i, g.area_z(i, j, k), low, high, k});
      }
    }
  });
}

/// The entry of a direction.
inline std::vector<double>& along(Faces& f, int direction) {
  return direction == 0 ? f.x : direction == 1 ? f.y : f.z;
}
inline const std::vector<double>& along(const Faces& f, int direction) {
  return direction == 0 ? f.x : direction == 1 ? f.y : f.z;
}

/// What leaves each cell through its faces less what enters it; out has one entry per cell.
void divergence(const Grid& g, const Faces& flow, std::vector<double>& out);

/// What a face takes whose upwind cell is the first in the flow's direction, so that no second one tells the
/// trend: the linear value, which keeps second order, or beyond a Peclet number of 4 the upwind value, which
/// lets no cell leave what its neighbours and what comes in have.
enum class FirstCell { linear, level };

/// Second-order part of upwind transport (theory 9.4). `value` is carried by `flow` through each face; `out`
/// is what the face carries beyond the upwind cell's value, times the upwind cell's `flux_slope` (null: 1).
/// Where spreading resolves the cell (Peclet number up to 2) the value at the face is linear; beyond 4 the
/// change is limited (van Leer 1974), between them the two blend. The Peclet number is |flow| x
/// `peclet_slope` of the upwind cell (null: 1) over `spreading`.
void second_order_part(const Grid& g, const Faces& flow, const std::vector<double>& value,
                       const std::vector<double>* flux_slope, const std::vector<double>* peclet_slope,
                       const Faces& spreading, FirstCell first, Faces& out);

}  // namespace updraught
