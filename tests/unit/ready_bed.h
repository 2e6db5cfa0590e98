// A bed from the text of a case file, laid and ready for a time step.
#pragma once

#include <gtest/gtest.h>

#include <stdexcept>
#include <string>
#include <utility>

#include "cases/reader/read_case.h"
#include "mesh/parallel/index.h"
#include "solver/step/carrier.h"
#include "solver/step/step.h"

namespace updraught::step_tests {

inline Problem problem_of(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text, "box.toml");
  if (!outcome.read) throw std::runtime_error(to_text(outcome.mistakes));
  return outcome.read->problem;
}

struct Ready : Laid {
  StepWork work;

  explicit Ready(const Problem& problem) : Ready(lay_bed(problem)) {}
  explicit Ready(Laid laid) : Laid(std::move(laid)) {
    compute_properties(bed, state, work.frame.now);
    fill_with_air(bed, work.frame.now, state);
  }

  /// Takes steps of a length that must converge.
  void march(int steps, double dt) {
    Phases seconds;
    for (int n = 0; n < steps; ++n) {
      Advanced after = advance(bed, state, dt, work, seconds);
      ASSERT_EQ(after.outcome.failed, nullptr);
      after.next.take_increments(state);
      bed = std::move(after.bed);
      state = std::move(after.next);
    }
  }
};

}  // namespace updraught::step_tests
