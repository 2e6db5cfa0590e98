// What can be computed but is hardly meant: told as doubts, so that a slip of the pen does not pass unseen.
#include <fmt/format.h>

#include <algorithm>

#include "cases/reader/whole_case.h"

namespace updraught {

namespace {

using Where = Opening::Where;

// Bins and beds of gardens, schools and small plants; our choice.
constexpr double thin_in_bin = 0.1;  // of the bin's height
constexpr double thin_bed = 0.03;    // m
constexpr double deep_bed = 3.0;     // m
constexpr double wide_bin = 5.0;     // m
constexpr double narrow_bin = 0.15;  // m

std::string metres(double length) {
  return length < 0.00995 ? fmt::format("{:.2g} mm", 1000.0 * length)
         : length < 1.0   ? fmt::format("{:.3g} cm", 100.0 * length)
                          : fmt::format("{:.3g} m", length);
}

void doubt_bin(const Table& top, const BinShape& bin) {
  const double widest = std::max(bin.width, bin.length);
  const double narrowest = std::min(bin.width, bin.length);
  if (widest > wide_bin)
    top.doubt("bin", fmt::format("The bin is {} wide.", metres(widest)),
              "Is that meant? Most are between 30 cm and 2 m wide.");
  if (narrowest < narrow_bin)
    top.doubt("bin", fmt::format("The bin is only {} wide.", metres(narrowest)),
              "Is that meant? Most are between 30 cm and 2 m wide.");
  if (bin.height > deep_bed)
    top.doubt("bin", fmt::format("The bin is {} high.", metres(bin.height)),
              "Is that meant? Most are between 50 cm and 2 m high.");
}

/// A lid that closes the bin while nothing leads out above the bed.
void doubt_lid(const Table& top, const Problem& problem) {
  const auto& openings = problem.openings;
  const bool through_lid =
      std::any_of(openings.begin(), openings.end(), [](const Opening& o) { return o.where == Where::lid; });
  if (problem.lid.kind != Lid::Kind::closed || through_lid) return;
  const bool none = openings.empty();
  top.doubt(top.has("lid")       ? "lid"
            : top.has("air_out") ? "air_out"
                                 : "bin",
            none ? "Nothing lets air in or out: there is no opening at all and the lid is closed."
                 : "The lid is closed and nothing leads out through it: air cannot leave above the bed.",
            "Add { where = \"lid\", kind = \"gap\", size = \"5 mm\" } to air_out, or write lid = \"none\".");
}

}  // namespace

void doubt_bed_height(const Table& top, double height, double bin_height) {
  const char* key = top.has("depth") ? "depth" : top.has("layers") ? "layers" : "fill";
  if (height < thin_bed || height < thin_in_bin * bin_height)
    top.doubt(key,
              fmt::format("The bed is only {} deep, the bin is {} high.", metres(height), metres(bin_height)),
              "Is that meant? Fill in more, or say how deep with depth = \"0.6 m\".");
  if (height > deep_bed)
    top.doubt(key, fmt::format("The bed is {} deep.", metres(height)),
              "Is that meant? What is computed was checked on beds up to 1.5 m deep.");
}

void check_plausible(const Table& top, const ParsedCase& parsed_case) {
  // Textbook problems may be of any size and need no air.
  if (parsed_case.problem.batches.empty()) return;
  doubt_bin(top, parsed_case.problem.bin);
  doubt_lid(top, parsed_case.problem);
}

}  // namespace updraught
