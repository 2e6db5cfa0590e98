#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "solver/linear/kernels/column_kernels.h"
#include "solver/linear/kernels/column_kernels_layout.h"

namespace updraught {
namespace {

constexpr int lanes = 16;
constexpr int layers = 9;
constexpr int rows = lanes * layers;
constexpr int guard = 24;  // around every array: neighbours reach one number or one row beyond

/// An array that may be read a little beyond both ends.
struct Numbers {
  std::vector<float> all;
  Numbers() : all(rows + 2 * guard, 0.0F) {}
  float* data() { return all.data() + guard; }
  float& operator[](int n) { return data()[n]; }
};

struct Slab {
  Numbers up, down, inverse, x_low, x_high, y_low, y_high, left, low, high, f, u;

  explicit Slab(unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<float> share(0.1F, 1.0F);
    for (Numbers* one : {&up, &down, &inverse, &x_low, &x_high, &y_low, &y_high, &left, &low, &high, &f})
      for (float& value : one->all) value = share(random);
  }
  ColumnTask task() {
    return {{up.data(), down.data(), inverse.data()},
            {x_low.data(), x_high.data(), y_low.data(), y_high.data()},
            {left.data(), low.data(), high.data()},
            f.data(),
            u.data()};
  }
};

TEST(ColumnKernels, StripsGiveTheBitsOfWholeRows) {
  for (const bool from_zero : {false, true}) {
    Slab a(1), b(2);
    const ColumnTask first = a.task(), second = b.task();
    std::vector<float> expected;
    for (Slab* slab : {&a, &b}) {
      const ColumnTask t = slab->task();
      if (from_zero)
        solve_columns({lanes, layers}, t.t, t.f, t.u);
      else
        solve_columns({lanes, layers}, t.t, t.c, t.v, t.f, t.u);
      expected.insert(expected.end(), t.u, t.u + rows);
      std::fill(slab->u.all.begin(), slab->u.all.end(), 0.0F);
    }
    solve_strip({lanes, layers}, from_zero, first);
    solve_strips({lanes, layers}, from_zero, first.from(strip), second);
    solve_strip({lanes, layers}, from_zero, second.from(strip));
    for (int n = 0; n < rows; ++n) {
      ASSERT_EQ(first.u[n], expected[static_cast<std::size_t>(n)]) << "number " << n;
      ASSERT_EQ(second.u[n], expected[static_cast<std::size_t>(rows + n)]) << "number " << n;
    }
  }
}

/// Exchange of the size of 1 upwards, a millionth of it sideways, and values that hardly differ: what is left
/// of A u is a millionth of its terms.
TEST(ColumnKernels, ImageKeepsTiesThatAreAMillionTimesWeaker) {
  Slab s(3);
  Numbers excess;
  for (Numbers* face : {&s.x_low, &s.x_high, &s.y_low, &s.y_high})
    for (float& value : face->all) value *= 1e-6F;
  for (Numbers* values : {&s.left, &s.low, &s.high, &s.u})
    for (int n = -guard; n < rows + guard; ++n)
      values->data()[n] = 1000.0F + 10.0F * s.f[n % rows < 0 ? 0 : n % rows];
  for (int n = 0; n < rows; ++n) s.u[n] = 1000.0F;  // nothing flows upwards
  std::vector<float> f(rows, 0.0F);
  const ColumnTask t = s.task();
  subtract_image({lanes, layers}, excess.data(), s.up.data(), t.c, t.v, s.u.data(), f.data());
  for (int n = 0; n < rows; ++n) {
    const auto flow = [&](float face, float value) {
      return double(face) * (double(value) - double(s.u[n]));
    };
    const double expected = flow(s.x_low[n], s.left[n]) + flow(s.x_high[n], s.left[n + 1]) +
                            flow(s.y_low[n], s.low[n]) + flow(s.y_high[n], s.high[n]);
    ASSERT_GT(expected, 1e-7) << "number " << n;
    ASSERT_NEAR(f[static_cast<std::size_t>(n)], expected, 1e-6 * expected) << "number " << n;
  }
}

TEST(ColumnKernels, ImageCountsEveryNeighbourAndTheTieOutside) {
  Slab s(4);
  Numbers excess, u;
  std::mt19937 random(5);
  std::uniform_real_distribution<float> share(-1.0F, 1.0F);
  for (int n = 0; n < rows; ++n) u[n] = share(random);
  for (int n = 0; n < rows; ++n) excess[n] = 0.25F;
  std::vector<float> f(rows, 1.0F);
  const ColumnTask t = s.task();
  subtract_image({lanes, layers}, excess.data(), s.up.data(), t.c, t.v, u.data(), f.data());
  for (int n = 0; n < rows; ++n) {
    const auto flow = [&](float face, float value) { return double(face) * (double(value) - double(u[n])); };
    double expected = 1.0 - 0.25 * double(u[n]);
    expected += flow(s.x_low[n], s.left[n]) + flow(s.x_high[n], s.left[n + 1]);
    expected += flow(s.y_low[n], s.low[n]) + flow(s.y_high[n], s.high[n]);
    if (n >= lanes) expected += flow(s.up[n], u[n - lanes]);
    if (n + lanes < rows) expected += flow(s.up[n + lanes], u[n + lanes]);
    ASSERT_NEAR(f[static_cast<std::size_t>(n)], expected, 1e-5) << "number " << n;
  }
}

TEST(ColumnKernels, AChainKeepsItsOrderInAnyNumberOfBlocks) {
  for (const int slabs_y : {1, 2, 7, 16, 33})
    for (const int count : {1, 2, 3, 8}) {
      SCOPED_TRACE(testing::Message() << slabs_y << " slabs in " << count << " blocks");
      const ColumnLayout layout(4, slabs_y, 3);
      SlabBlocks blocks(layout, 1);
      blocks.count = std::max(1, std::min(count, slabs_y / 4));
      constexpr int stages = 4;
      std::vector<int> done(static_cast<std::size_t>(slabs_y), 0);  // stages that a slab has behind it
      for_chain(blocks, layout, stages, [&](int n, int j, int slabs, int block) {
        ASSERT_EQ(j % 2, 0);
        ASSERT_GE(j, blocks.begin(block));
        ASSERT_LE(j + slabs, blocks.end(block));
        for (int near = std::max(0, j - 2); near < std::min(slabs_y, j + slabs + 2); ++near)
          ASSERT_GE(done[static_cast<std::size_t>(near)], n) << "stage " << n << " at " << j;
        for (int slab = j; slab < j + slabs; ++slab) ASSERT_EQ(done[static_cast<std::size_t>(slab)]++, n);
      });
      for (const int stage : done) EXPECT_EQ(stage, stages);
    }
}

}  // namespace
}  // namespace updraught
