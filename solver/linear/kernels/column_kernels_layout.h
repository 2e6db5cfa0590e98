// Storage of columns in two colours, so that loops over the columns of one colour run over neighbouring
// numbers.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

#include "mesh/parallel/rows.h"
#include "solver/linear/kernels/column_kernels_memory.h"

// Tells the compiler that the turns of a loop do not depend on each other.
#if defined(__clang__)
#define UPDRAUGHT_INDEPENDENT _Pragma("clang loop vectorize(assume_safety)")
#else
#define UPDRAUGHT_INDEPENDENT _Pragma("GCC ivdep")
#endif

namespace updraught {

/// The columns of a chequered plan: colour 0 where i + j is even (kept), colour 1 where it is odd
/// (eliminated). A field of one colour is stored [j][k][m] with `lanes` numbers per row, padded with zeros to
/// a multiple of 8; column m of row j has i = 2 m + offset(j, colour). The other colour's neighbours of (j,
/// m) are m + offset - 1 and m + offset in the same row and m in the rows j - 1 and j + 1.
struct ColumnLayout {
  int nx = 0;
  int ny = 0;
  int nz = 0;
  int lanes = 0;

  ColumnLayout() = default;
  ColumnLayout(int nx_, int ny_, int nz_) : nx(nx_), ny(ny_), nz(nz_), lanes(((nx_ + 1) / 2 + 7) / 8 * 8) {}

  static int offset(int j, int colour) { return (j + colour) & 1; }
  /// The colour whose columns in row j start with i = 0.
  static int even_colour(int j) { return j & 1; }
  /// Numbers in the rows of a slab.
  std::size_t rows() const { return static_cast<std::size_t>(nz) * static_cast<std::size_t>(lanes); }
  /// From slab to slab: the closed gap keeps the last row's end apart from the next slab's other offset.
  std::size_t slab() const { return rows() + 8; }
  std::size_t half() const { return static_cast<std::size_t>(ny) * slab(); }
  std::size_t cells() const {
    return static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny) * static_cast<std::size_t>(nz);
  }
  std::size_t slab_at(int j) const { return static_cast<std::size_t>(j) * slab(); }
  std::size_t index(int i, int j, int k) const {
    return slab_at(j) + static_cast<std::size_t>(k) * static_cast<std::size_t>(lanes) +
           static_cast<std::size_t>(i / 2);
  }
  bool operator==(const ColumnLayout&) const = default;
};

/// What flows through the low-side face of a cell: upwards from the low neighbour into the cell, downwards
/// from the cell into the low neighbour.
enum FaceDirection : int { up_x = 0, down_x = 1, up_y = 2, down_y = 3, up_z = 4, down_z = 5 };

/// The face coefficients of both colours; a symmetric operator stores each pair once.
template <class Number>
struct ColumnFaces {
  bool symmetric = false;
  std::array<std::array<Field<Number>, 2>, 6> field;  ///< [way][colour]

  Number* at(int way, int colour) { return field[row(way)][static_cast<std::size_t>(colour)].data(); }
  const Number* at(int way, int colour) const {
    return field[row(way)][static_cast<std::size_t>(colour)].data();
  }
  double bytes() const {
    double sum = 0.0;
    for (const auto& way : field)
      for (const auto& one : way) sum += one.bytes();
    return sum;
  }

 private:
  std::size_t row(int way) const { return static_cast<std::size_t>(symmetric ? way & ~1 : way); }
};

/// The slabs dealt out in even-sized blocks, one per thread; no result depends on their number.
struct SlabBlocks {
  int slabs = 0;
  int count = 1;

  SlabBlocks() = default;
  SlabBlocks(const ColumnLayout& layout, int threads) : slabs(layout.ny) {
    if (layout.cells() >= parallel_threshold) count = std::max(1, std::min(threads, layout.ny / 4));
  }
  /// First slab of block b, even.
  int begin(int b) const { return b >= count ? slabs : (slabs / 2 * b / count) * 2; }
  int end(int b) const { return begin(b + 1); }
};

/// Calls `body(j, block)` for every slab.
template <class Body>
void for_slabs(const SlabBlocks& blocks, const ColumnLayout& layout, const Body& body) {
  for_rows(blocks.count, layout.cells(), [&](int b) {
    for (int j = blocks.begin(b); j < blocks.end(b); ++j) body(j, b);
  });
}

/// Calls `stage(n, j, slabs, block)` for n = 0..stages - 1 and every pair of slabs j, j + 1 with even j
/// (`slabs` is 1 where the second is missing): n after n - 1 on the pair itself and on both neighbouring
/// pairs. Stages follow each other closely, so that what one leaves is in the cache for the next. Where
/// blocks meet, the later stages wait until the earlier ones are done on both sides.
template <class Stage>
void for_chain(const SlabBlocks& blocks, const ColumnLayout& layout, int stages, const Stage& stage) {
  const auto begin = [&](int b) { return blocks.begin(b) / 2; };  // in pairs
  const auto end = [&](int b) { return (blocks.end(b) + 1) / 2; };
  const auto first = [&](int b, int n) { return begin(b) + (b > 0 ? n : 0); };
  const auto last = [&](int b, int n) { return end(b) - (b + 1 < blocks.count ? n : 0); };
  const auto call = [&](int n, int pair, int b) { stage(n, 2 * pair, std::min(2, layout.ny - 2 * pair), b); };
  for_rows(blocks.count, layout.cells(), [&](int b) {
    for (int front = begin(b); front < end(b) + stages - 1; ++front)
      for (int n = 0; n < stages; ++n)
        if (front - n >= first(b, n) && front - n < last(b, n)) call(n, front - n, b);
  });
  for (int n = 1; blocks.count > 1 && n < stages; ++n)
    for_rows(blocks.count, layout.cells(), [&](int b) {
      for (int pair = begin(b); pair < std::min(first(b, n), end(b)); ++pair) call(n, pair, b);
      for (int pair = std::max(first(b, n), last(b, n)); pair < end(b); ++pair) call(n, pair, b);
    });
}

}  // namespace updraught
