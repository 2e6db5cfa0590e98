// Water moves through a bed and out of it without lifting it, and no part ever holds less than none.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "solver/run.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

/// The extremes of a run.
struct Seen {
  double height_at_start = 0.0;
  double height = 0.0;  // largest
  double water = 0.0;   // of a cell, least (kg)
  RunResult result;
};

Seen watched(const std::string& text) {
  Seen seen;
  Observer observer;
  observer.on_step = [&seen](const Grid&, const State& state, const SeriesRow& row) {
    if (seen.height_at_start == 0.0) seen.height_at_start = row.height;
    seen.height = std::max(seen.height, row.height);
    seen.water = std::min(seen.water, *std::min_element(state.water.begin(), state.water.end()));
  };
  seen.result = run(step_tests::problem_of(text), observer);
  return seen;
}

/// The pores' film of air (theory 2.5) leaves a few parts in ten thousand; what a cell may owe, less.
void expect_level(const Seen& seen) {
  EXPECT_EQ(seen.result.ended, "");
  EXPECT_LE(seen.height, seen.height_at_start * 1.0005);
  EXPECT_GT(seen.water, -1e-3);
}

// Water that trickles down fills the pores of the straw below and then stands above them.
TEST(WetBeds, StrawUnderWaterIsNotLifted) {
  const Seen seen = watched(R"(
bin = { width = "0.9 m", length = "0.7 m", height = "1 m" }
base = { kind = "closed" }
lid = "none"
walls = [ { of = "timber", thick = "18 mm" } ]
fill = [ { what = "water", buckets = 2 }, { what = "straw", buckets = 3 } ]
depth = "0.6 m"
mode = "rings"
cells = [4, 8]
days = 1
microbes = false
outside = { temperature = "12 degC" }
)");
  expect_level(seen);
}

// At 90 degC a thin bed gives its water off faster than steps of minutes can follow.
TEST(WetBeds, ABedHeldHotGivesOffNoMoreThanItHolds) {
  const Seen seen = watched(R"(
bin = { width = "0.9 m", length = "1 cm", height = "1 m" }
base = { kind = "raised", height = "10 cm", inlet = "1 cm2" }
lid = [ { of = "timber", thick = "18 mm" } ]
walls = [ { of = "timber", thick = "18 mm" } ]
air_in = [ { where = "base", kind = "mesh", open = 0.6 } ]
air_out = [ { where = "lid", kind = "gap", size = "5 mm" } ]
fill = [ { what = "kitchen waste", buckets = 3 }, { what = "woodchip, coarse", buckets = 6 } ]
depth = "0.7 m"
mode = "rings"
cells = [6, 16]
days = 0.05
outside = { temperature = "15 degC", wind = "1 m/s" }
hold_temperature = "90 degC"
)");
  expect_level(seen);
}

}  // namespace
}  // namespace updraught
