// Loops over one slab of columns of one colour: everything the column solves spend their time in.
//
// All rows have `lanes` numbers and follow each other; pointers stand at the slab's lowest row. The functions
// are compiled for several processors and one is chosen at the start; products and sums are never fused, so
// all of them give the same bits.
#pragma once

#include <cstddef>

namespace updraught {

/// Coefficients of the four plan neighbours of one colour's columns, already shifted to their places.
template <class Number>
struct PlanFaces {
  const Number* x_low;
  const Number* x_high;
  const Number* y_low;
  const Number* y_high;
};

/// Values of the other colour at the four plan neighbours, already shifted to their places.
template <class Number>
struct PlanValues {
  const Number* left;
  const Number* low;
  const Number* high;
  const Number* right() const { return left + 1; }
};

/// The tridiagonal systems of one colour's columns: u_k = inverse_k (sum_k + up_k u_(k-1)), then
/// u_k += inverse_k down_(k+1) u_(k+1).
template <class Number>
struct ColumnFactors {
  const Number* up;
  const Number* down;
  const Number* inverse;
};

struct SlabShape {
  int lanes;
  int layers;
};

/// What goes into u = T^-1 (f + C v).
struct ColumnTask {
  ColumnFactors<float> t;
  PlanFaces<float> c;
  PlanValues<float> v;
  const float* f;
  float* u;

  /// The same further along the row.
  ColumnTask from(std::ptrdiff_t m) const {
    return {{t.up + m, t.down + m, t.inverse + m},
            {c.x_low + m, c.x_high + m, c.y_low + m, c.y_high + m},
            {v.left + m, v.low + m, v.high + m},
            f + m,
            u + m};
  }
};

/// Numbers side by side in a strip.
inline constexpr int strip = 8;
/// One strip, or two in step: u = T^-1 (f + C v); `from_zero`: v is 0.
void solve_strip(SlabShape shape, bool from_zero, const ColumnTask& a);
void solve_strips(SlabShape shape, bool from_zero, const ColumnTask& a, const ColumnTask& b);

/// u = T^-1 f.
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const float* f, float* u);
/// u = T^-1 (scale f), f in double precision.
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const double* f, double scale, float* u);
/// u = T^-1 (f + C v).
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, const float* f, float* u);
/// u = T^-1 (C v).
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, float* u);
/// u = T^-1 (scale f + C v), f in double precision.
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, const double* f, double scale, float* u);
/// u = T^-1 (C v), or T^-1 (f + C v) where f is given, in double precision.
void solve_columns(SlabShape shape, const ColumnFactors<double>& t, const PlanFaces<double>& c,
                   const PlanValues<double>& v, const double* f, double* u);

/// out = C v, or out += C v.
void gather_plan(SlabShape shape, const PlanFaces<float>& c, const PlanValues<float>& v, bool add,
                 float* out);

/// f -= A u for a symmetric A, by differences between neighbours: the differences of single-precision numbers
/// of one size are exact, so that ties a million times weaker than the rest still count. `z`: faces below.
void subtract_image(SlabShape shape, const float* excess, const float* z, const PlanFaces<float>& c,
                    const PlanValues<float>& v, const float* u, float* f);

/// Numbers in a row of the few columns that are solved with dense inverses; those beyond the columns are 0.
inline constexpr int block_row = 16;
/// Numbers in the inverse of a layer: a row for each column, made even.
inline constexpr int block_size(int columns) {
  return (columns + 1) / 2 * 2 * block_row;
}
/// x = A^-1 x, layer by layer from the floor: `inverse`[layer][from][to] of what is left of a layer when
/// those below are eliminated, `up` and `down`[layer][column] through the face below.
void solve_blocks(int columns, int layers, const float* inverse, const float* up, const float* down,
                  float* x);
void solve_blocks(int columns, int layers, const double* inverse, const float* up, const float* down,
                  double* x);

/// q = diagonal p - z neighbours' share - C v, in double precision.
void apply_columns(SlabShape shape, const double* diagonal, const double* up, const double* down,
                   const PlanFaces<double>& c, const PlanValues<double>& v, const double* p, double* q);

}  // namespace updraught
