// How space is counted in plan: the only place that knows what rings, a slice and a whole box differ in
// (theory 10.1). Lengths in metres.
#pragma once

#include <cstddef>
#include <numbers>
#include <vector>

namespace updraught {

/// How space is counted: all three directions, rings around an axis, or one row of columns of a long heap.
enum class Mode { whole, rings, slice };

/// The outer sides of a bed. Rings have one side, `right` (the wall at the largest radius).
enum class Side { left, right, front, back };

/// Whether x is a radius, so that a bed goes round an axis and what stands at one angle stands at all.
constexpr bool around_axis(Mode mode) {
  return mode == Mode::rings;
}

/// Whether both directions of the plan are counted, so that a thing can have its own place along a wall.
constexpr bool counts_length(Mode mode) {
  return mode == Mode::whole;
}

/// Whether the bed is a piece of a longer one that goes on in both directions of y.
constexpr bool piece_of_longer(Mode mode) {
  return mode == Mode::slice;
}

/// The walls of a bed, in the order of Side.
const std::vector<Side>& sides_of(Mode mode);

/// Plan area of a bed that is `width` wide (rings: its diameter) and `length` long (m2).
double plan_area_of(Mode mode, double width, double length);

/// Length of all walls in plan of a bed of that size (m).
double perimeter_of(Mode mode, double width, double length);

/// Lengths and areas in plan, from the edges of the columns. Keeps references: lives no longer than they do.
class Coordinates {
 public:
  Coordinates(Mode mode, const std::vector<double>& x, const std::vector<double>& y, bool mirrored = false)
      : mode_(mode), x_(x), y_(y), mirrored_(mirrored) {}

  /// The walls that are counted, in the order of Side: all but the back one where the bed is mirrored.
  std::vector<Side> walls() const;

  /// Full plan area of a column (m2).
  double column_area(int i, int j) const;
  /// Length in plan of the face at the edge x[i] of the columns j (m).
  double face_across_x(int i, int j) const {
    if (mode_ == Mode::rings) return 2.0 * std::numbers::pi * x_[std::size_t(i)];
    return y_[std::size_t(j) + 1] - y_[std::size_t(j)];
  }
  /// Length in plan of the faces of the columns i across y (m).
  double face_across_y(int i) const;
  /// Length of a wall, as far as it is counted (m).
  double wall_length(Side side) const;
  /// Edges of the columns along a wall, from low to high (m), as far as it is counted.
  const std::vector<double>& along_wall(Side side) const;
  /// The same of the whole wall, with the columns of the other half where the bed is mirrored.
  std::vector<double> along_whole_wall(Side side) const;
  /// Length of the wall's n-th column (m).
  double wall_column(Side side, int n) const;
  /// From the middle of a column to the nearest wall (m).
  double to_wall(int i, int j) const;

 private:
  Mode mode_;
  const std::vector<double>& x_;
  const std::vector<double>& y_;
  bool mirrored_;
};

}  // namespace updraught
