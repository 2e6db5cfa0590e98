// Memory of the solvers' arrays: few large pieces, touched first by whoever fills them.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <memory>
#include <new>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace updraught {

/// Hands out zeroed memory from pieces large enough for huge pages, which cost far less to touch for the
/// first time. A piece lives as long as any array in it.
class Arena {
 public:
  /// For a solver of so many cells; 64 bytes per cell at a time is about what one needs.
  explicit Arena(std::size_t cells)
      : piece_(std::clamp<std::size_t>(64 * cells, std::size_t{1} << 16, std::size_t{1} << 28)) {}

  /// `bytes` on a cache line. Large arrays are staggered: equal offsets of a dozen arrays would share the
  /// same few places of the cache.
  std::shared_ptr<void> take(std::size_t bytes, char*& first) {
    constexpr std::size_t line = 64, large = 65536;
    std::size_t wanted = (bytes + line - 1) / line * line;
    const std::size_t shift = bytes > large ? static_cast<std::size_t>(count_++ % 21) * 3 * line : 0;
    wanted += shift;
    if (wanted > left_) open_piece(std::max(wanted, piece_));
    first = next_ + shift;
    next_ += wanted;
    left_ -= wanted;
    return memory_;
  }

 private:
  void open_piece(std::size_t bytes) {
    constexpr std::size_t line = 64;
    const std::size_t whole = bytes + line;
    memory_ = std::shared_ptr<void>(std::calloc(whole, 1), std::free);
    if (!memory_) throw std::bad_alloc();
    next_ = static_cast<char*>(memory_.get());
#if defined(__linux__)
    if (whole > (std::size_t{1} << 21)) {  // advice only: without huge pages all works as well
      const std::size_t skip = (4096 - reinterpret_cast<std::uintptr_t>(next_) % 4096) % 4096;
      madvise(next_ + skip, (whole - skip) / 4096 * 4096, MADV_HUGEPAGE);
    }
#endif
    next_ += (line - reinterpret_cast<std::uintptr_t>(next_) % line) % line;
    left_ = bytes;
  }

  std::size_t piece_;
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
