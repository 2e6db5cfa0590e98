// A bed from the text of a case file, laid and ready for a time step.
#pragma once

#include <gtest/gtest.h>

#include <stdexcept>
#include <string>
#include <utility>

#include "cases/reader/read_case.h"
#include "mesh/parallel/index.h"
#include "solver/step/step.h"

namespace updraught::step_tests {

inline Problem problem_of(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text, "box.toml");
  if (!outcome.read) throw std::runtime_error(to_text(outcome.mistakes));
  return outcome.read->problem;
}

struct Ready {
  Bed bed;
  State state;
  StepWork work;

  explicit Ready(const Problem& problem) : bed(make_bed(problem)), state(lay_bed(bed)) {
    compute_properties(bed, state, work.now);
    fill_with_air(bed, work.now, state);
  }

  /// Takes steps of a length that must converge.
  void march(int steps, double dt) {
    Phases seconds;
    for (int n = 0; n < steps; ++n) {
      State next;
      ASSERT_EQ(advance(bed, state, dt, work, next, seconds).failed, nullptr);
      next.take_increments(state);
      state = std::move(next);
    }
  }
};

}  // namespace updraught::step_tests
