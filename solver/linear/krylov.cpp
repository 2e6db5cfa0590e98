#include "solver/linear/krylov.h"

#include <algorithm>

#include "mesh/parallel/index.h"

namespace updraught {

/// 0.
std::vector<double> inverse_of(std::vector<double> m, int n) {
  std::vector<double> inverse(at(n * n), 0.0);
  for (int i = 0; i < n; ++i) inverse[at(i * n + i)] = 1.0;
  for (int i = 0; i < n; ++i) {
    int best = i;
    for (int row = i + 1; row < n; ++row)
      if (std::abs(m[at(row * n + i)]) > std::abs(m[at(best * n + i)])) best = row;
    const double scale = m[at(best * n + i)] != 0.0 ? 1.0 / m[at(best * n + i)] : 0.0;
    for (int c = 0; c < n; ++c) {
      std::swap(m[at(best * n + c)], m[at(i * n + c)]);
      std::swap(inverse[at(best * n + c)], inverse[at(i * n + c)]);
      m[at(i * n + c)] *= scale;
      inverse[at(i * n + c)] *= scale;
    }
    for (int row = 0; row < n; ++row) {
      const double share = m[at(row * n + i)];
      if (row == i || share == 0.0) continue;
      for (int c = 0; c < n; ++c) {
        m[at(row * n + c)] -= share * m[at(i * n + c)];
        inverse[at(row * n + c)] -= share * inverse[at(i * n + c)];
      }
    }
  }
  return inverse;
}

double largest(const RedVector& v) {
  const double* a = v.cells.data();
  double most = 0.0;
  for (std::size_t n = 0; n < v.cells.size(); ++n) most = std::max(most, std::abs(a[n]));
  for (const double value : v.nodes) most = std::max(most, std::abs(value));
  return most;
}

double dot(SlabLoop& loop, const RedVector& v, const RedVector& w) {
  const double* a = v.cells.data();
  const double* b = w.cells.data();
  double sum = loop.sum([&](std::size_t begin, std::size_t end) {
    return lane_sum(begin, end, [&](std::size_t n) { return a[n] * b[n]; });
  });
  for (std::size_t n = 0; n < v.nodes.size(); ++n) sum += v.nodes[n] * w.nodes[n];
  return sum;
}

void copy(SlabLoop& loop, const RedVector& v, RedVector& w) {
  const double* from = v.cells.data();
  double* to = w.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) { std::copy(from + begin, from + end, to + begin); });
  w.nodes = v.nodes;
}

void assign(SlabLoop& loop, const RoughVector& from, RedVector& to) {
  const float* __restrict rough = from.cells.data();
  double* __restrict out = to.cells.data();
  const double scale = from.scale;
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) out[n] = scale * double(rough[n]);
  });
  to.nodes = from.nodes;
}

}  // namespace updraught
