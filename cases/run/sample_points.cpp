#include "cases/run/sample_points.h"

#include <gsl/gsl_qrng.h>

#include <algorithm>
#include <memory>
#include <random>
#include <stdexcept>

#include "cases/reader/uncertain_inputs.h"

namespace updraught {

namespace {

constexpr std::size_t sobol_sides = 40;

/// From 0 to 1; the generator's numbers are the same everywhere, unlike those of the library's distributions.
double uniform(std::mt19937_64& random) {
  return static_cast<double>(random() >> 11) * 0x1p-53;
}

}  // namespace

std::vector<std::vector<double>> sample_points(std::size_t sides, int count, int seed) {
  std::vector<std::vector<double>> points(static_cast<std::size_t>(count), std::vector<double>(sides));
  if (sides == 0) return points;
  const std::size_t even = std::min(sides, sobol_sides);
  const std::unique_ptr<gsl_qrng, void (*)(gsl_qrng*)> sequence(
      gsl_qrng_alloc(gsl_qrng_sobol, static_cast<unsigned>(even)), gsl_qrng_free);
  if (!sequence) throw std::bad_alloc();
  std::mt19937_64 random(static_cast<std::uint64_t>(seed));
  std::vector<double> shift(even);
  for (double& one : shift) one = uniform(random);
  for (std::vector<double>& point : points) {
    gsl_qrng_get(sequence.get(), point.data());
    for (std::size_t side = 0; side < sides; ++side) {
      // Sequences of more sides leave most of a cube empty for thousands of points; chance does not.
      if (side >= even) {
        point[side] = uniform(random);
        continue;
      }
      point[side] += shift[side];
      if (point[side] >= 1.0) point[side] -= 1.0;
    }
  }
  return points;
}

Sample::Sample(const std::vector<const ReadCase*>& cases, int count, int seed) : seed_(seed) {
  for (const ReadCase* read : cases)
    for (const UncertainInput& input : read->problem.uncertain)
      if (std::find(keys_.begin(), keys_.end(), input.key) == keys_.end()) keys_.push_back(input.key);
  points_ = sample_points(keys_.size(), count, seed);
}

std::vector<double> Sample::point(const ReadCase& read, int number) const {
  const std::vector<double>& all = points_.at(static_cast<std::size_t>(number - 1));
  std::vector<double> out;
  for (const UncertainInput& input : read.problem.uncertain) {
    const auto key = std::find(keys_.begin(), keys_.end(), input.key);
    if (key == keys_.end()) throw std::invalid_argument("the sample knows nothing of " + input.key);
    out.push_back(all[static_cast<std::size_t>(key - keys_.begin())]);
  }
  return out;
}

Overrides Sample::laid_at(const ReadCase& read, int number) const {
  return sample(read.problem.uncertain, point(read, number));
}

}  // namespace updraught
