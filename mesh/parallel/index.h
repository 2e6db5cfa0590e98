// Counts and places are int in the code, as loops over cells may run down; containers want std::size_t.
#pragma once

#include <cstddef>

namespace updraught {

/// An index of a container. `n` must not be negative.
constexpr std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

}  // namespace updraught
