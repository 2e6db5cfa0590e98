// Readings of a bucket test as people write them: "9kg/20L" loose and tapped, "8L/20L" of water poured in.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cases/text/quantity.h"

namespace updraught {

/// A bucket that was weighed.
struct WeighedBucket {
  double density = 0.0;          ///< wet (kg/m3)
  std::optional<double> volume;  ///< that the material filled (m3); empty where only a density is told
};

/// A bucket whose pores were filled with water.
struct PouredBucket {
  double share = 0.0;            ///< water over what the material filled (m3/m3)
  std::optional<double> volume;  ///< that the material filled (m3); empty where only a share is told
  bool tapped = false;           ///< poured into the tapped bucket, not into the loose one
};

/// The readings that are there, or what is wrong with them: "--loose: ..." in plain words.
struct BucketReadings {
  std::optional<WeighedBucket> loose;
  std::optional<WeighedBucket> tapped;
  std::optional<PouredBucket> poured;
  std::vector<std::string> problems;

  bool any() const { return loose || tapped || poured; }
};

/// What was typed; empty texts are readings that were not taken.
struct BucketTexts {
  std::string loose;
  std::string tapped;
  std::string poured;
};

/// Reads them. `bucket` (m3) makes "2 buckets" a volume; `airless` is the density of the same matter without
/// any air (kg/m3), above which a reading must be wrong. Water belongs to the bucket whose volume it names:
/// the loose one, else the tapped one; where it names neither, to the loose one unless that was not weighed
/// and the tapped one was.
BucketReadings read_bucket(const BucketTexts& texts, double bucket, double airless, const Units& units);

}  // namespace updraught
