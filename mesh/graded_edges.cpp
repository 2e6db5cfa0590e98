#include "mesh/graded_edges.h"

#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

/// Growth ratio of n widths that start at `first` and fill `length`.
double growth_ratio(double length, int n, double first) {
  const auto filled = [&](double q) {
    double sum = 0.0;
    double width = first;
    for (int c = 0; c < n; ++c, width *= q) sum += width;
    return sum;
  };
  double low = 0.2;
  double high = 5.0;
  if (filled(low) > length || filled(high) < length) throw std::invalid_argument("the end cells do not fit");
  for (int pass = 0; pass < 200; ++pass) {
    const double middle = 0.5 * (low + high);
    (filled(middle) < length ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// n edges-plus-one from 0 to length, widths growing from `first` by one ratio. A first cell that is wider
/// than an even one is followed by even ones: shrinking by one ratio, many cells would end in slivers.
std::vector<double> one_sided(double length, int n, double first) {
  if (n > 1 && first > length / n) {
    std::vector<double> edge = graded_edges(length - first, n - 1, 0.0, 0.0);
    for (double& e : edge) e += first;
    edge.insert(edge.begin(), 0.0);
    edge.back() = length;
    return edge;
  }
  const double q = growth_ratio(length, n, first);
  std::vector<double> edge(at(n) + 1, 0.0);
  double width = first;
  for (int c = 0; c < n; ++c, width *= q) edge[at(c) + 1] = edge[at(c)] + width;
  edge.back() = length;
  return edge;
}

std::vector<double> mirrored(const std::vector<double>& edge) {
  std::vector<double> out(edge.size());
  for (std::size_t c = 0; c < edge.size(); ++c) out[c] = edge.back() - edge[edge.size() - 1 - c];
  return out;
}

}  // namespace

std::vector<double> graded_edges(double length, int n, double first, double last) {
  if (n < 1 || !(length > 0.0)) throw std::invalid_argument("a length of cells must be above zero");
  if (first <= 0.0 && last <= 0.0) {
    std::vector<double> edge(at(n) + 1);
    for (int c = 0; c <= n; ++c) edge[at(c)] = length * c / n;
    return edge;
  }
  if (first <= 0.0) return mirrored(one_sided(length, n, last));
  if (last <= 0.0) return one_sided(length, n, first);
  // Odd numbers get one cell more on the high side; the two halves share their length by that.
  const int half = n / 2;
  const double low_part = length * half / n;
  std::vector<double> edge = one_sided(low_part, half, first);
  const std::vector<double> high = mirrored(one_sided(length - low_part, n - half, last));
  for (std::size_t c = 1; c < high.size(); ++c) edge.push_back(low_part + high[c]);
  return edge;
}

}  // namespace updraught
