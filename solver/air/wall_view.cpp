#include "solver/air/wall_view.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Cells on each side of a hole over which its spreading is measured, and radii where the cells are small:
/// beyond them the hole looks like a point.
constexpr int reach = 7;
constexpr double reach_radii = 5.0;

/// Layers are rounded to an eightieth in their logarithm, more coarsely away from the hole, and places to a
/// twenty-fifth of their cell, so that a slowly settling bed keeps one stencil for long and yet the stencil
/// is a function of the present layers alone. What the grid resists is settled beside the hole.
double rounded(double width, int cells_away = 0) {
  const double steps = 80.0 / ((1 + cells_away) * (1 + cells_away));
  return std::exp(std::round(std::log(width) * steps) / steps);
}
/// Columns do not move, and their sum, the section behind the hole, counts: they lose their last digits only,
/// by which mirrored ones differ.
double as_laid(double width) {
  return std::round(width * 1e9) / 1e9;
}
double rounded_place(double share) {
  return std::round(std::clamp(share, 0.0, 1.0) * 25.0) / 25.0;
}

/// Permeability of the packing along the wall, without the slit.
double packing_along(const Bed& bed, const Properties& now, std::size_t c) {
  if (bed.setup->wall_zone <= 0.0) return now.across[c];
  const double gap = bed.setup->problem.wall_gap;
  return std::max(now.along[c] - gap * gap * gap / (12.0 * bed.setup->wall_zone), now.across[c]);
}

}  // namespace

int cell_at(const std::vector<double>& edges, double position) {
  const int n = static_cast<int>(edges.size()) - 1;
  int here = 0;
  while (here < n - 1 && edges[at(here) + 1] < position) ++here;
  return here;
}

Window window_around(const std::vector<double>& edges, double position, double radius, bool sinks) {
  const int n = static_cast<int>(edges.size()) - 1;
  const int here = cell_at(edges, position);
  Window w;
  w.first = std::max(here - reach, 0);
  int last = std::min(here + reach, n - 1);
  while (w.first > 0 && position - edges[at(w.first)] < reach_radii * radius) --w.first;
  while (last < n - 1 && edges[at(last) + 1] - position < reach_radii * radius) ++last;
  w.ends_low = w.first == 0;
  w.ends_high = last == n - 1;
  double start = 0.0;
  for (int c = w.first; c <= last; ++c) {
    const double width = edges[at(c) + 1] - edges[at(c)];
    w.widths.push_back(sinks ? rounded(width, std::abs(c - here)) : as_laid(width));
    if (c < here) start += w.widths.back();
    if (c == here) w.position = start + w.widths.back() * rounded_place((position - edges[at(c)]) / width);
  }
  return w;
}

std::vector<double> layers_behind(const Grid& g, bool top, double radius) {
  std::vector<double> layers;
  double depth = 0.0;
  for (int d = 0; d < g.nz && (d <= reach || depth < reach_radii * radius); ++d) {
    layers.push_back(rounded(g.dz[at(top ? g.nz - 1 - d : d)]));
    depth += layers.back();
  }
  return layers;
}

int WallView::cell(int u, int k, int depth) const {
  const Grid& g = bed->grid;
  const auto row = [&](int j) { return j < g.ny ? j : 2 * g.ny - 1 - j; };
  if (side == Side::left) return g.cell(depth, row(u), k);
  if (side == Side::right) return g.cell(g.nx - 1 - depth, row(u), k);
  if (side == Side::front) return g.cell(u, row(depth), k);
  return g.cell(u, g.ny - 1 - depth, k);
}

WallView view_of(const Bed& bed, Side side, double radius) {
  const Grid& g = bed.grid;
  const bool across_x = side == Side::left || side == Side::right;
  WallView view{&bed, side, g.coordinates().along_whole_wall(side), {}, across_x ? g.ny : g.nx};
  const int rows = g.mirrored ? 2 * g.ny : g.ny;
  const int n = across_x ? g.nx : rows;
  const bool low = side == Side::left || side == Side::front;
  double depth = 0.0;
  for (int c = 0; c < n && (c <= reach || depth < reach_radii * radius); ++c) {
    const int index = low ? c : n - 1 - c;
    view.normal.push_back(as_laid(across_x ? g.dx(index) : g.dy(index < g.ny ? index : rows - 1 - index)));
    depth += view.normal.back();
  }
  return view;
}

std::vector<double> seen_widths(const WallView& view, const Properties& now, int u, int k) {
  std::vector<double> widths = view.normal;
  for (std::size_t d = 0; d < widths.size(); ++d) {
    const auto c = at(view.cell(u, k, static_cast<int>(d)));
    const double ratio = packing_along(*view.bed, now, c) / now.across[c];
    if (ratio > 1.0) widths[d] = rounded(widths[d] * std::sqrt(ratio));
  }
  return widths;
}

double seen_permeability(const WallView& view, const Properties& now, int u, int k, double radius) {
  const std::vector<double> widths = seen_widths(view, now, u, k);
  double length = 0.0;
  double resistance = 0.0;
  for (std::size_t d = 0; d < widths.size(); ++d) {
    const auto c = at(view.cell(u, k, static_cast<int>(d)));
    length += widths[d];
    resistance += widths[d] / std::sqrt(packing_along(*view.bed, now, c) * now.across[c]);
    if (length >= 3.0 * radius) break;
  }
  return length / resistance;
}

double permeability_along(const WallView& view, const Properties& now, int k, double radius) {
  double sum = 0.0;
  for (int u = 0; u < view.columns; ++u)
    sum += seen_permeability(view, now, u, k, radius) * (view.along[at(u) + 1] - view.along[at(u)]);
  return sum / (view.middle() - view.along.front());
}

}  // namespace updraught
