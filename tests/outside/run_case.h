// Runs a case file in this process and keeps what a check looks at: the last state, its grid, and the series.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "cases/reader/read_case.h"
#include "mesh/grid.h"
#include "solver/run.h"
#include "solver/state/state.h"

namespace updraught::outside {

/// A finished run.
struct Ran {
  Problem problem;
  Grid grid;
  State state;
  RunResult result;

  const SeriesRow& last() const { return result.series.back(); }
};

/// Called after every accepted step.
using Watch = std::function<void(const Grid&, const State&)>;

/// The problem that a text of a case file states; a mistake in it fails the test.
inline Problem problem_of(const ReadOutcome& outcome, const std::string& name) {
  if (!outcome.read) throw std::runtime_error(name + " cannot be read: " + to_text(outcome.mistakes));
  return outcome.read->problem;
}

inline std::string textbook(const std::string& name) {
  return std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/textbook/" + name + ".toml";
}

inline Problem read_textbook(const std::string& name) {
  return problem_of(read_case_file(textbook(name)), name);
}

inline Ran run_problem(const Problem& problem, const Watch& watch = {}) {
  Ran ran;
  ran.problem = problem;
  Observer observer;
  observer.on_step = [&](const Grid& grid, const State& state, const SeriesRow&) {
    if (watch) watch(grid, state);
    ran.grid = grid;
    ran.state = state;
  };
  ran.result = run(problem, observer);
  return ran;
}

inline Ran run_textbook(const std::string& name, const Watch& watch = {}) {
  return run_problem(read_textbook(name), watch);
}

inline std::size_t index_of(int n) {
  return static_cast<std::size_t>(n);
}

/// Superficial velocity upward through the middle of a column (m/s), at the column's middle face.
inline double upward_speed(const Ran& ran, double dry_density) {
  const int k = ran.grid.nz / 2;
  return ran.state.flux_z[index_of(ran.grid.cell(0, 0, k))] / (dry_density * ran.grid.area_z(0, 0, k));
}

/// Moles of constant air in a cubic metre.
inline double moles_per_volume(const Problem& problem) {
  return problem.constant_air->density / 0.0289647;
}

}  // namespace updraught::outside
