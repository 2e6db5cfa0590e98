// Parallel loops over rows and sums in a fixed order: the only place that knows OpenMP's loop policy
// (theory 9.8).
#pragma once

#include <omp.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace updraught {

/// Below this number of unknowns a loop runs on one thread: starting threads would cost more than it saves.
inline constexpr std::size_t parallel_threshold = 20000;

/// Calls `body(row)` for rows 0..rows-1, in parallel when `unknowns` is large. Rows must be independent.
template <class Body>
void for_rows(int rows, std::size_t unknowns, const Body& body) {
  if (unknowns < parallel_threshold || rows < 2) {
    for (int row = 0; row < rows; ++row) body(row);
    return;
  }
#pragma omp parallel for schedule(static)
  for (int row = 0; row < rows; ++row) body(row);
}

/// Calls `body(n)` for n = 0..count-1, in parallel by blocks of fixed length. Items must be independent.
template <class Body>
void for_items(std::size_t count, const Body& body) {
  constexpr std::size_t block = 1024;
  for_rows(static_cast<int>((count + block - 1) / block), count, [&](int b) {
    const std::size_t begin = static_cast<std::size_t>(b) * block;
    const std::size_t end = begin + block < count ? begin + block : count;
    for (std::size_t n = begin; n < end; ++n) body(n);
  });
}

/// Sums `term(n)` for n = begin..end-1 with eight fixed lanes; the order does not depend on the processor.
template <class Term>
double lane_sum(std::size_t begin, std::size_t end, const Term& term) {
  std::array<double, 8> lane{};
  std::size_t n = begin;
  for (; n + 8 <= end; n += 8)
    for (std::size_t l = 0; l < 8; ++l) lane[l] += term(n + l);
  for (std::size_t l = 0; n < end; ++n, ++l) lane[l] += term(n);
  return ((lane[0] + lane[4]) + (lane[2] + lane[6])) + ((lane[1] + lane[5]) + (lane[3] + lane[7]));
}

/// Pairwise sum of partial sums: same bits for any number of threads.
inline double tree_sum(std::vector<double>& part) {
  if (part.empty()) return 0.0;
  for (std::size_t step = 1; step < part.size(); step *= 2)
    for (std::size_t n = 0; n + step < part.size(); n += 2 * step) part[n] += part[n + step];
  return part[0];
}

/// Sum of `term(n)` over n = 0..count-1: one partial per row of fixed length, then a pairwise tree.
template <class Term>
double ordered_sum(std::size_t count, const Term& term) {
  constexpr std::size_t row = 2048;
  const std::size_t rows = (count + row - 1) / row;
  std::vector<double> part(rows);
  for_rows(static_cast<int>(rows), count, [&](int r) {
    const std::size_t begin = static_cast<std::size_t>(r) * row;
    part[static_cast<std::size_t>(r)] = lane_sum(begin, begin + row < count ? begin + row : count, term);
  });
  return tree_sum(part);
}

/// The larger of two numbers, or the one that is no number.
inline double larger_of(double a, double b) {
  return std::isnan(a) || a >= b ? a : b;
}

/// Largest `term(n)` for n = 0..count-1, 0 at least; not a number where one term is none.
template <class Term>
double largest_of(std::size_t count, const Term& term) {
  constexpr std::size_t row = 2048;
  std::vector<double> part((count + row - 1) / row, 0.0);
  for_rows(static_cast<int>(part.size()), count, [&](int r) {
    const std::size_t begin = static_cast<std::size_t>(r) * row;
    const std::size_t end = begin + row < count ? begin + row : count;
    double& most = part[static_cast<std::size_t>(r)];
    for (std::size_t n = begin; n < end; ++n) most = larger_of(most, term(n));
  });
  double most = 0.0;
  for (const double one : part) most = larger_of(most, one);
  return most;
}

}  // namespace updraught
