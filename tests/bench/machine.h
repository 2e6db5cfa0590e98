// The machine's own figures, measured in the same run as the solves.
#pragma once

namespace updraught::bench {

/// STREAM triad a = b + s c in GB/s (three arrays, best of several), with so many threads.
double triad(int threads);

/// Seconds per cell of one residual r = b - A x at N = 256 (three stored faces, 56 bytes per cell with the
/// write-allocate): the median of 20, with so many threads. A "unit" is one such residual.
double unit_seconds_per_cell(int threads);

}  // namespace updraught::bench
