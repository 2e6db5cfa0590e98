#include "cases/machine/machine.h"

#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <thread>

namespace updraught {

namespace {

/// The limit of the group of processes that this one belongs to (bytes); 0: none.
double group_limit() {
  for (const char* file : {"/sys/fs/cgroup/memory.max", "/sys/fs/cgroup/memory/memory.limit_in_bytes"}) {
    std::ifstream stream(file);
    double bytes = 0.0;
    if (stream >> bytes && bytes > 0.0) return bytes;
  }
  return 0.0;
}

}  // namespace

double machine_memory() {
  const long pages = sysconf(_SC_PHYS_PAGES);
  const long page = sysconf(_SC_PAGESIZE);
  if (pages <= 0 || page <= 0) return 0.0;
  const double all = static_cast<double>(pages) * static_cast<double>(page);
  const double limit = group_limit();
  return limit > 0.0 ? std::min(all, limit) : all;
}

int machine_cores() {
  return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

}  // namespace updraught
