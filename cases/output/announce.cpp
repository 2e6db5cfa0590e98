#include "cases/output/announce.h"

#include <fmt/format.h>

#include <algorithm>

#include "cases/machine/expected_cost.h"
#include "cases/machine/machine.h"

namespace updraught {

Announced announced(const ReadCase& read, int threads, double bed_seconds) {
  Announced told;
  told.cores = threads > 0 ? std::min(threads, machine_cores()) : machine_cores();
  const ExpectedCost cost = expected_cost(read.problem, told.cores);
  told.seconds = cost.seconds;
  told.memory = cost.memory;
  told.picture_bytes = cost.picture_bytes;
  told.band_seconds = bed_seconds / std::max(told.cores, 1);
  return told;
}

std::string told_duration(const Announced& cost) {
  std::string text =
      fmt::format("{} on {} {}", told_time(cost.seconds), cost.cores, cost.cores == 1 ? "core" : "cores");
  if (cost.band_seconds <= 0.0) return text;
  return fmt::format("{}, plausible beds {} more", text, told_time(cost.band_seconds));
}

std::string told_memory(const Announced& cost) {
  return fmt::format("{} of memory, up to {} on the disk for pictures", told_bytes(cost.memory),
                     told_bytes(cost.picture_bytes));
}

}  // namespace updraught
