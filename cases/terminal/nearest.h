// The known word that a mistyped one was probably meant to be.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace updraught {

/// Number of single-letter slips (a letter too many, too few, wrong, or two neighbours swapped) between two
/// words; upper and lower case count as the same.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The candidate closest to `word`, if it is close enough to be a slip (a third of the letters at most) or if
/// one of the two holds the other (four letters at least). Ties go to the first candidate.
std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace updraught
