// Steps in time that hold: what must not end a run, and what must end it with a sentence (theory 9.6).
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "solver/run.h"
#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

std::string round_bin(const std::string& size, const std::string& lines) {
  return fmt::format(
             "question = \"Does it heat?\"\n"
             "bin = {{ shape = \"round\", {} }}\n",
             size) +
         "walls = [ { of = \"insulation board\", thick = \"100 mm\" } ]\n"
         "fill = [ { what = \"vegetable scraps (raw)\", buckets = 1 }, { what = \"woodchip, coarse\", "
         "buckets = 2 } "
         "]\n"
         "outside = { temperature = \"20 degC\" }\ninitial = { temperature = \"20 degC\" }\n" +
         lines;
}

// The wall lane of coarse chips is wider than an even ring there: graded from it, the innermost ring held a
// hundredth of a microgram.
TEST(StepsHold, InAFlaskNarrowerThanItsChips) {
  const RunResult ran = run(problem_of(round_bin(
      "width = \"11 cm\", height = \"18 cm\"",
      "depth = \"15 cm\"\ndays = 4\nbase = { kind = \"raised\", height = \"1 cm\", inlet = \"4 cm2\" }\n"
      "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.3 } ]\n"
      "air_out = [ { where = \"lid\", kind = \"gap\", size = \"3 mm\" } ]\n")));
  EXPECT_EQ(ran.ended, "");
  EXPECT_NEAR(ran.series.back().time, 4.0 * 86400.0, 1.0);
}

// Wide slots that the grid resolves: vapour that diffuses through them had no slope in the heat matrix.
TEST(StepsHold, InASliceOfHeapWithWideSlots) {
  const RunResult ran = run(problem_of(
      "question = \"Do slots air a heap?\"\nmode = \"slice\"\nlid = \"none\"\nbase = { kind = \"ground\" }\n"
      "bin = { shape = \"box\", width = \"2 m\", length = \"1 m\", height = \"1.2 m\" }\n"
      "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\ncells = [24, 32]\ndays = 6\ndepth = \"1 m\"\n"
      "fill = [ { what = \"leaves\", buckets = 3 }, { what = \"grass clippings\", buckets = 2 }, { what = "
      "\"vegetable "
      "scraps (raw)\", buckets = 1 } ]\n"
      "air_in = [ { where = \"side\", kind = \"slots\", size = \"60 mm\", plate = \"0 mm\", loss = 0, "
      "heights = "
      "[\"6 cm\", \"26 cm\", \"46 cm\", \"66 cm\", \"86 cm\"] } ]\n"
      "air_out = [ { where = \"top\", kind = \"open\" } ]\n"
      "outside = { temperature = \"15 degC\" }\ninitial = { temperature = \"15 degC\" }\n"));
  EXPECT_EQ(ran.ended, "");
  EXPECT_LT(ran.steps, 400);
}

TEST(StepsHold, WithOneColumnBehindSideHoles) {
  const std::string holes =
      "air_in = [ { where = \"side\", kind = \"holes\", size = \"12 mm\", count = 12, heights = [\"20 cm\"] "
      "} ]";
  for (const char* cells :
       {"mode = \"rings\"\ncells = [1, 4]\n", "cells = [1, 1, 4]\n", "cells = [2, 1, 5]\n"}) {
    const RunResult ran =
        run(problem_of(fmt::format("{}{}days = 0.1\n", reader_tests::with_line("air_in", holes), cells)));
    EXPECT_EQ(ran.ended, "") << cells;
    EXPECT_GT(ran.series.back().air_in, 0.0) << cells;
  }
}

// Heat that nothing carries off leaves the range of the laws: what was computed until then stays.
TEST(StepsHold, OrEndWithAReasonAndWhatWasComputed) {
  Problem problem = problem_of(with_added("cells = [6, 8]\nmode = \"rings\"\ndays = 3"));
  problem.prescribed.heat = Prescribed::ByHeight{{0.0}, {30000.0}};
  const RunResult ran = run(problem);
  EXPECT_NE(ran.ended.find("The computation ended on day "), std::string::npos) << ran.ended;
  // The bed leaves the laws, or the spaces beside it find no temperature within them first.
  EXPECT_TRUE(ran.ended.find("-60 to 95 °C") != std::string::npos ||
              ran.ended.find("the warmth beside the bed found no balance") != std::string::npos)
      << ran.ended;
  EXPECT_GT(ran.steps, 3);
  EXPECT_LE(ran.series.back().hottest, 95.0);
}

// Every linear solve counts: one that fails in the last pass is the step's failure.
TEST(StepsHold, WhereAShorterStepThanAnyIsWished) {
  Ready ready(problem_of(with_added("")));
  ready.state.clock.next_step = 1e-4;
  RunResult result;
  const MarchStep taken = March().take_step(ready.bed, ready.state, 86400.0, result);
  const State& next = taken.after.next;
  ASSERT_EQ(taken.failed, "");
  EXPECT_GT(next.time(), 0.0);
  EXPECT_EQ(next.temperature.size(), at(ready.bed.grid.cells()));
}

TEST(StepsHold, OnlyWhereLinearSolvesDo) {
  Ready ready(problem_of(with_added("cells = [6, 8]\nmode = \"rings\"")));
  SolveReport report;
  report.converged = false;
  report.residual = 1e-3;
  note_solve(report, "heat", ready.work.books);
  EXPECT_STREQ(ready.work.books.unsolved, "heat");
  ready.work.books.unsolved = nullptr;
  report.residual = 1e-9;
  note_solve(report, "heat", ready.work.books);
  EXPECT_EQ(ready.work.books.unsolved, nullptr);
}

// Wet chips give their water to sawdust and straw, of which some has no easy pool.
TEST(StepsHold, InABedThatNeverRisesAboveItsFill) {
  for (const char* dry : {"sawdust", "straw"}) {
    const std::string fill = fmt::format(
        "fill = [ {{ what = \"{}\", buckets = 2 }}, {{ what = \"woodchip, coarse\", buckets = 2 }} ]", dry);
    const RunResult ran = run(
        problem_of(reader_tests::with_line("fill", fill) + "mode = \"rings\"\ncells = [6, 10]\ndays = 6\n"));
    for (const SeriesRow& row : ran.series) EXPECT_LE(row.height, ran.series.front().height * 1.0005) << dry;
  }
}

// Heavy air in the space under a lid lagged a step behind: the openings' flow went round in a cycle of three
// steps that fed a stalled bed until it struck. Short steps, with which it does not, are the measure.
TEST(StepsHold, TheStarvedBedStarvesWhateverTheStep) {
  const std::string file = std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/allotment-box-side-holes.toml";
  const Overrides overrides{{"detail", "quick", ""},
                            {"woodchip_share", "0.59", ""},
                            {"days", "5", ""},
                            {"outside", "{ temperature = \"15 degC\", ground = \"12 degC\" }", ""}};
  Problem problem = read_case_file(file, overrides).read->problem;
  const double usual = run(problem).series.back().aired_share;
  problem.longest_step = 1800.0;
  const double fine = run(problem).series.back().aired_share;
  EXPECT_LT(fine, 0.05);
  EXPECT_NEAR(usual, fine, 0.02);
}

}  // namespace
}  // namespace updraught
