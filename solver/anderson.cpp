#include "solver/anderson.h"

#include <array>
#include <cmath>

#include "mesh/rows.h"

namespace updraught {

namespace {

constexpr std::size_t most_depth = 4;
/// Share of the diagonal that is added to the small normal equations: nearly parallel differences then count
/// little.
constexpr double damping = 1e-10;

/// Solves the small symmetric system in place by elimination.
void solve_small(std::size_t n, std::array<std::array<double, most_depth>, most_depth>& a,
                 std::array<double, most_depth>& b) {
  for (std::size_t p = 0; p < n; ++p) {
    for (std::size_t r = p + 1; r < n; ++r) {
      const double factor = a[r][p] / a[p][p];
      for (std::size_t c = p; c < n; ++c) a[r][c] -= factor * a[p][c];
      b[r] -= factor * b[p];
    }
  }
  for (std::size_t p = n; p-- > 0;) {
    for (std::size_t c = p + 1; c < n; ++c) b[p] -= a[p][c] * b[c];
    b[p] /= a[p][p];
  }
}

}  // namespace

void Anderson::mix(const std::vector<double>& u, std::vector<double>& g) {
  const std::size_t size = u.size();
  std::size_t used = 0;
  if (count_ > 0) {
    const std::size_t slot = (count_ - 1) % depth_;
    used = count_ < depth_ ? count_ : depth_;
    residual_change_.resize(depth_);
    image_change_.resize(depth_);
    residual_change_[slot].resize(size);
    image_change_[slot].resize(size);
    for_items(size, [&](std::size_t n) {
      residual_change_[slot][n] = static_cast<float>(g[n] - u[n] - static_cast<double>(last_residual_[n]));
      image_change_[slot][n] = static_cast<float>(g[n] - static_cast<double>(last_image_[n]));
    });
  }
  last_residual_.resize(size);
  last_image_.resize(size);
  for_items(size, [&](std::size_t n) {
    last_residual_[n] = static_cast<float>(g[n] - u[n]);
    last_image_[n] = static_cast<float>(g[n]);
  });
  ++count_;
  if (used == 0) return;

  const auto product = [&](const std::vector<float>& a, const std::vector<float>& b) {
    return ordered_sum(size,
                       [&](std::size_t n) { return static_cast<double>(a[n]) * static_cast<double>(b[n]); });
  };
  std::array<std::array<double, most_depth>, most_depth> a{};
  std::array<double, most_depth> b{};
  for (std::size_t p = 0; p < used; ++p) {
    for (std::size_t q = 0; q <= p; ++q)
      a[p][q] = a[q][p] = product(residual_change_[p], residual_change_[q]);
    b[p] = product(residual_change_[p], last_residual_);
  }
  for (std::size_t p = 0; p < used; ++p) {
    if (a[p][p] <= 0.0) return;
    a[p][p] *= 1.0 + damping;
  }
  solve_small(used, a, b);
  for (std::size_t p = 0; p < used; ++p)
    if (std::isfinite(b[p]))
      for_items(size, [&](std::size_t n) { g[n] -= b[p] * static_cast<double>(image_change_[p][n]); });
}

}  // namespace updraught
