// Where a key of a case stands, as messages write it: "bin.width", "air_in[1].size" (lists counted from 1),
// "feedstocks.\"our scraps\".moisture".
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace updraught {

/// One step of a path: a key of a table, or an entry of a list.
struct KeyStep {
  std::string name;       ///< of the key; empty for an entry of a list
  std::size_t entry = 0;  ///< of the list, from 1; 0 for a key

  bool operator==(const KeyStep&) const = default;
};

using KeyPath = std::vector<KeyStep>;

/// A path from its text. Names that hold more than letters, digits, "_" and "-" stand in double quotes, in
/// which \" is a quote and \\ a stroke. Empty when the text is no path.
std::optional<KeyPath> key_path(std::string_view text);

/// The text of a path, quotes only where they are needed.
std::string to_text(const KeyPath& path);

/// The name of a key as it stands in a path.
std::string path_name(std::string_view name);

/// Whether `whole` is `part` or holds it.
bool holds(const KeyPath& whole, const KeyPath& part);

}  // namespace updraught
