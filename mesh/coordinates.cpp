#include "mesh/coordinates.h"

#include <algorithm>
#include <numbers>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

double around(double radius) {
  return 2.0 * std::numbers::pi * radius;
}

double width_of(const std::vector<double>& edges, int n) {
  return edges[at(n) + 1] - edges[at(n)];
}

double middle_of(const std::vector<double>& edges, int n) {
  return 0.5 * (edges[at(n)] + edges[at(n) + 1]);
}

}  // namespace

const std::vector<Side>& sides_of(Mode mode) {
  static const std::vector<Side> all{Side::left, Side::right, Side::front, Side::back};
  static const std::vector<Side> ends{Side::left, Side::right};
  static const std::vector<Side> outer{Side::right};
  return mode == Mode::whole ? all : mode == Mode::slice ? ends : outer;
}

double plan_area_of(Mode mode, double width, double length) {
  return mode == Mode::rings ? 0.25 * std::numbers::pi * width * width : width * length;
}

double perimeter_of(Mode mode, double width, double length) {
  if (mode == Mode::rings) return std::numbers::pi * width;
  return mode == Mode::slice ? 2.0 * length : 2.0 * (width + length);
}

std::vector<Side> Coordinates::walls() const {
  std::vector<Side> all = sides_of(mode_);
  if (mirrored_) all.pop_back();
  return all;
}

double Coordinates::column_area(int i, int j) const {
  if (mode_ == Mode::rings) return std::numbers::pi * (x_[at(i) + 1] * x_[at(i) + 1] - x_[at(i)] * x_[at(i)]);
  return width_of(x_, i) * width_of(y_, j);
}

double Coordinates::face_across_y(int i) const {
  return width_of(x_, i);
}

double Coordinates::wall_length(Side side) const {
  if (mode_ == Mode::rings) return around(x_.back());
  return along_wall(side).back() - along_wall(side).front();
}

const std::vector<double>& Coordinates::along_wall(Side side) const {
  return side == Side::left || side == Side::right ? y_ : x_;
}

std::vector<double> Coordinates::along_whole_wall(Side side) const {
  std::vector<double> edges = along_wall(side);
  if (!mirrored_ || &along_wall(side) == &x_) return edges;
  const double end = 2.0 * edges.back();
  for (std::size_t n = edges.size() - 1; n > 0; --n) edges.push_back(end - edges[n - 1]);
  return edges;
}

double Coordinates::wall_column(Side side, int n) const {
  return mode_ == Mode::rings ? around(x_.back()) : width_of(along_wall(side), n);
}

double Coordinates::to_wall(int i, int j) const {
  const double right = x_.back() - middle_of(x_, i);
  if (mode_ == Mode::rings) return right;
  const double across = std::min(right, middle_of(x_, i));
  if (mode_ == Mode::slice) return across;
  if (mirrored_) return std::min(across, middle_of(y_, j));
  return std::min(across, std::min(middle_of(y_, j), y_.back() - middle_of(y_, j)));
}

}  // namespace updraught
