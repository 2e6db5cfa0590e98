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

/// u = T^-1 f.
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const float* f, float* u);
/// u = T^-1 (scale f), f in double precision.
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const double* f, double scale, float* u);
/// u = T^-1 (f + C v).
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, const float* f, float* u);
/// u = T^-1 (scale f + C v), f in double precision.
void solve_columns(SlabShape shape, const ColumnFactors<float>& t, const PlanFaces<float>& c,
                   const PlanValues<float>& v, const double* f, double scale, float* u);
/// u = T^-1 (C v), or T^-1 (f + C v) where f is given, in double precision.
void solve_columns(SlabShape shape, const ColumnFactors<double>& t, const PlanFaces<double>& c,
                   const PlanValues<double>& v, const double* f, double* u);

/// out = C v, or out += C v.
void gather_plan(SlabShape shape, const PlanFaces<float>& c, const PlanValues<float>& v, bool add,
                 float* out);

/// q = diagonal p - z neighbours' share - C v, in double precision.
void apply_columns(SlabShape shape, const double* diagonal, const double* up, const double* down,
                   const PlanFaces<double>& c, const PlanValues<double>& v, const double* p, double* q);

}  // namespace updraught
