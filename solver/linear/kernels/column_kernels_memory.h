// Memory of the solvers' arrays: few large pieces, touched first by whoever fills them.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <memory>

#include "mesh/parallel/rows.h"
#include "solver/linear/kernels/solver_memory.h"

namespace updraught {

/// Hands out zeroed memory from large pieces. A piece lives as long as any array in it.
class Arena {
 public:
  /// `bytes`: about what will be asked for, all in all. That much is the first piece; what goes beyond comes
  /// in small ones. They come from `memory` where it is given.
  explicit Arena(std::size_t bytes, SolverMemory* memory = nullptr)
      : source_(memory), piece_(std::max(bytes, least_piece)) {}

  /// `bytes` on a cache line. Large arrays are staggered: equal offsets of a dozen arrays would share the
  /// same few places of the cache.
  std::shared_ptr<void> take(std::size_t bytes, char*& first) {
    constexpr std::size_t large = 65536;
    std::size_t wanted = (bytes + line - 1) / line * line;
    const std::size_t shift = bytes > large ? static_cast<std::size_t>(count_++ % 21) * 3 * line : 0;
    wanted += shift;
    if (wanted > left_) {
      open_piece(std::max(wanted, piece_) + line);
      piece_ = std::max(piece_ / 16, least_piece);
    }
    first = next_ + shift;
    next_ += wanted;
    left_ -= wanted;
    clear(first, bytes);
    return memory_;
  }

 private:
  static constexpr std::size_t line = 64;
  static constexpr std::size_t least_piece = std::size_t{1} << 16;

  void open_piece(std::size_t bytes) {
    const MemoryPiece piece = source_ != nullptr ? source_->lend(bytes) : new_piece(bytes);
    memory_ = piece.memory;
    next_ = static_cast<char*>(memory_.get());
    const std::size_t skip = (line - reinterpret_cast<std::uintptr_t>(next_) % line) % line;
    next_ += skip;
    left_ = piece.bytes - skip;
  }

  /// By all threads: memory that was used before is cleared at the speed of both cores, and fresh memory is
  /// first touched where it will be worked on.
  static void clear(char* first, std::size_t bytes) {
    constexpr std::size_t stretch = std::size_t{1} << 17;
    for_rows(static_cast<int>((bytes + stretch - 1) / stretch), bytes / sizeof(double), [&](int n) {
      const std::size_t begin = static_cast<std::size_t>(n) * stretch;
      std::memset(first + begin, 0, std::min(stretch, bytes - begin));
    });
  }

  SolverMemory* source_;
  std::size_t piece_;  ///< bytes of the next one
  std::shared_ptr<void> memory_;
  char* next_ = nullptr;
  std::size_t left_ = 0;
  int count_ = 0;
};

/// A zeroed array of numbers that may be read a little beyond both ends.
template <class Number>
class Field {
 public:
  /// `fresh`: what the array holds is dropped even if the size stays.
  void reset(std::size_t count, bool fresh, Arena& arena) {
    if (memory_ && count == count_ && !fresh) return;
    constexpr std::size_t guard = 16;
    bytes_ = (count + 2 * guard) * sizeof(Number);
    char* first = nullptr;
    memory_ = arena.take(bytes_, first);
    data_ = reinterpret_cast<Number*>(first) + guard;
    count_ = count;
  }
  Number* data() { return data_; }
  const Number* data() const { return data_; }
  std::size_t size() const { return count_; }
  double bytes() const { return static_cast<double>(bytes_); }

 private:
  std::shared_ptr<void> memory_;
  Number* data_ = nullptr;
  std::size_t count_ = 0;
  std::size_t bytes_ = 0;
};

}  // namespace updraught
