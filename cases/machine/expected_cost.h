// What a computation will ask of the machine, told before it begins.
#pragma once

#include <string>

#include "solver/problem/problem.h"

namespace updraught {

/// Time, memory and disk, from measured costs per cell (docs/solvers.md); right within a factor of about two.
struct ExpectedCost {
  double steps = 0.0;
  double pictures = 0.0;
  double seconds = 0.0;        ///< of computing, on `threads` cores
  double memory = 0.0;         ///< at the peak, pictures and all (bytes)
  double picture_bytes = 0.0;  ///< of all pictures, in memory and on the disk
};

/// Cells of the grid, without overflow.
double cell_count(const Cells& cells);

/// `threads`: cores that compute; from 1.
ExpectedCost expected_cost(const Problem& problem, int threads);

/// The finest count of cells of the same proportions that takes at most this memory (bytes) with the pictures
/// that the case asks for.
Cells cells_that_fit(const Problem& problem, double memory);

/// "less than a second", "about 40 seconds", "about 3 hours".
std::string told_time(double seconds);

/// "90 MB", "2.3 GB".
std::string told_bytes(double bytes);

}  // namespace updraught
