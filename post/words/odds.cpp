#include "post/words/odds.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

std::string of_a_few(int count, int all) {
  if (count >= all) return all > 1 ? fmt::format("all {}", all) : "all";
  return count <= 0 ? fmt::format("none of {}", all) : fmt::format("{} of {}", count, all);
}

}  // namespace

std::string how_many(int count, int all) {
  if (all < 10) return of_a_few(count, all);
  if (count <= 0) return "none";
  if (count >= all) return "all";
  const double share = static_cast<double>(count) / all;
  if (share < 0.05) return "hardly any";
  if (share > 0.95) return "nearly all";
  return fmt::format("{} of 10", std::clamp(static_cast<int>(std::lround(10.0 * share)), 1, 9));
}

std::string odds(int count, int all) {
  return "in " + how_many(count, all);
}

std::string likely(const std::string& low, const std::string& high) {
  return low == high ? "" : fmt::format("likely {} to {}", low, high);
}

}  // namespace updraught
