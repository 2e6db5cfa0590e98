// Counts out of a sample of plausible beds, as people say them.
#pragma once

#include <string>
#include <vector>

#include "post/words/interval.h"

namespace updraught {

/// "in all", "in nearly all", "in 7 of 10", "in hardly any", "in none" (of so many); tenths, since a sample
/// of some dozens knows no more. Of fewer than ten as they are: "in 3 of 4", "in all 4", "in none of 4".
std::string odds(int count, int all);

/// The same as the subject of a sentence: "all", "nearly all", "7 of 10", "hardly any", "none".
std::string how_many(int count, int all);

/// "likely 3 to 12 %" of two texts; empty where both are the same.
std::string likely(const std::string& low, const std::string& high);

}  // namespace updraught
