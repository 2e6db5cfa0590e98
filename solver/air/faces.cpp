#include "solver/air/faces.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// The cells of a grid along one direction: from one to the next, how many, the open shares of their low
/// faces.
struct Line {
  int step;
  int count;
  const float* aperture;
};

Line line_in(const Grid& g, int direction) {
  if (direction == 0) return {1, g.nx, g.aperture_x.data()};
  if (direction == 1) return {g.nx * g.nz, g.ny, g.aperture_y.data()};
  return {g.nx, g.nz, g.aperture_z.data()};
}

double width_along(const Grid& g, int direction, int position) {
  return direction == 0 ? g.dx(position) : direction == 1 ? g.dy(position) : g.dz[at(position)];
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
                       const Faces& spreading, FirstCell first, Faces& out) {
  out.assign(at(g.cells()), 0.0);
  for_faces(g, [&](auto direction, const FacePair& f) {
    const double q = along(flow, direction)[at(f.high)];
    if (q == 0.0 || f.area <= 0.0) return;
    const Line line = line_in(g, direction);
    const bool forward = q > 0.0;
    const int up = forward ? f.low : f.high;
    const int down = forward ? f.high : f.low;
    const int up_position = forward ? f.position - 1 : f.position;
    const int beyond_position = forward ? f.position - 2 : f.position + 1;
    const double change = value[at(down)] - value[at(up)];
    if (change == 0.0) return;
    // Beyond the middle of a mirrored bed lies the same again.
    const bool mirror = g.mirrored && direction == 1 && beyond_position == line.count;
    double limiter = first == FirstCell::linear && !mirror ? 1.0 : 0.0;
    const int face_behind = forward ? f.low : f.high + line.step;
    if (beyond_position >= 0 && beyond_position < line.count && line.aperture[at(face_behind)] > 0.0F) {
      const int beyond = forward ? f.low - line.step : f.high + line.step;
      const double behind =
          0.5 * (width_along(g, direction, beyond_position) + width_along(g, direction, up_position));
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
