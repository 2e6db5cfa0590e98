// What ends a computation that makes no sense, before or while it runs.
#pragma once

#include <stdexcept>

namespace updraught {

/// The case cannot be computed; `what()` says why in plain words.
struct CannotCompute : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace updraught
