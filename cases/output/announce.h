// What a computation will take, told before it begins.
#pragma once

#include <string>

#include "cases/reader/read_case.h"

namespace updraught {

/// Time (s) and memory (bytes) of a case on so many cores (0: all), with plausible beds that take so long on
/// one core (s; 0: none).
struct Announced {
  double seconds = 0.0;
  double band_seconds = 0.0;  ///< of the plausible beds; 0: none
  double memory = 0.0;
  double picture_bytes = 0.0;
  int cores = 1;
};
Announced announced(const ReadCase& read, int threads, double bed_seconds);

/// "about 20 seconds on 2 cores, plausible beds about 10 seconds more".
std::string told_duration(const Announced& cost);

/// "82 MB of memory, up to 32 MB on the disk for pictures".
std::string told_memory(const Announced& cost);

}  // namespace updraught
