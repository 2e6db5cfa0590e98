#include "solver/linear/anderson.h"

#include <array>
#include <cmath>

#include "mesh/parallel/rows.h"

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

void Anderson::begin(const std::vector<double>& u) {
  passes_.resize(depth_ + 1);
  ++count_;
  std::vector<float>& iterate = passes_[(count_ - 1) % passes_.size()].iterate;
  iterate.resize(u.size());
  for_items(u.size(), [&](std::size_t n) { iterate[n] = static_cast<float>(u[n]); });
}

void Anderson::mix(std::vector<double>& g) {
  const std::size_t size = g.size();
  Pass& now = passes_[(count_ - 1) % passes_.size()];
  now.residual.resize(size);
  for_items(size, [&](std::size_t n) {
    now.residual[n] = static_cast<float>(g[n] - static_cast<double>(now.iterate[n]));
  });
  const std::size_t used = count_ - 1 < depth_ ? count_ - 1 : depth_;
  if (used == 0) return;

  std::array<std::array<double, most_depth>, most_depth> a{};
  std::array<double, most_depth> b{};
  for (std::size_t p = 0; p < used; ++p) {
    const auto change = [&](std::size_t of, std::size_t n) {
      return residual_change(before(of + 1), before(of), n);
    };
    for (std::size_t q = 0; q <= p; ++q)
      a[p][q] = a[q][p] = ordered_sum(size, [&](std::size_t n) { return change(p, n) * change(q, n); });
    b[p] =
        ordered_sum(size, [&](std::size_t n) { return change(p, n) * static_cast<double>(now.residual[n]); });
  }
  for (std::size_t p = 0; p < used; ++p) {
    if (a[p][p] <= 0.0) return;
    a[p][p] *= 1.0 + damping;
  }
  solve_small(used, a, b);
  for (std::size_t p = 0; p < used; ++p)
    if (std::isfinite(b[p]))
      for_items(size, [&](std::size_t n) { g[n] -= b[p] * image_change(before(p + 1), before(p), n); });
}

}  // namespace updraught
