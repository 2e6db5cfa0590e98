// Factors of the columns' tridiagonal systems, free of cancellation.
#pragma once

#include "solver/linear/kernels/column_kernels_layout.h"

namespace updraught {

/// Pointers to what the cells of one colour in slab j pass on to their neighbours, row by row.
template <class Number>
struct Outflow {
  const Number* to_left;
  const Number* to_right;
  const Number* to_low;
  const Number* to_high;
  const Number* to_below;
  const Number* to_above;  ///< one row further up; not to be read in the top row

  Outflow(const ColumnFaces<Number>& faces, const ColumnLayout& layout, int colour, int j) {
    const std::size_t here = layout.slab_at(j);
    const int other = 1 - colour;
    to_left = faces.at(down_x, colour) + here;
    to_right = faces.at(up_x, other) + here + ColumnLayout::offset(j, colour);
    to_low = faces.at(down_y, colour) + here;
    to_high = faces.at(up_y, other) + here + layout.slab();
    to_below = faces.at(down_z, colour) + here;
    to_above = faces.at(up_z, colour) + here + layout.lanes;
  }
  double plan(std::size_t n) const {
    return (double(to_left[n]) + double(to_right[n])) + (double(to_low[n]) + double(to_high[n]));
  }
};

/// Inverse pivots of the columns of one colour in slab j. With s = pivot less what goes up, the recurrence
///   s_k = excess_k + plan outflow_k + down_k s_(k-1) / pivot_(k-1)
/// adds positive terms only (own derivation), so that weak ties survive strong vertical exchange. A pivot of
/// zero belongs to a closed cell or to a column tied to nothing: its unknown is held at 0. `scratch`: a row.
template <class Number, class Excess, class Inverse>
void factorise_columns(const ColumnFaces<Number>& faces, const ColumnLayout& layout, const Excess* excess,
                       int colour, int j, Inverse* inverse, double* scratch) {
  const Outflow<Number> out(faces, layout, colour, j);
  const auto lanes = static_cast<std::size_t>(layout.lanes);
  double* __restrict share = scratch;  // s over pivot of the row below
  for (std::size_t m = 0; m < lanes; ++m) share[m] = 0.0;
  for (int k = 0; k < layout.nz; ++k) {
    const std::size_t row = static_cast<std::size_t>(k) * lanes;
    const bool top = k + 1 == layout.nz;
    UPDRAUGHT_INDEPENDENT
    for (std::size_t m = 0; m < lanes; ++m) {
      const std::size_t n = row + m;
      const double s = double(excess[n]) + out.plan(n) + double(out.to_below[n]) * share[m];
      const double pivot = s + (top ? 0.0 : double(out.to_above[n]));
      const double inverse_pivot = pivot != 0.0 ? 1.0 / pivot : 0.0;
      share[m] = s * inverse_pivot;
      inverse[n] = static_cast<Inverse>(inverse_pivot);
    }
  }
}

}  // namespace updraught
