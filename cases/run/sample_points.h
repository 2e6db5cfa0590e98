// Where within the ranges of their uncertain inputs plausible beds lie: points of a cube, evenly strewn, the
// same ones for all designs of a comparison and all shares of a sweep.
#pragma once

#include <string>
#include <vector>

#include "cases/reader/read_case.h"

namespace updraught {

/// Points 1 to `count` of Sobol's sequence, which fills a cube of up to 40 sides evenly, each side shifted by
/// the seed; further sides are drawn by chance. The first points of a longer row are those of a shorter one.
/// Each holds one share (0..1) for every side.
std::vector<std::vector<double>> sample_points(std::size_t sides, int count, int seed);

/// A sample that cases share: inputs of one key have one share in all of them.
class Sample {
 public:
  /// The keys of these cases, each once, in the order in which they first come.
  Sample(const std::vector<const ReadCase*>& cases, int count, int seed);

  int count() const { return static_cast<int>(points_.size()); }
  int seed() const { return seed_; }

  /// The shares of a case's own inputs, in its order, at a point (from 1).
  std::vector<double> point(const ReadCase& read, int number) const;
  /// What the case is laid over with there.
  Overrides laid_at(const ReadCase& read, int number) const;

 private:
  int seed_;
  std::vector<std::string> keys_;
  std::vector<std::vector<double>> points_;
};

}  // namespace updraught
