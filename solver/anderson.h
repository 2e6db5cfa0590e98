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

  /// From the iterate u and its image g = G(u): the next iterate, written over g.
  void mix(const std::vector<double>& u, std::vector<double>& g);

 private:
  std::size_t depth_;
  std::size_t count_ = 0;
  // Single precision is enough for directions to mix; it halves the memory.
  std::vector<float> last_residual_, last_image_;
  std::vector<std::vector<float>> residual_change_, image_change_;
};

}  // namespace updraught
