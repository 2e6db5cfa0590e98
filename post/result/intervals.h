// Low and high of every headline number by day, over the plausible beds of a case.
#pragma once

#include <vector>

#include "post/result/summary.h"

namespace updraught {

/// Bands of every day of the asked result, from the plausible beds that have that day as well; empty on days
/// that fewer than two have.
std::vector<DayBands> bands_of(const Summary& asked, const std::vector<Summary>& beds);

/// Bands of no width, for a case that has no uncertain input: all plausible beds are the same one.
std::vector<DayBands> bands_without_width(const Summary& asked);

}  // namespace updraught
