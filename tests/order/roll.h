// A turning flow of dry gas that closes exactly, for the order tests of what is carried: from a stream
// function, nought at all outer faces.
#pragma once

#include <numbers>

#include "solver/air/faces.h"
#include "tests/order/manufactured.h"

namespace updraught::order {

inline double span(Mode mode) {
  return mode == Mode::rings ? radius : width;
}

/// Factor over the breadth of a whole bed.
inline double swing(Mode mode, double y) {
  return mode == Mode::whole ? 1.0 + 0.4 * std::cos(std::numbers::pi * y / width) : 1.0;
}

struct Roll {
  Mode mode;
  double strength;  ///< mol/(m s)

  /// Stream function per breadth (slice, whole) or per turn (rings).
  double stream(double x, double z) const {
    constexpr double pi = std::numbers::pi;
    const double roll = strength * std::sin(pi * z / height);
    if (mode == Mode::rings) return 2.0 * pi * roll * 0.2 * std::pow(std::sin(pi * x / radius), 2);
    return roll * std::sin(pi * x / width);
  }

  /// Flux of dry gas (mol/(m2 s)).
  double flux(const Place& p, int direction) const {
    constexpr double d = 1e-5;
    if (direction == 1) return 0.0;
    const double breadth = mode == Mode::rings ? 2.0 * std::numbers::pi * p.x : 1.0;
    const double slope = direction == 0 ? stream(p.x, p.z + d) - stream(p.x, p.z - d)
                                        : stream(p.x - d, p.z) - stream(p.x + d, p.z);
    return swing(mode, p.y) * slope / (2.0 * d) / breadth;
  }

  /// Flows through the faces (mol/s) from the stream function at their corners.
  void fill(const Grid& g, Faces& faces) const {
    faces.assign(static_cast<std::size_t>(g.cells()), 0.0);
    for (int j = 0; j < g.ny; ++j)
      for (int k = 0; k < g.nz; ++k)
        for (int i = 0; i < g.nx; ++i) {
          const auto c = static_cast<std::size_t>(g.cell(i, j, k));
          const auto u = static_cast<std::size_t>(i), w = static_cast<std::size_t>(k);
          const double breadth = mode == Mode::rings ? 1.0 : swing(mode, g.centre_y(j)) * g.dy(j);
          if (i > 0) faces.x[c] = breadth * (stream(g.x[u], g.z[w + 1]) - stream(g.x[u], g.z[w]));
          if (k > 0) faces.z[c] = breadth * (stream(g.x[u], g.z[w]) - stream(g.x[u + 1], g.z[w]));
        }
  }
};

}  // namespace updraught::order
