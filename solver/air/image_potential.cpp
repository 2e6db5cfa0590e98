#include "solver/air/image_potential.h"

#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;

double sum(const std::vector<double>& widths) {
  return std::accumulate(widths.begin(), widths.end(), 0.0);
}

/// Mirror images that stand for those of a closed duct: so many to each side, where both ends are closed.
constexpr int reflections = 12;

/// A mode that has decayed by exp of this is none.
constexpr double spent = 18.0;
/// Modes along a side up to which they are cheaper than images.
constexpr int most_modes = 40;

/// Positions of the source (first) and of its mirror images in one direction.
std::vector<double> images(double source, bool low, bool high, double end) {
  std::vector<double> positions{source};
  if (low && high) {
    positions.push_back(-source);
    for (int n = 1; n <= reflections; ++n)
      for (const double shift : {2.0 * n * end, -2.0 * n * end})
        for (const double image : {source, -source}) positions.push_back(image + shift);
    return positions;
  }
  if (low) positions.push_back(-source);
  if (high) positions.push_back(2.0 * end - source);
  return positions;
}

}  // namespace

ImagePotential::ImagePotential(const WallPatch& p)
    : line_(p.u.size() == 1),
      duct_(!line_ && p.closed_u_low && p.closed_u_high && p.closed_v_low && p.closed_v_high),
      width_u_(sum(p.u)),
      width_v_(sum(p.v)),
      strip_(line_ && p.closed_v_low && p.closed_v_high ? width_v_ : 0.0),
      u_(images(p.hole_u, p.closed_u_low, p.closed_u_high, width_u_)),
      v_(images(p.hole_v, p.closed_v_low, p.closed_v_high, width_v_)) {
  if (duct_) count_rest();
}

double ImagePotential::operator()(double u, double v, double n) const {
  if (strip_ > 0.0) return in_strip(v - v_[0], n) + in_strip(v + v_[0], n);
  const double total = rest(u, v, n);
  double listed = 0.0;
  for (double sv : v_) {
    const double across = (v - sv) * (v - sv) + n * n;
    if (line_) {
      listed -= std::log(across);
      continue;
    }
    for (double su : u_) listed += 1.0 / std::sqrt((u - su) * (u - su) + across);
  }
  return total + listed / (2.0 * pi);
}

double ImagePotential::of_images(double radius) const {
  if (strip_ > 0.0) return in_strip(2.0 * v_[0], 0.0) - std::log(pi / strip_) / pi;
  double total = rest(u_[0], v_[0], 0.0);
  for (std::size_t a = 0; a < u_.size(); ++a)
    for (std::size_t b = 0; b < v_.size(); ++b) {
      if (a + b == 0 || (line_ && a > 0)) continue;
      const double r = std::hypot(line_ ? 0.0 : u_[a] - u_[0], v_[b] - v_[0]);
      const double spread = radius / r;
      total += line_ ? -std::log(r) / pi : (1.0 + spread * spread / 3.0) / (2.0 * pi * r);
    }
  return total;
}

/// A line source and its images at every second width of a strip between closed walls; closed form.
double ImagePotential::in_strip(double v, double n) const {
  return -std::log(2.0 * (std::cosh(pi * n / strip_) - std::cos(pi * v / strip_))) / (2.0 * pi);
}

/// The images of a closed duct that are not in the lists, as a sheet of the same strength outside the
/// rectangle that the listed ones cover: to second order in distance over its size. Without them a duct's
/// even flow falls short, and a hole of half the width resists 7 % too little.
void ImagePotential::count_rest() {
  const double p = (2 * reflections + 1) * width_u_;
  const double q = (2 * reflections + 1) * width_v_;
  const double strength = 1.0 / (width_u_ * width_v_) / (4.0 * pi);
  rest_u_ = strength * 4.0 * q / (p * std::hypot(p, q));
  rest_v_ = strength * 4.0 * p / (q * std::hypot(p, q));
}

double ImagePotential::rest(double u, double v, double n) const {
  return rest_u_ * (u * u - n * n) + rest_v_ * (v * v - n * n);
}

DepthPotential::DepthPotential(const ImagePotential& images, double depth) : images_(&images), depth_(depth) {
  if (!images.duct_) return;
  const double u = images.width_u_;
  const double v = images.width_v_;
  const int modes_u = static_cast<int>(spent * u / (pi * depth)) + 1;
  const int modes_v = static_cast<int>(spent * v / (pi * depth)) + 1;
  if (modes_u > most_modes || modes_v > most_modes) return;
  modes_v_ = modes_v;
  // Unit flow at the source, expanded in the cosines of the section: each decays inward as exp(-k n), by a
  // strength of 1/k; the even part is a slope, which at one depth is a constant.
  strength_.assign(at(modes_u * modes_v), 0.0);
  for (int p = 0; p < modes_u; ++p)
    for (int q = p == 0 ? 1 : 0; q < modes_v; ++q) {
      const double k = pi * std::hypot(p / u, q / v);
      const double twice = (p > 0 ? 2.0 : 1.0) * (q > 0 ? 2.0 : 1.0);
      strength_[at(p * modes_v + q)] = twice * std::cos(p * pi * images.u_[0] / u) *
                                       std::cos(q * pi * images.v_[0] / v) * std::exp(-k * depth) /
                                       (k * u * v);
    }
  const double middle_u = 0.5 * u;
  const double middle_v = 0.5 * v;
  level_ = images(middle_u, middle_v, depth) - (*this)(middle_u, middle_v);
}

double DepthPotential::operator()(double u, double v) const {
  if (strength_.empty()) return (*images_)(u, v, depth_);
  std::array<double, most_modes> along_v;
  const auto modes_v = at(modes_v_);
  for (std::size_t q = 0; q < modes_v; ++q) along_v[q] = std::cos(double(q) * pi * v / images_->width_v_);
  double total = level_;
  for (std::size_t p = 0; p * modes_v < strength_.size(); ++p) {
    const double* row = &strength_[p * modes_v];
    total += std::cos(double(p) * pi * u / images_->width_u_) *
             std::inner_product(row, row + modes_v, along_v.begin(), 0.0);
  }
  return total;
}

}  // namespace updraught
