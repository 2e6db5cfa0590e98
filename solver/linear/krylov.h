// Vector operations of the Krylov methods on the reduced system, slab by slab with sums in a fixed order.
#pragma once

#include <chrono>
#include <cmath>
#include <vector>

#include "solver/linear/red_black_schur.h"

namespace updraught {

inline double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Runs over the numbers of the kept cells, slab by slab.
class SlabLoop {
 public:
  SlabLoop() = default;
  SlabLoop(const ColumnLayout& layout, const SlabBlocks& blocks)
      : layout_(layout), blocks_(blocks), part_(static_cast<std::size_t>(layout.ny)) {}

  /// Calls body(begin, end) for the numbers of every slab.
  template <class Body>
  void each(const Body& body) const {
    for_slabs(blocks_, layout_, [&](int j, int) { body(layout_.slab_at(j), layout_.slab_at(j + 1)); });
  }
  /// Sum of body(begin, end) over all slabs.
  template <class Body>
  double sum(const Body& body) {
    for_slabs(blocks_, layout_, [&](int j, int) {
      part_[static_cast<std::size_t>(j)] = body(layout_.slab_at(j), layout_.slab_at(j + 1));
    });
    return tree_sum(part_);
  }

 private:
  ColumnLayout layout_;
  SlabBlocks blocks_;
  std::vector<double> part_;
};

/// Largest magnitude in a reduced vector.
double largest(const RedVector& v);
/// v . w.
double dot(SlabLoop& loop, const RedVector& v, const RedVector& w);
/// Copies v into w.
void copy(SlabLoop& loop, const RedVector& v, RedVector& w);
/// to = from.
void assign(SlabLoop& loop, const RoughVector& from, RedVector& to);

/// Inverse of an n x n matrix by elimination with row exchange; unknowns without any coefficient are held at
/// 0.
std::vector<double> inverse_of(std::vector<double> m, int n);

/// Bytes of the cells of the vectors.
template <class... Vectors>
double bytes_of(const Vectors&... v) {
  return (v.cells.bytes() + ...);
}

}  // namespace updraught
