// Ctrl-C: ends a computation after its present step, so that what it wrote stays valid.
#pragma once

#include <stdexcept>

namespace updraught {

/// The person asked to stop (Ctrl-C).
struct Stopped : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// From here on Ctrl-C (and a polite request to end) is noted instead of ending the program; a second one
/// ends it.
void note_requests_to_stop();

/// True once it was asked to stop.
bool stop_requested();

/// Ends this process when the one that started it ends, where the system can do that.
void end_with_parent();

}  // namespace updraught
