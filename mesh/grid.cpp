#include "mesh/grid.h"

#include <cmath>
#include <stdexcept>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

Grid open_grid(Mode mode, const std::vector<double>& x, const std::vector<double>& y,
               const std::vector<double>& dz) {
  if (x.size() < 2 || y.size() < 2 || dz.empty())
    throw std::invalid_argument("a grid needs at least one cell");
  Grid g;
  g.mode = mode;
  g.nx = static_cast<int>(x.size()) - 1;
  g.ny = static_cast<int>(y.size()) - 1;
  g.nz = static_cast<int>(dz.size());
  g.x = x;
  g.y = y;
  const auto cells = at(g.cells());
  g.fraction.assign(cells, 1.0F);
  g.aperture_x.assign(cells, 1.0F);
  g.aperture_y.assign(cells, 1.0F);
  g.aperture_z.assign(cells, 1.0F);
  g.aperture_top.assign(at(g.columns()), 1.0F);
  g.plan_area.resize(at(g.columns()));
  for (int j = 0; j < g.ny; ++j) {
    for (int i = 0; i < g.nx; ++i) {
      g.plan_area[at(g.column(i, j))] = g.coordinates().column_area(i, j);
      for (int k = 0; k < g.nz; ++k) {
        if (i == 0) g.aperture_x[at(g.cell(i, j, k))] = 0.0F;
        if (j == 0) g.aperture_y[at(g.cell(i, j, k))] = 0.0F;
      }
    }
  }
  return with_layers(g, dz);
}

std::vector<double> part_of(const std::vector<double>& values, int first, int last) {
  return {values.begin() + first, values.begin() + last + 1};
}

Grid as_half(Grid grid) {
  grid.mirrored = true;
  return grid;
}

/// Finds the patches of a grid from its open cells. Lengths that follow the layers are left to with_layers.
class PatchFinder {
 public:
  explicit PatchFinder(Grid& grid) : g_(grid), plan_(grid.coordinates()) {}

  void find() {
    g_.patches.clear();
    g_.beside_wall.assign(at(g_.cells()), 0);
    for (int j = 0; j < g_.ny; ++j)
      for (int k = 0; k < g_.nz; ++k)
        for (int i = 0; i < g_.nx; ++i)
          if (g_.open(g_.cell(i, j, k))) walls(i, j, k);
    for (int j = 0; j < g_.ny; ++j)
      for (int i = 0; i < g_.nx; ++i) ends(i, j);
  }

 private:
  bool open(int i, int j, int k) const {
    return i >= 0 && i < g_.nx && j >= 0 && j < g_.ny && k >= 0 && k < g_.nz && g_.open(g_.cell(i, j, k));
  }

  void wall(int i, int j, int k, Side side, double width, double distance) {
    if (width <= 0.0) return;
    const int cell = g_.cell(i, j, k);
    g_.patches.push_back({cell, Boundary::wall, side, width, 0.0, distance});
    g_.beside_wall[at(cell)] = 1;
  }

  void walls(int i, int j, int k) {
    // The axis of rings is no wall: its face has no length.
    if (!open(i - 1, j, k)) wall(i, j, k, Side::left, plan_.face_across_x(i, j), 0.5 * g_.dx(i));
    if (!open(i + 1, j, k)) wall(i, j, k, Side::right, plan_.face_across_x(i + 1, j), 0.5 * g_.dx(i));
    if (!counts_length(g_.mode)) return;
    if (!open(i, j - 1, k)) wall(i, j, k, Side::front, plan_.face_across_y(i), 0.5 * g_.dy(j));
    const bool mirror = g_.mirrored && j == g_.ny - 1;
    if (!open(i, j + 1, k) && !mirror) wall(i, j, k, Side::back, plan_.face_across_y(i), 0.5 * g_.dy(j));
  }

  /// Floor and top of a column.
  void ends(int i, int j) {
    const double area = g_.plan_area[at(g_.column(i, j))];
    for (int k = 0; k < g_.nz; ++k) {
      if (!open(i, j, k)) continue;
      const int cell = g_.cell(i, j, k);
      if (!open(i, j, k - 1))
        g_.patches.push_back({cell, Boundary::floor, Side::right, 0.0, area, 0.5 * g_.dz[at(k)]});
      if (!open(i, j, k + 1))
        g_.patches.push_back({cell, Boundary::top, Side::right, 0.0, area, 0.5 * g_.dz[at(k)]});
    }
  }

  Grid& g_;
  Coordinates plan_;
};

/// First and last index whose cells are not all closed.
struct Span {
  int first = 0;
  int last = -1;
};

template <class Open>
Span open_span(int count, const Open& any_open) {
  Span span{count, -1};
  for (int n = 0; n < count; ++n) {
    if (!any_open(n)) continue;
    if (span.first == count) span.first = n;
    span.last = n;
  }
  return span;
}

/// Edges of a part, from 0 again, with the same widths.
std::vector<double> edges_of(const std::vector<double>& edges, const Span& span) {
  std::vector<double> out = part_of(edges, span.first, span.last + 1);
  const double start = out.front();
  if (start != 0.0)
    for (double& edge : out) edge -= start;
  return out;
}

}  // namespace

int Grid::open_cells() const {
  int count = 0;
  for (int n = 0; n < cells(); ++n) count += open(n) ? 1 : 0;
  return count;
}

double Grid::layer_area(int k) const {
  double sum = 0.0;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) sum += plan_area[at(column(i, j))] * double(fraction[at(cell(i, j, k))]);
  return sum;
}

double Grid::area_of(Boundary boundary) const {
  double sum = 0.0;
  for (const Patch& patch : patches)
    if (patch.boundary == boundary) sum += patch.area;
  return sum;
}

double Grid::volume() const {
  double sum = 0.0;
  for (int k = 0; k < nz; ++k) sum += layer_area(k) * dz[at(k)];
  return sum;
}

double Grid::perimeter(int k) const {
  double sum = 0.0;
  for (const Patch& patch : patches)
    if (patch.boundary == Boundary::wall && layer_of(patch.cell) == k) sum += patch.width;
  return sum;
}

Grid with_layers(const Grid& grid, const std::vector<double>& thickness) {
  if (static_cast<int>(thickness.size()) != grid.nz)
    throw std::invalid_argument("one thickness per layer is needed");
  Grid g = grid;
  g.dz = thickness;
  g.z.assign(at(g.nz) + 1, 0.0);
  for (int k = 0; k < g.nz; ++k) {
    if (!(g.dz[at(k)] > 0.0)) throw std::invalid_argument("a layer must have a thickness above zero");
    g.z[at(k) + 1] = g.z[at(k)] + g.dz[at(k)];
  }
  if (g.patches.empty()) PatchFinder(g).find();
  for (Patch& patch : g.patches) {
    const double thick = g.dz[at(g.layer_of(patch.cell))];
    if (patch.boundary == Boundary::wall)
      patch.area = patch.width * thick;
    else
      patch.distance = 0.5 * thick;
  }
  return g;
}

Grid with_patches(Grid grid) {
  grid.patches.clear();
  return with_layers(grid, std::vector<double>(grid.dz));
}

Grid box_grid(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& dz) {
  return open_grid(Mode::whole, x, y, dz);
}

Grid half_box_grid(const std::vector<double>& x, const std::vector<double>& y,
                   const std::vector<double>& dz) {
  bool mirrors = y.size() % 2 == 1;
  for (std::size_t n = 0; mirrors && n < y.size(); ++n)
    mirrors = std::abs(y[n] + y[y.size() - 1 - n] - y.back()) <= 1e-9 * y.back();
  if (!mirrors) throw std::invalid_argument("the columns of a half box must mirror those of the other half");
  return with_patches(as_half(open_grid(Mode::whole, x, part_of(y, 0, static_cast<int>(y.size() / 2)), dz)));
}

Grid ring_grid(const std::vector<double>& r, const std::vector<double>& dz) {
  if (r.empty() || r.front() != 0.0) throw std::invalid_argument("rings start at the axis");
  return open_grid(Mode::rings, r, {0.0, 1.0}, dz);
}

Grid slice_grid(const std::vector<double>& x, double across, const std::vector<double>& dz) {
  return open_grid(Mode::slice, x, {0.0, across}, dz);
}

Grid closed_but(const Grid& grid, const std::function<bool(int, int, int)>& wanted) {
  Grid g = grid;
  bool any = false;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const int cell = g.cell(i, j, k);
        if (g.open(cell) && wanted(i, j, k)) {
          any = true;
          continue;
        }
        g.fraction[at(cell)] = closed_fraction;
        g.aperture_x[at(cell)] = g.aperture_y[at(cell)] = g.aperture_z[at(cell)] = 0.0F;
        if (i + 1 < g.nx) g.aperture_x[at(g.cell(i + 1, j, k))] = 0.0F;
        if (j + 1 < g.ny) g.aperture_y[at(g.cell(i, j + 1, k))] = 0.0F;
        if (k + 1 < g.nz) g.aperture_z[at(g.cell(i, j, k + 1))] = 0.0F;
        if (k + 1 == g.nz) g.aperture_top[at(g.column(i, j))] = 0.0F;
      }
  if (!any) throw std::invalid_argument("a grid needs at least one open cell");
  return with_patches(g);
}

Grid trimmed(const Grid& grid) {
  const auto any = [&](int i0, int i1, int j0, int j1, int k0, int k1) {
    for (int j = j0; j < j1; ++j)
      for (int k = k0; k < k1; ++k)
        for (int i = i0; i < i1; ++i)
          if (grid.open(grid.cell(i, j, k))) return true;
    return false;
  };
  const Span x = open_span(grid.nx, [&](int i) { return any(i, i + 1, 0, grid.ny, 0, grid.nz); });
  const Span y = open_span(grid.ny, [&](int j) { return any(0, grid.nx, j, j + 1, 0, grid.nz); });
  const Span z = open_span(grid.nz, [&](int k) { return any(0, grid.nx, 0, grid.ny, k, k + 1); });
  // A radius is counted from the axis: rings that are closed within cannot be left out.
  const Span across = around_axis(grid.mode) ? Span{0, x.last} : x;
  const Grid plain =
      open_grid(grid.mode, edges_of(grid.x, across), edges_of(grid.y, y), part_of(grid.dz, z.first, z.last));
  return closed_but(grid.mirrored ? as_half(plain) : plain, [&](int i, int j, int k) {
    return grid.open(grid.cell(i + across.first, j + y.first, k + z.first));
  });
}

}  // namespace updraught
