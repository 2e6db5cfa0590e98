// Values on faces: what leaves a cell, and the second-order part of what a flow carries (theory 9.4).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "solver/air/faces.h"

namespace updraught {
namespace {

/// A box of uneven cells in all directions.
Grid uneven() {
  return box_grid({0.0, 0.1, 0.15, 0.35, 0.4, 0.7}, {0.0, 0.2, 0.25, 0.5, 0.6}, {0.1, 0.04, 0.2, 0.07, 0.3});
}

/// A flow that differs from face to face and turns round here and there.
Faces some_flow(const Grid& g) {
  Faces flow;
  flow.assign(at(g.cells()), 0.0);
  for_faces(g, [&](int direction, const FacePair& f) {
    along(flow, direction)[at(f.high)] = std::sin(1.7 * f.high + 2.1 * direction) * f.area;
  });
  return flow;
}

Faces no_spreading(const Grid& g) {
  Faces none;
  none.assign(at(g.cells()), 0.0);
  return none;
}

/// Whether the flow comes from the first cell in its direction.
bool nothing_behind(const Grid& g, int direction, const FacePair& f, const Faces& flow) {
  const int count = direction == 0 ? g.nx : direction == 1 ? g.ny : g.nz;
  const bool forward = along(flow, direction)[at(f.high)] > 0.0;
  return forward ? f.position == 1 : f.position == count - 1;
}

/// Calls visit(face value, upwind value, downwind value) for every face that a flow crosses.
template <class Visit>
void carried_values(const Grid& g, const Faces& flow, const std::vector<double>& value,
                    const Faces& spreading, const Visit& visit, FirstCell first = FirstCell::linear) {
  Faces part;
  second_order_part(g, flow, value, nullptr, nullptr, spreading, first, part);
  for_faces(g, [&](int direction, const FacePair& f) {
    const double q = along(flow, direction)[at(f.high)];
    if (q == 0.0) return;
    const int up = q > 0.0 ? f.low : f.high, down = q > 0.0 ? f.high : f.low;
    visit(direction, f, value[at(up)] + along(part, direction)[at(f.high)] / q, value[at(up)],
          value[at(down)]);
  });
}

TEST(Faces, WhatLeavesOneCellEntersAnother) {
  const Grid g = uneven();
  std::vector<double> out;
  divergence(g, some_flow(g), out);
  double sum = 0.0, largest = 0.0;
  for (double value : out) {
    sum += value;
    largest = std::max(largest, std::abs(value));
  }
  EXPECT_GT(largest, 0.0);
  EXPECT_NEAR(sum, 0.0, 1e-14);
}

TEST(Faces, EvenValueIsCarriedAsItIs) {
  const Grid g = uneven();
  const std::vector<double> value(at(g.cells()), 3.7);
  carried_values(g, some_flow(g), value, no_spreading(g),
                 [](int, const FacePair&, double face, double, double) { EXPECT_EQ(face, 3.7); });
}

TEST(Faces, LinearValueIsCarriedExactlyOnUnevenCells) {
  const Grid g = uneven();
  const auto linear = [](double x, double y, double z) { return 2.0 + 3.0 * x - 1.5 * y + 0.7 * z; };
  std::vector<double> value(at(g.cells()));
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i)
        value[at(g.cell(i, j, k))] = linear(g.centre_x(i), g.centre_y(j), g.centre_z(k));
  carried_values(g, some_flow(g), value, no_spreading(g),
                 [&](int direction, const FacePair& f, double face, double, double) {
                   const int i = f.high % g.nx, k = (f.high / g.nx) % g.nz, j = f.high / (g.nx * g.nz);
                   const double x = direction == 0 ? g.x[at(i)] : g.centre_x(i);
                   const double y = direction == 1 ? g.y[at(j)] : g.centre_y(j);
                   const double z = direction == 2 ? g.z[at(k)] : g.centre_z(k);
                   EXPECT_NEAR(face, linear(x, y, z), 1e-13);
                 });
}

TEST(Faces, CarriedValueStaysBetweenItsNeighbours) {
  const Grid g = uneven();
  std::vector<double> value(at(g.cells()));
  for (std::size_t c = 0; c < value.size(); ++c) value[c] = std::sin(12.9898 * static_cast<double>(c));
  // On uneven cells a limited change may reach twice the share of the distance; no face may go beyond that.
  carried_values(g, some_flow(g), value, no_spreading(g),
                 [](int, const FacePair& f, double face, double up, double down) {
                   const double share = 2.0 * std::max(f.to_low, f.to_high) / f.distance();
                   EXPECT_GE((face - up) * (down - up), 0.0);
                   EXPECT_LE(std::abs(face - up), share * std::abs(down - up) + 1e-14);
                 });
}

TEST(Faces, SpreadingThatResolvesTheCellMakesTheValueLinear) {
  const Grid g = uneven();
  std::vector<double> value(at(g.cells()));
  for (std::size_t c = 0; c < value.size(); ++c) value[c] = std::sin(12.9898 * static_cast<double>(c));
  Faces strong;
  strong.assign(at(g.cells()), 1e3);
  const Faces flow = some_flow(g);
  carried_values(g, flow, value, strong, [&](int direction, const FacePair& f, double face, double, double) {
    const double between = (value[at(f.low)] * f.to_high + value[at(f.high)] * f.to_low) / f.distance();
    EXPECT_NEAR(face, between, 1e-13) << direction;
  });
}

TEST(Faces, OutOfTheFirstCellGasesAreCarriedAsTheyAre) {
  const Grid g = uneven();
  std::vector<double> value(at(g.cells()));
  for (std::size_t c = 0; c < value.size(); ++c) value[c] = std::sin(12.9898 * static_cast<double>(c));
  const Faces flow = some_flow(g);
  int seen = 0;
  const auto visit = [&](int direction, const FacePair& f, double face, double up, double) {
    if (!nothing_behind(g, direction, f, flow)) return;
    EXPECT_EQ(face, up);
    ++seen;
  };
  carried_values(g, flow, value, no_spreading(g), visit, FirstCell::level);
  EXPECT_GT(seen, 0);
}

TEST(Faces, ReversedFlowCarriesTheMirroredValue) {
  const Grid g = box_grid({0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6}, {0.0, 1.0}, {1.0});
  std::vector<double> value{1.0, 1.1, 1.5, 2.7, 2.9, 3.0}, mirrored(value.rbegin(), value.rend());
  Faces right, left, part_right, part_left;
  right.assign(6, 0.0);
  left.assign(6, 0.0);
  for (std::size_t c = 1; c < 6; ++c) {
    right.x[c] = 0.4;
    left.x[c] = -0.4;
  }
  second_order_part(g, right, value, nullptr, nullptr, no_spreading(g), FirstCell::linear, part_right);
  second_order_part(g, left, mirrored, nullptr, nullptr, no_spreading(g), FirstCell::linear, part_left);
  for (std::size_t c = 1; c < 6; ++c) EXPECT_NEAR(part_right.x[c], -part_left.x[6 - c], 1e-15);
}

}  // namespace
}  // namespace updraught
