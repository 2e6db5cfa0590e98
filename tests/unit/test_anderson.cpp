// Mixing of a fixed-point iteration.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "solver/linear/anderson.h"

namespace updraught {
namespace {

/// u = offset + contraction u with three different contractions, one of which makes plain iteration run away.
std::vector<double> image(const std::vector<double>& u) {
  constexpr std::array<double, 3> contraction{-2.0, 0.5, 0.9};
  std::vector<double> g(u.size());
  for (std::size_t n = 0; n < u.size(); ++n)
    g[n] = std::sin(0.1 * static_cast<double>(n)) + contraction[n % 3] * u[n];
  return g;
}

TEST(Anderson, FindsTheFixedPointOfALinearMap) {
  std::vector<double> u(300, 0.0);
  Anderson anderson(3);
  for (int pass = 0; pass < 10; ++pass) {
    std::vector<double> g = image(u);
    anderson.begin(u);
    anderson.mix(g);
    u = g;
  }
  const std::vector<double> g = image(u);
  for (std::size_t n = 0; n < u.size(); ++n) EXPECT_NEAR(g[n], u[n], 1e-6);
}

TEST(Anderson, OfOneUnknownIsExactAfterTwoPasses) {
  Anderson anderson(3);
  std::vector<double> u{0.0};
  for (int pass = 0; pass < 2; ++pass) {
    std::vector<double> g{1.0 - 3.0 * u[0]};  // a map that grows: plain iteration runs away
    anderson.begin(u);
    anderson.mix(g);
    u = g;
  }
  EXPECT_NEAR(u[0], 0.25, 1e-6);
}

TEST(Anderson, ForgetsAtRestart) {
  Anderson anderson(3);
  std::vector<double> u{1.0}, g{5.0};
  anderson.begin(u);
  anderson.mix(g);
  anderson.restart();
  std::vector<double> h{7.0};
  anderson.begin(u);
  anderson.mix(h);
  EXPECT_EQ(h[0], 7.0);
}

}  // namespace
}  // namespace updraught
