// Several cases side by side: the same measures, and differences taken setting by setting of the uncertain
// inputs, so that what is uncertain in both cases alike cancels.
#pragma once

#include <array>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "post/result/intervals.h"

namespace updraught {

/// One case of a comparison.
struct ComparedCase {
  Summary asked;                 ///< as asked, with its bands
  ThreeSettings quick;           ///< the same case in quick detail, in each setting
  ThreeSettings quick_no_gap;    ///< with the bed tight against the wall
  ThreeSettings quick_with_gap;  ///< with the gap that a shrinking bed leaves
  std::string air_paths;         ///< where its air enters and leaves, a sentence; may be empty
};

/// A value with what is known of its range.
struct RangedValue {
  double value = 0.0;
  std::optional<Band> band;
};

/// Another case less the first one.
struct Difference {
  double value = 0.0;
  Band band;                           ///< of the difference, over the settings
  std::array<double, 3> by_setting{};  ///< adverse, middle, favourable, laid on the asked values
  bool clear = false;  ///< same sign in every setting, and in every one larger than what counts
};

/// One measure of all cases.
struct MeasureRow {
  std::string key;    ///< as in the JSON of `run`
  std::string label;  ///< plain words
  std::string unit;
  double counts = 0.0;                  ///< a difference counts from here on
  std::vector<RangedValue> values;      ///< by case
  std::vector<Difference> differences;  ///< by case; the first one against itself: none, not clear
};

/// The aired share of all cases at one wall gap, in quick detail.
struct GapRow {
  double gap = 0.0;  ///< m
  std::vector<RangedValue> values;
  std::vector<Difference> differences;
};

/// A whole comparison.
struct Comparison {
  double day = 0.0;  ///< that the measures speak of
  std::vector<std::string> names;
  std::vector<MeasureRow> rows;
  std::vector<GapRow> gaps;
  std::vector<std::string> verdict;
};

/// Gap that a shrinking bed leaves at the wall, at which cases are compared beside no gap at all (m).
inline constexpr double compared_gap = 0.002;

/// The difference of two values, with the differences in the three settings (adverse, middle, favourable)
/// laid on it.
Difference difference(double asked, const std::array<double, 3>& by_setting, double counts);

/// Compares two or more cases; a wall gap that was not computed for all of them is left out. Throws
/// std::invalid_argument for fewer, or when one of them has no day to show.
Comparison compare(const std::vector<ComparedCase>& cases);

/// The table that people read, one measure a line.
std::string comparison_table(const Comparison& comparison);

/// The comparison without the cases themselves.
nlohmann::json to_json(const Comparison& comparison);

}  // namespace updraught
