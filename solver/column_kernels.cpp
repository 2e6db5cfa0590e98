#include "solver/column_kernels.h"

#include "solver/column_kernels_layout.h"

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

}  // namespace

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
