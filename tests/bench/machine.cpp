#include "machine.h"

#include <omp.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <vector>

namespace updraught::bench {

namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

/// An array whose pages are touched by the threads that will use them.
std::unique_ptr<double[]> touched(long count, double value) {
  std::unique_ptr<double[]> array(new double[static_cast<std::size_t>(count)]);
  double* data = array.get();
#pragma omp parallel for schedule(static)
  for (long n = 0; n < count; ++n) data[n] = value;
  return array;
}

void residual_row(int n, int slab, const double* __restrict x, const double* __restrict y,
                  const double* __restrict z, const double* __restrict b, const double* __restrict p,
                  double* __restrict r) {
  for (int i = 1; i < n - 1; ++i)
    r[i] =
        b[i] - (x[i] * (p[i] - p[i - 1]) + x[i + 1] * (p[i] - p[i + 1]) + y[i] * (p[i] - p[i - slab]) +
                y[i + slab] * (p[i] - p[i + slab]) + z[i] * (p[i] - p[i - n]) + z[i + n] * (p[i] - p[i + n]));
}

}  // namespace

double triad(int threads) {
  omp_set_num_threads(threads);
  constexpr long count = 40'000'000;  // three arrays of 320 MB: far beyond any cache
  const auto a = touched(count, 0.0), b = touched(count, 1.0), c = touched(count, 2.0);
  double best = 1e30;
  for (int repeat = 0; repeat < 10; ++repeat) {
    const auto start = Clock::now();
    double* to = a.get();
    const double *first = b.get(), *second = c.get();
#pragma omp parallel for schedule(static)
    for (long n = 0; n < count; ++n) to[n] = first[n] + 3.0 * second[n];
    best = std::min(best, since(start));
  }
  return 24.0 * double(count) / best * 1e-9;
}

double unit_seconds_per_cell(int threads) {
  omp_set_num_threads(threads);
  constexpr int n = 256;
  constexpr long count = long{n} * n * n;
  const auto x = touched(count, 1.0), y = touched(count, 1.5), z = touched(count, 2.0);
  const auto b = touched(count, 1.0), p = touched(count, 0.5), r = touched(count, 0.0);
  std::vector<double> seconds;
  for (int repeat = 0; repeat < 20; ++repeat) {
    const auto start = Clock::now();
#pragma omp parallel for schedule(static)
    for (int j = 1; j < n - 1; ++j)
      for (int k = 1; k < n - 1; ++k) {
        const long row = (long{j} * n + k) * n;
        residual_row(n, n * n, x.get() + row, y.get() + row, z.get() + row, b.get() + row, p.get() + row,
                     r.get() + row);
      }
    seconds.push_back(since(start));
  }
  std::sort(seconds.begin(), seconds.end());
  const double inside = double(n - 2) * (n - 2) * (n - 2);
  return 0.5 * (seconds[9] + seconds[10]) / inside;
}

}  // namespace updraught::bench
