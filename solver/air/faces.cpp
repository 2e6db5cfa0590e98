#include "solver/air/faces.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Index steps and widths along one direction.
struct Line {
  int step;
  int position;
  int count;
  const Grid* grid;
  int direction;

  /// Whether the low face of a cell along the line is open.
  bool face_open(int cell) const {
    const std::vector<float>& open = direction == 0   ? grid->aperture_x
                                     : direction == 1 ? grid->aperture_y
                                                      : grid->aperture_z;
    return open[at(cell)] > 0.0F;
  }

  double width(int n) const {
    if (direction == 0) return grid->dx(n);
    if (direction == 1) return grid->dy(n);
    return grid->dz[at(n)];
  }
};

Line line_through(const Grid& g, int direction, int high) {
  const int i = high % g.nx;
  const int k = (high / g.nx) % g.nz;
  const int j = high / (g.nx * g.nz);
  if (direction == 0) return {1, i, g.nx, &g, 0};
  if (direction == 1) return {g.nx * g.nz, j, g.ny, &g, 1};
  return {g.nx, k, g.nz, &g, 2};
}

double van_leer(double r) {
  return r > 0.0 ? 2.0 * r / (1.0 + r) : 0.0;
}

}  // namespace

void divergence(const Grid& g, const Faces& flow, std::vector<double>& out) {
  const int slab = g.nx * g.nz;
  out.resize(at(g.cells()));
  for_rows(g.ny, at(g.cells()), [&](int j) {
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const int c = g.cell(i, j, k);
        double sum = 0.0;
        if (i > 0) sum -= flow.x[at(c)];
        if (i < g.nx - 1) sum += flow.x[at(c + 1)];
        if (j > 0) sum -= flow.y[at(c)];
        if (j < g.ny - 1) sum += flow.y[at(c + slab)];
        if (k > 0) sum -= flow.z[at(c)];
        if (k < g.nz - 1) sum += flow.z[at(c + g.nx)];
        out[at(c)] = sum;
      }
  });
}

void second_order_part(const Grid& g, const Faces& flow, const std::vector<double>& value,
                       const std::vector<double>* flux_slope, const std::vector<double>* peclet_slope,
                       const Faces& spreading, Faces& out) {
  out.assign(at(g.cells()), 0.0);
  for_faces(g, [&](int direction, const FacePair& f) {
    const double q = along(flow, direction)[at(f.high)];
    if (q == 0.0 || f.area <= 0.0) return;
    const Line line = line_through(g, direction, f.high);
    const bool forward = q > 0.0;
    const int up = forward ? f.low : f.high;
    const int down = forward ? f.high : f.low;
    const int beyond_position = forward ? line.position - 2 : line.position + 1;
    const double change = value[at(down)] - value[at(up)];
    if (change == 0.0) return;
    double limiter = 1.0;
    const int face_behind = forward ? f.low : f.high + line.step;
    if (beyond_position >= 0 && beyond_position < line.count && line.face_open(face_behind)) {
      const int beyond = forward ? f.low - line.step : f.high + line.step;
      const int up_position = forward ? line.position - 1 : line.position;
      const double behind = 0.5 * (line.width(beyond_position) + line.width(up_position));
      limiter = van_leer((value[at(up)] - value[at(beyond)]) / behind * f.distance() / change);
    }
    const double share = (forward ? f.to_low : f.to_high) / f.distance();
    const double carried = std::abs(q) * (peclet_slope ? (*peclet_slope)[at(up)] : 1.0);
    const double spread = along(spreading, direction)[at(f.high)];
    // Linear up to a Peclet number of 2, limited from 4 on.
    const double linear = spread > 0.0 ? std::clamp(2.0 - 0.5 * carried / spread, 0.0, 1.0) : 0.0;
    limiter = linear + (1.0 - linear) * limiter;
    const double scale = flux_slope ? (*flux_slope)[at(up)] : 1.0;
    along(out, direction)[at(f.high)] = q * scale * limiter * share * change;
  });
}

}  // namespace updraught
