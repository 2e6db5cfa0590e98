// Both programs of the bench keep the memory that a solve gives back, as updraught does: what is measured is
// the solvers, not how fast the system clears pages.
#pragma once

#include <cstdlib>

#if defined(__GLIBC__)
#include <malloc.h>
#endif

namespace updraught::bench {

inline void keep_memory() {
#if defined(__GLIBC__)
  mallopt(M_MMAP_THRESHOLD, 1 << 30);
  mallopt(M_TRIM_THRESHOLD, 1 << 30);
#endif
}

}  // namespace updraught::bench
