// Memory that several solvers use one after another.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

namespace updraught {

/// A large piece of memory, not cleared, and how many bytes it holds. It is free again when nobody shares it.
struct MemoryPiece {
  std::shared_ptr<void> memory;
  std::size_t bytes = 0;
};

/// A piece of its own, fit for huge pages. Throws std::bad_alloc.
MemoryPiece new_piece(std::size_t bytes);

/// Keeps the pieces that a solver gives back for the next one: solvers that are made, used and dropped in
/// turn then need no more memory than the largest of them, and none is cleared by the system twice. Not for
/// solvers that live in several threads.
class SolverMemory {
 public:
  /// The smallest free piece that is large enough; where there is none, the largest free one is given up for
  /// a new one. Throws std::bad_alloc.
  MemoryPiece lend(std::size_t bytes);

 private:
  std::vector<MemoryPiece> pieces_;
};

}  // namespace updraught
