// What the readings of a bucket test say beside the library's mix, and which keys of a case take them.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cases/library/bucket_readings.h"
#include "cases/library/recipe_text.h"

namespace updraught {

/// A line of a case that takes a reading.
struct BucketKey {
  std::string line;  ///< TOML, as it goes into the case
  std::string why;   ///< what it does there, a sentence
};

struct BucketReport {
  std::vector<std::string> sentences;  ///< the answer first
  std::vector<BucketKey> keys;
  nlohmann::json numbers;  ///< measured beside the library's
};

/// Compares readings with the mix that the library makes of the recipe. `bed` is the depth of the bed (m).
BucketReport report_bucket(const std::vector<TextPortion>& recipe, const BucketReadings& readings,
                           double bed);

/// A depth in words: "60 cm", "1.2 m".
std::string depth_words(double depth);

/// The recipe's portions with the library's values.
std::vector<Portion> portions_of(const std::vector<TextPortion>& recipe);

}  // namespace updraught
