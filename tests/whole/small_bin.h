// A small round bin with an open base and a gap under the lid: a second to compute in quick detail.
#pragma once

#include <fmt/format.h>

#include <string>

namespace updraught::whole {

/// `days` as it stands in a case.
inline std::string small_bin(const std::string& days) {
  constexpr const char* rest = R"CASE(
question = "Does it breathe?"
bin      = { shape = "round", width = "0.5 m", height = "0.8 m" }
walls    = [ { of = "timber", thick = "18 mm" } ]
base     = { kind = "raised", height = "10 cm", inlet = "40 cm2" }
air_in   = [ { where = "base", kind = "mesh", open = 0.5 } ]
air_out  = [ { where = "lid", kind = "gap", size = "5 mm" } ]
fill     = [ { what = "vegetable scraps (raw)", buckets = 1 }, { what = "woodchip, coarse", buckets = 2 } ]
depth    = "0.5 m"
outside  = { temperature = "10 degC" }
detail   = "quick"
)CASE";
  return fmt::format("{}days = {}\n", rest, days);
}

}  // namespace updraught::whole
