// How long each phase of a step takes.
#pragma once

#include <chrono>
#include <map>
#include <string>

namespace updraught {

/// Seconds spent by phase: "settle", "flow", "heat", "gases", "microbes", "finish".
using Phases = std::map<std::string, double>;

/// Adds up the time of one phase after the other.
class Laps {
 public:
  explicit Laps(Phases& seconds) : seconds_(seconds) {}
  ~Laps() { end(); }
  Laps(const Laps&) = delete;
  Laps& operator=(const Laps&) = delete;

  /// Ends the phase before, if any, and starts this one.
  void to(const char* phase) {
    end();
    phase_ = phase;
    start_ = std::chrono::steady_clock::now();
  }
  void end() {
    if (phase_ == nullptr) return;
    seconds_[phase_] += std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
    phase_ = nullptr;
  }

 private:
  Phases& seconds_;
  const char* phase_ = nullptr;
  std::chrono::steady_clock::time_point start_;
};

}  // namespace updraught
