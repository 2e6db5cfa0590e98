// Edges of cells over a length, finer towards its ends (theory 10.2).
#pragma once

#include <vector>

namespace updraught {

/// Edges of `n` cells over `length` (m). The first and last cell have the widths `first` and `last` (0:
/// free); between them the widths grow smoothly (geometric, same ratio from both ends), or are even where an
/// end cell is wider than an even one. Throws std::invalid_argument when they do not fit.
std::vector<double> graded_edges(double length, int n, double first, double last);

}  // namespace updraught
