// What a case asks of the machine, and what can be computed but is hardly meant.
#include <gtest/gtest.h>

#include "cases/machine/expected_cost.h"
#include "cases/output/opening_area.h"
#include "cases/reader/keys/keys.h"
#include "cases/reader/whole_case.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::sound_case;
using reader_tests::with_added;
using reader_tests::with_line;

Problem box_of(int n, double days = 14.0) {
  Problem problem;
  problem.cells = {n, n, n, false};
  problem.duration = days * 86400.0;
  return problem;
}

TEST(ExpectedCost, FollowsCellsStepsPicturesAndThreads) {
  const ExpectedCost one = expected_cost(box_of(32), 1);
  EXPECT_EQ(one.steps, 126.0);
  EXPECT_EQ(one.pictures, 15.0);
  EXPECT_NEAR(one.memory, 45e6 + 32768.0 * (980.0 + 15.0 * 68.0), 1.0);
  // One half stands for both.
  EXPECT_NEAR(one.seconds, 16384.0 * 126.0 * 6e-6, 1e-9);
  const double odd = expected_cost(box_of(33), 1).seconds;
  EXPECT_NEAR(odd, 35937.0 * 126.0 * 6e-6, 1e-9);
  EXPECT_NEAR(expected_cost(box_of(33), 2).seconds, odd / 1.9, 1e-9);
  // Below 20 000 cells one thread does the work.
  EXPECT_EQ(expected_cost(box_of(16), 2).seconds, expected_cost(box_of(16), 1).seconds);
  Problem steps = box_of(32);
  steps.longest_step = 0.001;
  EXPECT_NEAR(expected_cost(steps, 1).steps, 14.0 * 86400.0 / 0.001, 1.0);
}

TEST(ExpectedCost, WindThroughTheSidesOfAWholeBoxTakesMoreSteps) {
  Problem box = box_of(32);
  box.outside.daily_swing = 5.0;
  EXPECT_EQ(expected_cost(box, 1).steps, 14.0 * 30.0);
  box.openings.emplace_back().where = Opening::Where::side;
  EXPECT_EQ(expected_cost(box, 1).steps, 14.0 * 30.0);
  box.outside.wind = 1.0;
  EXPECT_EQ(expected_cost(box, 1).steps, 14.0 * 60.0);
}

TEST(ExpectedCost, NamesCellsThatFit) {
  const Problem problem = box_of(512);
  constexpr double memory = 20e9;
  const Cells cells = cells_that_fit(problem, memory);
  Problem smaller = problem;
  smaller.cells = cells;
  EXPECT_LE(expected_cost(smaller, 1).memory, memory);
  EXPECT_GT(expected_cost(smaller, 1).memory, 0.9 * memory);
}

TEST(ExpectedCost, IsToldInPlainUnits) {
  EXPECT_EQ(told_time(0.2), "less than a second");
  EXPECT_EQ(told_time(40.0), "about 40 seconds");
  EXPECT_EQ(told_time(7200.0), "about 2 hours");
  EXPECT_EQ(told_time(10.0 * 86400.0), "about 10 days");
  EXPECT_EQ(told_bytes(119e6), "119 MB");
  EXPECT_EQ(told_bytes(2.34e9), "2.3 GB");
}

/// Mistakes of a parsed_case on a machine with this memory.
std::vector<Diagnostic> memory_mistakes(const Problem& problem, double memory) {
  const toml::table parsed = toml::parse("days = 14\ncells = [512, 512, 512]\n");
  Diagnostics diagnostics("box.toml");
  ParsedCase parsed_case;
  parsed_case.problem = problem;
  check_memory(Table(parsed, "", top_keys(), diagnostics), parsed_case, memory);
  return diagnostics.mistakes;
}

TEST(Memory, WhatDoesNotFitIsRefusedWithWhatWould) {
  const auto cells = memory_mistakes(box_of(512), 24e9);
  ASSERT_EQ(cells.size(), 1u);
  EXPECT_EQ(to_text(cells[0]),
            "box.toml:2:9: cells: Computing 134217728 parts takes 268 GB of memory, this machine has 24 GB. "
            "cells = "
            "[212, 212, 212] would fit.");
  Problem pictures = box_of(32);
  pictures.picture_every = 1.0;
  const auto many = memory_mistakes(pictures, 24e9);
  ASSERT_EQ(many.size(), 1u);
  EXPECT_EQ(many[0].key, "days");
  EXPECT_EQ(many[0].hint, "Write pictures_every = \"1 h\" or more.");
  EXPECT_TRUE(memory_mistakes(box_of(32), 24e9).empty());
  EXPECT_TRUE(memory_mistakes(box_of(512), 0.0).empty()) << "a machine that does not say what it has";
}

/// The doubts about a case that can be computed, as text.
std::string doubts(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text, "box.toml");
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  return outcome.read ? to_text(outcome.read->doubts) : "";
}

void expect_doubt(const std::string& text, const std::string& part) {
  EXPECT_NE(doubts(text).find(part), std::string::npos) << "wanted: " << part << "\ngot: " << doubts(text);
}

TEST(Doubts, AnOrdinaryCaseHasNone) {
  EXPECT_EQ(doubts(sound_case()), "");
}

TEST(Doubts, SizesThatAreHardlyMeant) {
  expect_doubt(with_line("depth", "depth = \"1 cm\""), "box.toml:7:9: depth: The bed is only 1 cm deep");
  std::string few_buckets = sound_case();
  few_buckets.erase(few_buckets.find("depth = \"0.6 m\""), 15);
  expect_doubt(few_buckets, "fill: The bed is only 5.06 cm deep, the bin is 1 m high.");
  expect_doubt(
      with_line("bin", "bin = { shape = \"box\", width = \"0.9 m\", length = \"0.9 m\", height = \"10 m\" }"),
      "box.toml:2:7: bin: The bin is 10 m high.");
  expect_doubt(
      with_line("bin", "bin = { shape = \"box\", width = \"9 m\", length = \"0.9 m\", height = \"1 m\" }"),
      "bin: The bin is 9 m wide.");
}

TEST(Doubts, ALidWithoutAnyOpening) {
  expect_doubt(with_line("air_out", ""), "nothing leads out through it");
  EXPECT_EQ(doubts(with_line("air_out", "lid = \"none\"")), "");
}

TEST(Doubts, ManyPicturesAndTinySteps) {
  expect_doubt(with_added("pictures_every = \"4 min\""), "box.toml:9:18: pictures_every: 5041 pictures");
  expect_doubt(with_added("longest_step = \"2 ms\""), "longest_step: It takes 6.05e+08 steps");
}

TEST(Doubts, AFillThatOnlyJustFits) {
  const auto filled = [](int buckets) {
    std::string text = with_line(
        "fill", "fill = [ { what = \"grass\", buckets = " + std::to_string(buckets) +
                    " }, { what = \"woodchip, coarse\", buckets = " + std::to_string(buckets) + " } ]");
    return text.erase(text.find("depth = \"0.6 m\""), 15);
  };
  // The most buckets that the middle packing takes.
  int most = 10;
  int more = 400;
  while (more - most > 1) {
    const int middle = (most + more) / 2;
    (read_case_text(filled(middle), "box.toml").read ? most : more) = middle;
  }
  expect_doubt(filled(most), "fill: It fits, but only just");
  // Asked for by itself, the setting that does not fit is refused with its place.
  const Overrides loose{{"laws.packing_excess_shift", "0.1", ""}};
  const ReadOutcome refused = read_case_text(filled(most), "box.toml", loose);
  ASSERT_EQ(refused.mistakes.size(), 1u);
  EXPECT_EQ(refused.mistakes[0].key, "fill");
  EXPECT_EQ(doubts(filled(most * 3 / 4)), "");
}

TEST(FreeArea, IsThatOfTheTrueBin) {
  const Overrides quick{{"detail", "quick", ""}};
  for (const Overrides& overrides : {Overrides(), quick}) {
    const auto outcome = read_case_text(
        "bin = { width = \"0.8 m\", length = \"1.2 m\", height = \"1 m\" }\n"
        "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.5, blocked = \"10 %\" },\n"
        "  { where = \"side\", kind = \"holes\", size = \"2 cm\", count = 10, heights = [\"20 cm\"], open = "
        "0.5 },\n"
        "  { where = \"side\", kind = \"slots\", size = \"5 mm\", heights = [\"20 cm\", \"40 cm\"] } ]\n"
        "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
        "fill = [ { what = \"straw\", buckets = 3 } ]\ndepth = \"0.6 m\"\n",
        "box.toml", overrides);
    ASSERT_TRUE(outcome.read) << to_text(outcome.mistakes);
    const Problem& problem = outcome.read->problem;
    EXPECT_NEAR(free_area(problem.openings[0], problem), 0.96 * 0.5 * 0.9, 1e-12);
    EXPECT_NEAR(free_area(problem.openings[1], problem), 10.0 * 3.141592653589793e-4 * 0.5, 1e-12);
    EXPECT_NEAR(free_area(problem.openings[2], problem), 2.0 * 4.0 * 0.005, 1e-12);
    EXPECT_NEAR(free_area(problem.openings[3], problem), 4.0 * 0.005, 1e-12);
  }
}

TEST(LaidOut, TellsTheMassThatFillsTheBed) {
  const auto outcome = read_case_text(sound_case(), "box.toml");
  ASSERT_TRUE(outcome.read);
  const LaidOut laid = lay_out(outcome.read->problem);
  ASSERT_EQ(laid.mass.size(), 1u);
  EXPECT_NEAR(laid.volume, 0.81 * 0.6, 1e-9);
  const double density = laid.mass[0] / laid.volume;
  EXPECT_GT(density, 250.0);
  EXPECT_LT(density, 900.0);
}

}  // namespace
}  // namespace updraught
