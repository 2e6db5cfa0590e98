#include "mesh/grid.h"

#include <cmath>
#include <numbers>
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
      const double ring = std::numbers::pi * (x[at(i) + 1] * x[at(i) + 1] - x[at(i)] * x[at(i)]);
      g.plan_area[at(g.column(i, j))] = mode == Mode::rings ? ring : g.dx(i) * g.dy(j);
      for (int k = 0; k < g.nz; ++k) {
        if (i == 0) g.aperture_x[at(g.cell(i, j, k))] = 0.0F;
        if (j == 0) g.aperture_y[at(g.cell(i, j, k))] = 0.0F;
      }
    }
  }
  g.set_layers(dz);
  return g;
}

/// Growth ratio of n widths that start at `first` and fill `length`.
double growth_ratio(double length, int n, double first) {
  const auto filled = [&](double q) {
    double sum = 0.0;
    double width = first;
    for (int c = 0; c < n; ++c, width *= q) sum += width;
    return sum;
  };
  double low = 0.2;
  double high = 5.0;
  if (filled(low) > length || filled(high) < length) throw std::invalid_argument("the end cells do not fit");
  for (int pass = 0; pass < 200; ++pass) {
    const double middle = 0.5 * (low + high);
    (filled(middle) < length ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// n edges-plus-one from 0 to length, widths growing from `first` by one ratio. A first cell that is wider
/// than an even one is followed by even ones: shrinking by one ratio, many cells would end in slivers.
std::vector<double> one_sided(double length, int n, double first) {
  if (n > 1 && first > length / n) {
    std::vector<double> edge = graded_edges(length - first, n - 1, 0.0, 0.0);
    for (double& e : edge) e += first;
    edge.insert(edge.begin(), 0.0);
    edge.back() = length;
    return edge;
  }
  const double q = growth_ratio(length, n, first);
  std::vector<double> edge(at(n) + 1, 0.0);
  double width = first;
  for (int c = 0; c < n; ++c, width *= q) edge[at(c) + 1] = edge[at(c)] + width;
  edge.back() = length;
  return edge;
}

std::vector<double> mirrored(const std::vector<double>& edge) {
  std::vector<double> out(edge.size());
  for (std::size_t c = 0; c < edge.size(); ++c) out[c] = edge.back() - edge[edge.size() - 1 - c];
  return out;
}

}  // namespace

double Grid::volume(int i, int j, int k) const {
  return plan_area[at(column(i, j))] * dz[at(k)] * double(fraction[at(cell(i, j, k))]);
}

double Grid::area_x(int i, int j, int k) const {
  if (i == 0) return 0.0;
  const double edge = mode == Mode::rings ? 2.0 * std::numbers::pi * x[at(i)] : dy(j);
  return edge * dz[at(k)] * double(aperture_x[at(cell(i, j, k))]);
}

double Grid::area_y(int i, int j, int k) const {
  if (j == 0) return 0.0;
  return dx(i) * dz[at(k)] * double(aperture_y[at(cell(i, j, k))]);
}

double Grid::area_z(int i, int j, int k) const {
  const auto open = double(k == nz ? aperture_top[at(column(i, j))] : aperture_z[at(cell(i, j, k))]);
  return plan_area[at(column(i, j))] * open;
}

double Grid::layer_area(int k) const {
  double sum = 0.0;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) sum += plan_area[at(column(i, j))] * double(fraction[at(cell(i, j, k))]);
  return sum;
}

double Grid::volume() const {
  double sum = 0.0;
  for (int k = 0; k < nz; ++k) sum += layer_area(k) * dz[at(k)];
  return sum;
}

double Grid::perimeter(int k) const {
  double sum = 0.0;
  for (const WallFace& face : wall)
    if ((face.cell / nx) % nz == k) sum += face.width;
  return sum;
}

void Grid::set_layers(const std::vector<double>& thickness) {
  if (static_cast<int>(thickness.size()) != nz)
    throw std::invalid_argument("one thickness per layer is needed");
  dz = thickness;
  z.assign(at(nz) + 1, 0.0);
  for (int k = 0; k < nz; ++k) {
    if (!(dz[at(k)] > 0.0)) throw std::invalid_argument("a layer must have a thickness above zero");
    z[at(k) + 1] = z[at(k)] + dz[at(k)];
  }
}

std::vector<double> graded_edges(double length, int n, double first, double last) {
  if (n < 1 || !(length > 0.0)) throw std::invalid_argument("a length of cells must be above zero");
  if (first <= 0.0 && last <= 0.0) {
    std::vector<double> edge(at(n) + 1);
    for (int c = 0; c <= n; ++c) edge[at(c)] = length * c / n;
    return edge;
  }
  if (first <= 0.0) return mirrored(one_sided(length, n, last));
  if (last <= 0.0) return one_sided(length, n, first);
  // Odd numbers get one cell more on the high side; the two halves share their length by that.
  const int half = n / 2;
  const double low_part = length * half / n;
  std::vector<double> edge = one_sided(low_part, half, first);
  const std::vector<double> high = mirrored(one_sided(length - low_part, n - half, last));
  for (std::size_t c = 1; c < high.size(); ++c) edge.push_back(low_part + high[c]);
  return edge;
}

Grid box_grid(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& dz) {
  Grid g = open_grid(Mode::whole, x, y, dz);
  for (int j = 0; j < g.ny; ++j) {
    for (int k = 0; k < g.nz; ++k) {
      for (int i = 0; i < g.nx; ++i) {
        const int c = g.cell(i, j, k);
        if (i == 0) g.wall.push_back({c, Side::left, g.dy(j), 0.5 * g.dx(i)});
        if (i == g.nx - 1) g.wall.push_back({c, Side::right, g.dy(j), 0.5 * g.dx(i)});
        if (j == 0) g.wall.push_back({c, Side::front, g.dx(i), 0.5 * g.dy(j)});
        if (j == g.ny - 1) g.wall.push_back({c, Side::back, g.dx(i), 0.5 * g.dy(j)});
      }
    }
  }
  return g;
}

Grid ring_grid(const std::vector<double>& r, const std::vector<double>& dz) {
  if (r.empty() || r.front() != 0.0) throw std::invalid_argument("rings start at the axis");
  Grid g = open_grid(Mode::rings, r, {0.0, 1.0}, dz);
  const double width = 2.0 * std::numbers::pi * r.back();
  for (int k = 0; k < g.nz; ++k)
    g.wall.push_back({g.cell(g.nx - 1, 0, k), Side::right, width, 0.5 * g.dx(g.nx - 1)});
  return g;
}

Grid slice_grid(const std::vector<double>& x, double across, const std::vector<double>& dz) {
  Grid g = open_grid(Mode::slice, x, {0.0, across}, dz);
  for (int k = 0; k < g.nz; ++k) {
    g.wall.push_back({g.cell(0, 0, k), Side::left, across, 0.5 * g.dx(0)});
    g.wall.push_back({g.cell(g.nx - 1, 0, k), Side::right, across, 0.5 * g.dx(g.nx - 1)});
  }
  return g;
}

}  // namespace updraught
