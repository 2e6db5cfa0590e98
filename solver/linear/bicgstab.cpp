#include "solver/linear/bicgstab.h"

#include <cmath>

namespace updraught {

void TransportScalar::reset(const ColumnLayout& layout, int nodes, bool fresh, Arena& arena) {
  for (RedVector* vector : {&x, &r, &shadow, &p, &v, &t, &y, &z, &kept})
    vector->reset(layout, nodes, fresh, arena);
  rough.reset(layout, nodes, fresh, arena);
}

double TransportScalar::bytes() const {
  return bytes_of(x, r, shadow, p, v, t, y, z, kept, rough);
}

void TransportScalar::start(SlabLoop& loop) {
  copy(loop, x, kept);
  copy(loop, r, shadow);
  copy(loop, r, p);
  size = started = norms.two;
  rho = size * size;
}

bool TransportScalar::step_back(SlabLoop& loop, double along) {
  if (!std::isfinite(along) || along == 0.0) return false;
  alpha = rho / along;
  double* __restrict res = r.cells.data();
  const double* __restrict image = v.cells.data();
  double square = loop.sum([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) res[n] -= alpha * image[n];
    return lane_sum(begin, end, [&](std::size_t n) { return res[n] * res[n]; });
  });
  for (std::size_t n = 0; n < r.nodes.size(); ++n) {
    r.nodes[n] -= alpha * v.nodes[n];
    square += r.nodes[n] * r.nodes[n];
  }
  size = std::sqrt(square);
  return std::isfinite(size);
}

void TransportScalar::advance(SlabLoop& loop, double omega) {
  double* __restrict solution = x.cells.data();
  const double* __restrict first = y.cells.data();
  const double* __restrict second = z.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) solution[n] += alpha * first[n] + omega * second[n];
  });
  for (std::size_t n = 0; n < x.nodes.size(); ++n) x.nodes[n] += alpha * y.nodes[n] + omega * z.nodes[n];
}

bool TransportScalar::step_on(SlabLoop& loop, double with_r, double square) {
  const double omega = square > 0.0 ? with_r / square : 0.0;
  if (!std::isfinite(omega)) return false;
  double* __restrict res = r.cells.data();
  const double* __restrict image = t.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) res[n] -= omega * image[n];
  });
  for (std::size_t n = 0; n < r.nodes.size(); ++n) r.nodes[n] -= omega * t.nodes[n];
  size = std::sqrt(dot(loop, r, r));
  if (!std::isfinite(size)) return false;
  advance(loop, omega);
  const double next = dot(loop, r, shadow);
  const double beta = next / rho * (alpha / omega);
  rho = next;
  if (omega == 0.0 || std::abs(next) <= 1e-14 * started * size || !std::isfinite(beta)) return false;
  double* __restrict direction = p.cells.data();
  const double* __restrict old_image = v.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n)
      direction[n] = res[n] + beta * (direction[n] - omega * old_image[n]);
  });
  for (std::size_t n = 0; n < p.nodes.size(); ++n)
    p.nodes[n] = r.nodes[n] + beta * (p.nodes[n] - omega * v.nodes[n]);
  return true;
}

}  // namespace updraught
