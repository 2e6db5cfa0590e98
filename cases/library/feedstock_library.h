// The library of feedstocks: values with their ranges, sources and marks, read from a TOML file.
#pragma once

#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "solver/material/feedstock.h"

namespace updraught {

/// A value with its range and where it comes from.
struct Ranged {
  double value = 0.0;  ///< SI units
  double low = 0.0;    ///< SI units
  double high = 0.0;   ///< SI units
  std::string source;  ///< in words
  std::string mark;    ///< R read, M from memory, E exact or derived, C our choice or common practice
};

/// What a key of a feedstock means and what values it may take.
struct FeedstockKey {
  std::string name;
  std::string unit;    ///< unit of a bare number, as udunits2 reads it; "1" for a share
  double to_si = 1.0;  ///< SI value of one such unit
  double least = 0.0;  ///< physical limits, SI units
  double most = 0.0;
  enum class For { all, soft, chips } kind = For::all;  ///< which materials need it
};

/// Every key that a feedstock knows, in the order in which they are shown.
const std::vector<FeedstockKey>& feedstock_keys();

/// One material of the library.
struct LibraryEntry {
  std::string name;
  std::string kind;  ///< class of materials whose composition it takes, such as "food"
  bool chips = false;
  Nature nature;     ///< its own marks and those of its class
  std::string note;  ///< what its numbers leave out, a sentence; may be empty
  std::vector<std::string> aliases;
  std::map<std::string, Ranged> values;  ///< by key, its own and those of its class
  Feedstock feedstock;                   ///< middle values
  double activity = 0.02;              ///< starting activity of the all-round microbes that it brings (0..1)
  double heat_loving_activity = 0.02;  ///< the same of those that love heat
};

/// What is wrong with a library file, with file and line.
struct LibraryError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Values (SI, by key) laid over an entry, made consistent: chips have their loose density from basic
/// density, loose porosity and moisture, or their loose porosity from a loose density given here; their Ergun
/// size follows the length. Throws std::invalid_argument for an unknown key, a value outside its physical
/// limits, or contradicting values.
Feedstock to_feedstock(const LibraryEntry& entry, const std::map<std::string, double>& overrides = {});

/// The materials by name.
struct FeedstockLibrary {
  std::vector<LibraryEntry> entries;

  /// By name or alias; case, hyphens, commas, brackets and repeated spaces do not count. Null if there is
  /// none.
  const LibraryEntry* find(std::string_view name) const;
  /// The known name or alias closest to a misspelt one.
  std::optional<std::string> nearest_name(std::string_view name) const;
};

/// Reads a library. Throws LibraryError.
FeedstockLibrary load_feedstock_library(const std::string& path);

}  // namespace updraught
