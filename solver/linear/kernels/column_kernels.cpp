#include "solver/linear/kernels/column_kernels.h"

#include <cstring>

#include "solver/linear/kernels/column_kernels_layout.h"

// One compiled version per family of processors; the loader picks the best one. Sanitizers cannot follow
// that.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define UPDRAUGHT_CLONES __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define UPDRAUGHT_CLONES
#endif
#define UPDRAUGHT_INLINE inline __attribute__((always_inline))

namespace updraught {

namespace {

template <class Number>
UPDRAUGHT_INLINE Number plan_sum(const PlanFaces<Number>& c, const PlanValues<Number>& v, std::ptrdiff_t n) {
  return (c.x_low[n] * v.left[n] + c.x_high[n] * v.left[n + 1]) +
         (c.y_low[n] * v.low[n] + c.y_high[n] * v.high[n]);
}

/// `sum(n)` is the right-hand side of number n of the slab.
template <class Number, class Sum>
UPDRAUGHT_INLINE void solve_body(SlabShape shape, const ColumnFactors<Number>& t, const Sum& sum,
                                 Number* __restrict u) {
  const std::ptrdiff_t lanes = shape.lanes;
  UPDRAUGHT_INDEPENDENT
  for (std::ptrdiff_t n = 0; n < lanes; ++n) u[n] = t.inverse[n] * sum(n);
  for (std::ptrdiff_t k = 1; k < shape.layers; ++k) {
    const std::ptrdiff_t row = k * lanes;
    UPDRAUGHT_INDEPENDENT
    for (std::ptrdiff_t n = row; n < row + lanes; ++n)
      u[n] = t.inverse[n] * (sum(n) + t.up[n] * u[n - lanes]);
  }
  for (std::ptrdiff_t k = shape.layers - 2; k >= 0; --k) {
    const std::ptrdiff_t row = k * lanes;
    UPDRAUGHT_INDEPENDENT
    for (std::ptrdiff_t n = row; n < row + lanes; ++n)
      u[n] += t.inverse[n] * (t.down[n + lanes] * u[n + lanes]);
  }
}

/// A short row held in registers.
using Row = float __attribute__((vector_size(strip * sizeof(float))));

UPDRAUGHT_INLINE void load(const float* from, Row& row) {
  std::memcpy(&row, from, sizeof row);
}

/// Row `n` on the way up: u = inverse (f + C v + up u_below).
template <bool from_zero>
UPDRAUGHT_INLINE void rise(const ColumnTask& s, std::ptrdiff_t n, Row& u) {
  Row inverse, up, sum;
  load(s.t.inverse + n, inverse);
  load(s.t.up + n, up);
  load(s.f + n, sum);
  if constexpr (!from_zero) {
    Row c[4], v[4];
    load(s.c.x_low + n, c[0]);
    load(s.c.x_high + n, c[1]);
    load(s.c.y_low + n, c[2]);
    load(s.c.y_high + n, c[3]);
    load(s.v.left + n, v[0]);
    load(s.v.right() + n, v[1]);
    load(s.v.low + n, v[2]);
    load(s.v.high + n, v[3]);
    sum = sum + ((c[0] * v[0] + c[1] * v[1]) + (c[2] * v[2] + c[3] * v[3]));
  }
  u = inverse * (sum + up * u);
  std::memcpy(s.u + n, &u, sizeof u);
}

/// Row `n` on the way down: u += inverse down_above u_above.
UPDRAUGHT_INLINE void fall(const ColumnTask& s, std::ptrdiff_t lanes, std::ptrdiff_t n, Row& above) {
  Row inverse, down, u;
  load(s.t.inverse + n, inverse);
  load(s.t.down + n + lanes, down);
  load(s.u + n, u);
  above = u + inverse * (down * above);
  std::memcpy(s.u + n, &above, sizeof above);
}

template <bool from_zero>
UPDRAUGHT_INLINE void solve_alone(SlabShape shape, const ColumnTask& a) {
  const std::ptrdiff_t lanes = shape.lanes;
  Row row{};
  for (std::ptrdiff_t k = 0; k < shape.layers; ++k) rise<from_zero>(a, k * lanes, row);
  for (std::ptrdiff_t k = shape.layers - 2; k >= 0; --k) fall(a, lanes, k * lanes, row);
}

/// A recurrence waits for its last product, and the other strip fills the wait.
template <bool from_zero>
UPDRAUGHT_INLINE void solve_in_step(SlabShape shape, const ColumnTask& a, const ColumnTask& b) {
  const std::ptrdiff_t lanes = shape.lanes;
  Row row_a{}, row_b{};
  for (std::ptrdiff_t k = 0; k < shape.layers; ++k) {
    rise<from_zero>(a, k * lanes, row_a);
    rise<from_zero>(b, k * lanes, row_b);
  }
  for (std::ptrdiff_t k = shape.layers - 2; k >= 0; --k) {
    fall(a, lanes, k * lanes, row_a);
    fall(b, lanes, k * lanes, row_b);
  }
}

/// to += inverse from, in two sums, so that one need not wait for the other.
template <class Number>
UPDRAUGHT_INLINE void add_image(int columns, const Number* __restrict inverse, const Number* __restrict from,
                                Number* __restrict to) {
  Number even[block_row] = {}, odd[block_row] = {};
  for (std::ptrdiff_t j = 0; j < columns; j += 2)
    for (std::ptrdiff_t i = 0; i < block_row; ++i) {
      even[i] += inverse[j * block_row + i] * from[j];
      odd[i] += inverse[(j + 1) * block_row + i] * from[j + 1];
    }
  for (std::ptrdiff_t i = 0; i < block_row; ++i) to[i] += even[i] + odd[i];
}

template <class Number>
UPDRAUGHT_INLINE void blocks_body(int columns, int layers, const Number* inverse, const float* up,
                                  const float* down, Number* x) {
  const std::ptrdiff_t block = block_size(columns);
  Number from[block_row] = {};
  for (std::ptrdiff_t k = 0; k < layers; ++k) {
    Number* row = x + k * block_row;
    for (std::ptrdiff_t i = 0; i < block_row; ++i) {
      from[i] = k > 0 ? row[i] + Number(up[k * block_row + i]) * row[i - block_row] : row[i];
      row[i] = 0;
    }
    add_image(columns, inverse + k * block, from, row);
  }
  for (std::ptrdiff_t k = layers - 2; k >= 0; --k) {
    Number* row = x + k * block_row;
    for (std::ptrdiff_t i = 0; i < block_row; ++i)
      from[i] = Number(down[(k + 1) * block_row + i]) * row[i + block_row];
    add_image(columns, inverse + k * block, from, row);
  }
}

}  // namespace

UPDRAUGHT_CLONES
void solve_blocks(int columns, int layers, const float* inverse, const float* up, const float* down,
                  float* x) {
  blocks_body(columns, layers, inverse, up, down, x);
}

UPDRAUGHT_CLONES
void solve_blocks(int columns, int layers, const double* inverse, const float* up, const float* down,
                  double* x) {
  blocks_body(columns, layers, inverse, up, down, x);
}

UPDRAUGHT_CLONES
void solve_strip(SlabShape shape, bool from_zero, const ColumnTask& a) {
  if (from_zero)
    solve_alone<true>(shape, a);
  else
    solve_alone<false>(shape, a);
}

UPDRAUGHT_CLONES
void solve_strips(SlabShape shape, bool from_zero, const ColumnTask& a, const ColumnTask& b) {
  if (from_zero)
    solve_in_step<true>(shape, a, b);
  else
    solve_in_step<false>(shape, a, b);
}

UPDRAUGHT_CLONES
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const float* f, float* u) {
  solve_body(
      shape, t, [&](std::ptrdiff_t n) { return f[n]; }, u);
}

UPDRAUGHT_CLONES
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const double* f, double scale, float* u) {
  solve_body(
      shape, t, [&](std::ptrdiff_t n) { return static_cast<float>(scale * f[n]); }, u);
}

UPDRAUGHT_CLONES
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, const float* f, float* u) {
  solve_body(
      shape, t, [&](std::ptrdiff_t n) { return f[n] + plan_sum(c, v, n); }, u);
}

UPDRAUGHT_CLONES
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, float* u) {
  solve_body(
      shape, t, [&](std::ptrdiff_t n) { return plan_sum(c, v, n); }, u);
}

UPDRAUGHT_CLONES
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, const double* f, double scale, float* u) {
  solve_body(
      shape, t, [&](std::ptrdiff_t n) { return static_cast<float>(scale * f[n]) + plan_sum(c, v, n); }, u);
}

UPDRAUGHT_CLONES
void solve_columns(SlabShape shape, const ColumnFactors<double>& t, const PlanFaces<double>& c,
                   const PlanValues<double>& v, const double* f, double* u) {
  if (f == nullptr)
    solve_body(
        shape, t, [&](std::ptrdiff_t n) { return plan_sum(c, v, n); }, u);
  else
    solve_body(
        shape, t, [&](std::ptrdiff_t n) { return f[n] + plan_sum(c, v, n); }, u);
}

UPDRAUGHT_CLONES
void gather_plan(SlabShape shape, const PlanFaces<float>& c, const PlanValues<float>& v, bool add,
                 float* out) {
  const std::ptrdiff_t count = std::ptrdiff_t{shape.lanes} * shape.layers;
  if (add) {
    UPDRAUGHT_INDEPENDENT
    for (std::ptrdiff_t n = 0; n < count; ++n) out[n] += plan_sum(c, v, n);
  } else {
    UPDRAUGHT_INDEPENDENT
    for (std::ptrdiff_t n = 0; n < count; ++n) out[n] = plan_sum(c, v, n);
  }
}

UPDRAUGHT_CLONES
void subtract_image(SlabShape shape, const float* excess, const float* z, const PlanFaces<float>& c,
                    const PlanValues<float>& v, const float* __restrict u, float* __restrict f) {
  const std::ptrdiff_t lanes = shape.lanes;
  for (std::ptrdiff_t k = 0; k < shape.layers; ++k) {
    const std::ptrdiff_t below = k > 0 ? lanes : 0;
    const std::ptrdiff_t above = k + 1 < shape.layers ? lanes : 0;
    UPDRAUGHT_INDEPENDENT
    for (std::ptrdiff_t n = k * lanes; n < (k + 1) * lanes; ++n) {
      const float plan = (c.x_low[n] * (v.left[n] - u[n]) + c.x_high[n] * (v.left[n + 1] - u[n])) +
                         (c.y_low[n] * (v.low[n] - u[n]) + c.y_high[n] * (v.high[n] - u[n]));
      const float column = z[n] * (u[n - below] - u[n]) + z[n + above] * (u[n + above] - u[n]);
      f[n] += (plan + column) - excess[n] * u[n];
    }
  }
}

UPDRAUGHT_CLONES
void apply_columns(SlabShape shape, const double* diagonal, const double* up, const double* down,
                   const PlanFaces<double>& c, const PlanValues<double>& v, const double* p, double* q) {
  const std::ptrdiff_t lanes = shape.lanes;
  const std::ptrdiff_t top = lanes * (shape.layers - 1);
  if (shape.layers == 1) {
    UPDRAUGHT_INDEPENDENT
    for (std::ptrdiff_t n = 0; n < lanes; ++n) q[n] = diagonal[n] * p[n] - plan_sum(c, v, n);
    return;
  }
  UPDRAUGHT_INDEPENDENT
  for (std::ptrdiff_t n = 0; n < lanes; ++n)
    q[n] = diagonal[n] * p[n] - (plan_sum(c, v, n) + down[n + lanes] * p[n + lanes]);
  UPDRAUGHT_INDEPENDENT
  for (std::ptrdiff_t n = lanes; n < top; ++n)
    q[n] = diagonal[n] * p[n] - (plan_sum(c, v, n) + (up[n] * p[n - lanes] + down[n + lanes] * p[n + lanes]));
  UPDRAUGHT_INDEPENDENT
  for (std::ptrdiff_t n = top; n < top + lanes; ++n)
    q[n] = diagonal[n] * p[n] - (plan_sum(c, v, n) + up[n] * p[n - lanes]);
}

}  // namespace updraught
