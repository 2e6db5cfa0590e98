// Shared by the order tests: grids that are refined, and the order of accuracy from their errors (Roache
// 2002).
#pragma once

#include <cmath>
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "solver/bed/bed.h"

namespace updraught::order {

inline constexpr double width = 0.9;
inline constexpr double height = 0.7;
inline constexpr double radius = 0.45;

/// A bed of prescribed properties on n columns a side and n layers.
inline Laid bed_of(Mode mode, int n, bool uniform) {
  Problem p;
  p.mode = mode;
  p.bin.width = mode == Mode::rings ? 2.0 * radius : width;
  p.bin.length = mode == Mode::slice ? 0.3 : width;
  p.bin.height = height;
  p.depth = height;
  p.cells = {n, mode == Mode::whole ? n : 1, n, uniform};
  p.lid.kind = Lid::Kind::none;
  p.base.kind = Base::Kind::closed;
  p.constant_air = ConstantAir{};
  p.prescribed.diffusivity = 1e-5;
  p.prescribed.uptake = PrescribedUptake{PrescribedUptake::Law::first_order, 0.0, 0.0};
  p.threads = 2;
  return lay_bed(p);
}

/// A place in the bed; r is x in rings.
struct Place {
  double x, y, z;
};

inline Place centre(const Grid& g, int i, int j, int k) {
  return {g.centre_x(i), g.centre_y(j), g.centre_z(k)};
}

/// Divergence of a flux field, by central differences fine enough to count as exact (relative error about
/// 1e-9).
inline double divergence_at(Mode mode, const Place& p, const std::function<double(const Place&, int)>& flux) {
  constexpr double d = 2e-5;
  const auto shifted = [&](int direction, double by) {
    Place q = p;
    (direction == 0 ? q.x : direction == 1 ? q.y : q.z) += by;
    const double scale = mode == Mode::rings && direction == 0 ? q.x : 1.0;
    return scale * flux(q, direction);
  };
  double sum = 0.0;
  for (int direction = 0; direction < 3; ++direction) {
    if (direction == 1 && mode != Mode::whole) continue;
    const double difference = (shifted(direction, d) - shifted(direction, -d)) / (2.0 * d);
    sum += mode == Mode::rings && direction == 0 ? difference / p.x : difference;
  }
  return sum;
}

/// Volume-weighted L2 difference of two cell fields after their means are taken off.
inline double difference(const Grid& g, const std::vector<double>& a, const std::vector<double>& b) {
  double volume = 0.0, mean = 0.0, square = 0.0;
  const auto each = [&](const std::function<void(std::size_t, double)>& visit) {
    for (int j = 0; j < g.ny; ++j)
      for (int k = 0; k < g.nz; ++k)
        for (int i = 0; i < g.nx; ++i) visit(static_cast<std::size_t>(g.cell(i, j, k)), g.volume(i, j, k));
  };
  each([&](std::size_t c, double v) {
    volume += v;
    mean += v * (a[c] - b[c]);
  });
  mean /= volume;
  each([&](std::size_t c, double v) { square += v * (a[c] - b[c] - mean) * (a[c] - b[c] - mean); });
  return std::sqrt(square / volume);
}

/// Prints h, error and order, and returns the order between the two finest grids.
inline double observed_order(const std::string& what, const std::vector<int>& cells,
                             const std::vector<double>& errors) {
  double order = 0.0;
  for (std::size_t n = 0; n < errors.size(); ++n) {
    order = n == 0 ? 0.0
                   : std::log(errors[n - 1] / errors[n]) /
                         std::log(static_cast<double>(cells[n]) / static_cast<double>(cells[n - 1]));
    std::printf("%s: 1/h %3d, error %.3e, order %.2f\n", what.c_str(), cells[n], errors[n], order);
  }
  return order;
}

}  // namespace updraught::order
