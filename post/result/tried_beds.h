// The plausible beds beside a case: the same case with its uncertain inputs anywhere within their ranges, all
// of them at once, as a sample of points that comparisons and sweeps share (theory 8.4).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "post/result/course.h"
#include "post/words/interval.h"

namespace updraught {

/// One plausible bed.
struct TriedBed {
  int number = 0;             ///< of its point in the sample, from 1: equal numbers of one seed are one point
  std::vector<double> point;  ///< share (0..1) of each input's distribution, by TriedBeds::inputs
  Course course;
};

/// Those of a case that could be computed.
struct TriedBeds {
  int seed = 0;
  std::vector<std::string> inputs;  ///< keys of the uncertain inputs
  std::vector<TriedBed> beds;       ///< by number
};

/// The bed of a number; null where it could not be computed.
const TriedBed* bed_of(const TriedBeds& tried, int number);

/// Shares of a sample that lie below its low and its high: eight of ten plausible beds are between.
inline constexpr double band_low = 0.1;
inline constexpr double band_high = 0.9;

/// The value below which this share (0..1) of the values lies, on straight lines between them; infinities
/// stay infinities. Throws std::invalid_argument without values.
double quantile(std::vector<double> values, double share);

/// Low and high (10 and 90 %) of some values. Throws std::invalid_argument without any.
Band band_of(const std::vector<double>& values);

/// How strongly one uncertain input and a measure go together.
struct Influence {
  std::string key;           ///< of the input
  double correlation = 0.0;  ///< of ranks (Spearman): -1 to 1
};

/// Ranks that go together less than this are not worth a name; our choice.
inline constexpr double telling_correlation = 0.3;

/// Influences of all inputs on a measure, given by bed, the strongest first; empty where fewer than eight
/// beds differ. Throws std::invalid_argument where values and beds differ in number.
std::vector<Influence> influences(const TriedBeds& tried, const std::vector<double>& values);

}  // namespace updraught
