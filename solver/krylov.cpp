#include "solver/krylov.h"

#include <algorithm>

namespace updraught {

double largest(const KeptVector& v) {
  const double* a = v.cells.data();
  double most = 0.0;
  for (std::size_t n = 0; n < v.cells.size(); ++n) most = std::max(most, std::abs(a[n]));
  for (const double value : v.nodes) most = std::max(most, std::abs(value));
  return most;
}

double dot(SlabLoop& loop, const KeptVector& v, const KeptVector& w) {
  const double* a = v.cells.data();
  const double* b = w.cells.data();
  double sum = loop.sum([&](std::size_t begin, std::size_t end) {
    return lane_sum(begin, end, [&](std::size_t n) { return a[n] * b[n]; });
  });
  for (std::size_t n = 0; n < v.nodes.size(); ++n) sum += v.nodes[n] * w.nodes[n];
  return sum;
}

void copy(SlabLoop& loop, const KeptVector& v, KeptVector& w) {
  const double* from = v.cells.data();
  double* to = w.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) { std::copy(from + begin, from + end, to + begin); });
  w.nodes = v.nodes;
}

void add(SlabLoop& loop, KeptVector& x, double alpha, const RoughVector& y) {
  double* __restrict to = x.cells.data();
  const float* __restrict from = y.cells.data();
  const double step = alpha * y.scale;
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) to[n] += step * double(from[n]);
  });
  for (std::size_t n = 0; n < x.nodes.size(); ++n) x.nodes[n] += alpha * y.nodes[n];
}

}  // namespace updraught
