// Anderson mixing of a fixed-point iteration u = G(u) (theory 9.5; Anderson 1965, Walker and Ni 2011).
#pragma once

#include <cstddef>
#include <vector>

namespace updraught {

/// Keeps the last few iterates and proposes the next. Same bits for any number of threads.
class Anderson {
 public:
  explicit Anderson(int depth = 3) : depth_(static_cast<std::size_t>(depth)) {}

  /// Forgets the history; call at the start of every step.
  void restart() { count_ = 0; }

  /// Takes down the iterate u that a pass starts from.
  void begin(const std::vector<double>& u);
  /// The iterate that the present pass started from, in single precision.
  const std::vector<float>& start() const { return before(0).iterate; }
  /// From the image g = G(u) of that iterate: the next iterate, written over g.
  void mix(std::vector<double>& g);

 private:
  /// An iterate and its residual G(u) - u; in single precision, which is enough for directions to mix and
  /// halves the memory.
  struct Pass {
    std::vector<float> iterate, residual;
  };
  /// By how much the residual of the n-th unknown changed from one pass to the next.
  static double residual_change(const Pass& a, const Pass& b, std::size_t n) {
    return static_cast<double>(b.residual[n]) - static_cast<double>(a.residual[n]);
  }
  /// The same of its image.
  static double image_change(const Pass& a, const Pass& b, std::size_t n) {
    return static_cast<double>(b.iterate[n]) - static_cast<double>(a.iterate[n]) + residual_change(a, b, n);
  }

  const Pass& before(std::size_t passes) const { return passes_[(count_ - 1 - passes) % passes_.size()]; }

  std::size_t depth_;
  std::size_t count_ = 0;     ///< passes begun since the restart
  std::vector<Pass> passes_;  ///< a ring of depth + 1
};

}  // namespace updraught
