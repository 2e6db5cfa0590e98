#include "solver/linear/kernels/solver_memory.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <new>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace updraught {

MemoryPiece new_piece(std::size_t bytes) {
  MemoryPiece piece{std::shared_ptr<void>(std::malloc(bytes), std::free), bytes};
  if (!piece.memory) throw std::bad_alloc();
#if defined(__linux__)
  constexpr std::size_t page = 4096, huge = std::size_t{1} << 21;
  if (bytes > huge) {  // advice only: without huge pages all works as well
    auto* const start = static_cast<char*>(piece.memory.get());
    const std::size_t skip = (page - reinterpret_cast<std::uintptr_t>(start) % page) % page;
    madvise(start + skip, (bytes - skip) / page * page, MADV_HUGEPAGE);
  }
#endif
  return piece;
}

MemoryPiece SolverMemory::lend(std::size_t bytes) {
  auto best = pieces_.end(), largest = pieces_.end();
  for (auto piece = pieces_.begin(); piece != pieces_.end(); ++piece) {
    if (piece->memory.use_count() > 1) continue;
    if (piece->bytes >= bytes && (best == pieces_.end() || piece->bytes < best->bytes)) best = piece;
    if (largest == pieces_.end() || piece->bytes > largest->bytes) largest = piece;
  }
  if (best != pieces_.end()) return *best;
  if (largest != pieces_.end()) pieces_.erase(largest);
  pieces_.push_back(new_piece(bytes));
  return pieces_.back();
}

}  // namespace updraught
