// What is said otherwise than in a case file: case text that is laid over single keys of it before it is
// read, so that whatever a file may say can be varied.
#pragma once

#include <toml++/toml.h>

#include <string>
#include <string_view>
#include <vector>

#include "cases/text/source.h"

namespace updraught {

/// One key and what it says instead.
struct Override {
  std::string key;    ///< its path (key_path.h): "air_in[1].size"
  std::string value;  ///< as it stands in a case: "7", "\"12 mm\""; what is no TOML is taken as a text
  std::string typed;  ///< how messages call it; empty: "--set KEY=VALUE"

  /// Its name in messages.
  std::string called() const;
};

/// In the order in which they are laid.
using Overrides = std::vector<Override>;

/// A text, and a number of which no bit is lost, as they stand in a case; a number with a unit is a text.
std::string case_text(std::string_view text);
std::string case_text(double number, std::string_view unit = {});

/// Lets a key say something else than it does now; what said it before goes.
void put(Overrides& overrides, const std::string& key, const std::string& value);
/// The same for each of some keys.
void put(Overrides& overrides, const Overrides& others);
/// Takes away what is said of a key.
void drop(Overrides& overrides, std::string_view key);
/// What is said of a key; null where nothing is.
const Override* find(const Overrides& overrides, std::string_view key);

/// Lays overrides over a parsed case. Tables that are not there are made; an entry of a list must be there.
/// What cannot be laid becomes a mistake that names the override.
void lay_over(toml::table& top, const Overrides& overrides, Diagnostics& diagnostics);

}  // namespace updraught
