// Names of columns and arrays that carry their unit, safe for any reader.
#pragma once

#include <string>
#include <string_view>

namespace updraught {

/// "temperature" and "°C" give "temperature_C"; "air_velocity" and "mm/s" give "air_velocity_mm_s".
/// Shares and counts ("1", "m3/m3", "index") get no ending; a word of the unit that the name ends with
/// already ("oxygen_dry" in
/// "% dry") is not said twice.
std::string with_unit(std::string_view name, std::string_view unit);

}  // namespace updraught
