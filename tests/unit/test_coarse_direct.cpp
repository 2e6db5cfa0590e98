#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "mesh/parallel/index.h"
#include "solver/linear/coarse_direct.h"

namespace updraught {
namespace {

/// A few columns with random exchange, upwards and downwards not alike unless `symmetric`.
struct Columns {
  ColumnLayout layout;
  Arena arena{1 << 16};
  ColumnFaces<float> faces;
  std::array<Field<float>, 2> excess, f, u;
  std::array<ColumnLinks, 2> links;
  std::vector<double> node_matrix;

  Columns(ColumnLayout layout_, bool symmetric, float tie) : layout(layout_) {
    faces.symmetric = symmetric;
    for (auto& way : faces.field)
      for (Field<float>& face : way) face.reset(layout.half() + layout.slab(), true, arena);
    for (auto* pair : {&excess, &f, &u})
      for (Field<float>& field : *pair) field.reset(layout.half(), true, arena);
    std::mt19937 random(7);
    std::uniform_real_distribution<float> share(0.1F, 1.0F);
    each([&](int colour, int i, int j, int k, std::size_t place) {
      for (const int way : symmetric ? std::vector{up_x, up_y, up_z}
                                     : std::vector{up_x, down_x, up_y, down_y, up_z, down_z}) {
        const bool inside = way < up_y ? i > 0 : way < up_z ? j > 0 : k > 0;
        if (inside) faces.at(way, colour)[place] = share(random);
      }
      excess[at(colour)].data()[place] = tie * share(random);
    });
  }

  template <class Visit>
  void each(const Visit& visit) const {
    for (int j = 0; j < layout.ny; ++j)
      for (int k = 0; k < layout.nz; ++k)
        for (int i = 0; i < layout.nx; ++i) visit((i + j) & 1, i, j, k, layout.index(i, j, k));
  }

  /// Ties every third cell to one of two nodes, which are tied to each other and the first to outside.
  void add_nodes() {
    node_matrix = {0.5, -0.2, -0.2, 0.2};
    int n = 0;
    each([&](int colour, int, int, int, std::size_t place) {
      if (++n % 3 != 0) return;
      const int node = n % 2;
      links[at(colour)].list.push_back({place, node, 0.3, 0.3});
      excess[at(colour)].data()[place] += 0.3F;
      node_matrix[at(3 * node)] += 0.3;
    });
  }

  /// Residual f - A u of every cell, in double precision, by differences where the exchange is symmetric.
  double largest_residual(const std::vector<double>& node_value) {
    std::array<std::vector<double>, 2> rest;
    for (std::size_t c = 0; c < 2; ++c) rest[c].assign(layout.half(), 0.0);
    const auto value = [&](int i, int j, int k) {
      return double(u[at((i + j) & 1)].data()[layout.index(i, j, k)]);
    };
    each([&](int colour, int i, int j, int k, std::size_t place) {
      rest[at(colour)][place] +=
          double(f[at(colour)].data()[place]) - double(excess[at(colour)].data()[place]) * value(i, j, k);
      const auto exchange = [&](int way, int low_i, int low_j, int low_k) {
        if (low_i < 0 || low_j < 0 || low_k < 0) return;
        const double up = double(faces.at(way, colour)[place]) * value(low_i, low_j, low_k);
        const double down = double(faces.at(way + 1, colour)[place]) * value(i, j, k);
        rest[at(colour)][place] += up - down;
        rest[at((low_i + low_j) & 1)][layout.index(low_i, low_j, low_k)] += down - up;
      };
      exchange(up_x, i - 1, j, k);
      exchange(up_y, i, j - 1, k);
      exchange(up_z, i, j, k - 1);
    });
    for (std::size_t c = 0; c < 2; ++c)
      for (const ColumnCoupling& link : links[c].list)
        rest[c][link.place] += link.to_cell * node_value[at(link.node)];
    double most = 0.0;
    for (const auto& one : rest)
      for (const double r : one) most = std::max(most, std::abs(r));
    return most;
  }

  std::vector<double> solve(const std::vector<double>& node_rhs, bool floating) {
    CoarseDirect last;
    last.build(layout, faces, {excess[0].data(), excess[1].data()}, links, node_matrix, floating);
    std::vector<double> node_value(node_rhs.size(), 0.0);
    last.solve({f[0].data(), f[1].data()}, links, node_rhs, {u[0].data(), u[1].data()}, node_value);
    return node_value;
  }
};

const ColumnLayout layouts[] = {{1, 1, 1}, {1, 1, 9}, {4, 4, 6}, {3, 5, 4}, {16, 1, 5}, {2, 1, 7}};

TEST(CoarseDirect, AreSolvedToSinglePrecision) {
  for (const ColumnLayout& layout : layouts)
    for (const bool symmetric : {true, false}) {
      SCOPED_TRACE(testing::Message() << layout.nx << " x " << layout.ny << " x " << layout.nz);
      Columns c(layout, symmetric, 0.1F);
      c.each([&](int colour, int i, int j, int k, std::size_t place) {
        c.f[at(colour)].data()[place] = std::sin(1.0F + float(3 * i + 5 * j + 7 * k));
      });
      c.solve({}, false);
      EXPECT_LE(c.largest_residual({}), 3e-5);
    }
}

TEST(CoarseDirect, AreSolvedTogetherWithTheNodes) {
  Columns c({4, 3, 5}, true, 0.0F);
  c.add_nodes();
  c.each([&](int colour, int i, int j, int k, std::size_t place) {
    c.f[at(colour)].data()[place] = std::cos(float(3 * i + 5 * j + 7 * k));
  });
  const std::vector<double> rhs{0.7, -0.4};
  const std::vector<double> value = c.solve(rhs, false);
  EXPECT_LE(c.largest_residual(value), 3e-5);
  for (std::size_t n = 0; n < 2; ++n) {
    double rest = rhs[n] - c.node_matrix[2 * n] * value[0] - c.node_matrix[2 * n + 1] * value[1];
    for (std::size_t colour = 0; colour < 2; ++colour)
      for (const ColumnCoupling& link : c.links[colour].list)
        if (at(link.node) == n) rest += link.to_node * double(c.u[colour].data()[link.place]);
    EXPECT_NEAR(rest, 0.0, 3e-5);
  }
}

/// What is fed in must leave through ties a billion times weaker than the exchange: the level is exact.
TEST(CoarseDirect, TiesABillionTimesWeakerStillCount) {
  Columns c({4, 4, 8}, true, 1e-9F);
  double fed = 0.0, ties = 0.0;
  c.each([&](int colour, int, int, int, std::size_t place) {
    c.f[at(colour)].data()[place] = 1.0F;
    fed += 1.0;
    ties += double(c.excess[at(colour)].data()[place]);
  });
  c.solve({}, false);
  c.each([&](int colour, int, int, int, std::size_t place) {
    ASSERT_NEAR(double(c.u[at(colour)].data()[place]) * ties, fed, 1e-5 * fed);
  });
}

TEST(CoarseDirect, WhatIsTiedToNothingIsSolvedUpToAConstant) {
  Columns c({3, 3, 6}, true, 0.0F);
  double total = 0.0;
  c.each([&](int colour, int i, int j, int k, std::size_t place) {
    const bool last = i == 2 && j == 2 && k == 5;
    const float source = last ? float(-total) : float((i + 2 * j + 3 * k) % 5) - 2.0F;
    c.f[at(colour)].data()[place] = source;
    total += double(source);
  });
  c.solve({}, true);
  EXPECT_LE(c.largest_residual({}), 3e-4);
  c.each([&](int colour, int, int, int, std::size_t place) {
    ASSERT_TRUE(std::isfinite(c.u[at(colour)].data()[place]));
  });
}

}  // namespace
}  // namespace updraught
