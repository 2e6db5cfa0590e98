// Summaries as JSON objects and back. Numbers that are not finite are written as null.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "post/result/summary.h"

namespace updraught {

/// The object that `run --json` prints. Keys carry their units. A headline number's band stands beside it as
/// NAME_low and NAME_high, null where it was not computed.
nlohmann::json to_json(const Summary& summary);

/// Reads such an object back, as a computation in another process prints it. Throws std::runtime_error when
/// it is not one.
Summary summary_from_json(const nlohmann::json& object);

/// An object as text for a file or a screen. Bytes that are no letters become U+FFFD; never throws for what
/// is in it. `indent` below 0: one line.
std::string json_text(const nlohmann::json& object, int indent = 2);

/// A number, or null when it is not finite.
nlohmann::json finite_or_null(double value);

}  // namespace updraught
