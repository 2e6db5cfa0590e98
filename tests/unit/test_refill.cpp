// More on top of a bed: what it weighs, where it lies, that nothing gets lost, and how a case says so.
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "post/answer/verdict.h"
#include "solver/events.h"
#include "solver/refill.h"
#include "solver/run.h"
#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::read_sound;
using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

constexpr double day = 86400.0;

/// Amounts instead of a depth, so that what goes on top can be the same again.
std::string by_amounts(const std::string& more, const std::string& fill =
                                                    "fill = [ { what = \"kitchen waste\", mass = \"20 kg\" "
                                                    "}, { what = \"woodchip, coarse\", mass = \"10 kg\" "
                                                    "} ]\n") {
  return std::string(
             "bin = { shape = \"box\", width = \"0.6 m\", length = \"0.6 m\", height = \"0.9 m\" }\n"
             "walls = [ { of = \"timber\", thick = \"18 mm\" }, { of = \"insulation board\", thick = \"50 "
             "mm\" } "
             "]\n"
             "air_in = [ { where = \"base\", kind = \"mesh\" } ]\n"
             "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
             "outside = { temperature = \"12 degC\" }\ninitial = { temperature = \"30 degC\" }\n"
             "mode = \"rings\"\ncells = [5, 16]\n") +
         (more.find("days = ") == std::string::npos ? "days = 2\n" : "") + fill + more + "\n";
}

double wet_mass(const Inventory& all) {
  return all.dry_mass + all.water;
}

Laid with_refill(const Ready& ready) {
  Event event = ready.bed.setup->problem.events.front();
  event.time = ready.state.time();
  return after_event(event, ready);
}

TEST(Refill, HalfAndHalfIsTheBedThatWasFilledAtOnce) {
  Problem at_once = problem_of(by_amounts(""));
  for (Portion& part : at_once.batches.front().portions) part.mass *= 2.0;
  const Laid whole = lay_bed(at_once);
  const Ready half(problem_of(by_amounts("refills = [ { on = [1], mass = \"30 kg\" } ]")));
  const Laid filled = with_refill(half);
  EXPECT_NEAR(filled.bed.grid.height() / whole.bed.grid.height(), 1.0, 1e-3);
  EXPECT_NEAR(filled.state.largest_stress.front() / whole.state.largest_stress.front(), 1.0, 0.03);
  EXPECT_EQ(filled.bed.setup->blends.size(), 1U) << "it is more of the same";
  const double scale = filled.bed.setup->problem.plan_scale;
  const Inventory before = inventory(half.bed, half.state), after = inventory(filled.bed, filled.state);
  EXPECT_NEAR(scale * (wet_mass(after) - wet_mass(before)), 30.0, 1e-9);
}

TEST(Refill, LiesOnTopFreshAndAiredWithItsOwnWarmth) {
  Ready ready(
      problem_of(by_amounts("refills = [ { on = [1], temperature = \"8 degC\", fill = [ { what = "
                            "\"straw\", mass = \"2 kg\" } ] } ]")));
  ready.march(20, 1800.0);
  const Laid filled = with_refill(ready);
  const Grid& g = filled.bed.grid;
  ASSERT_EQ(filled.bed.setup->blends.size(), 2U);
  int fresh = 0;
  for (int k = 0; k < g.nz; ++k) {
    const auto c = at(g.cell(0, 0, k));
    if (filled.state.mixture[c] != 1.0) continue;
    ++fresh;
    EXPECT_EQ(filled.state.temperature[c], 8.0);
    EXPECT_NEAR(filled.state.oxygen[c] / filled.state.dry_gas[c], air_oxygen, 1e-12);
    EXPECT_EQ(filled.state.laid[at(k)], ready.state.time());
    EXPECT_EQ(filled.state.hours_airless[c], 0.0);
  }
  EXPECT_GE(fresh, 1);
  EXPECT_EQ(filled.state.mixture[at(g.cell(0, 0, g.nz - 1))], 1.0);
  EXPECT_EQ(filled.state.mixture[at(g.cell(0, 0, g.nz - 1 - fresh))], 0.0);
  EXPECT_EQ(filled.state.clock.since_event, 0.0);
}

TEST(Refill, WhatComesIsBookedAndTheBalancesOfARunClose) {
  const RunResult result = run(problem_of(by_amounts(
      "refills = [ { every = 0.4, mass = \"6 kg\" }, { on = [1], temperature = \"-2 degC\", fill = [ { "
      "what = \"woodchip, coarse\", buckets = 1 } ] } ]")));
  for (const double error : {result.balances.dry_gas, result.balances.oxygen, result.balances.heat,
                             result.balances.water, result.balances.dry_mass})
    EXPECT_LT(error, 1e-9);
  EXPECT_TRUE(result.left_out.empty());
  const Problem p = problem_of(by_amounts("fill = [ { what = \"woodchip, coarse\", buckets = 1 } ]", ""));
  EXPECT_NEAR(result.series.back().filled, 4 * 6.0 + p.batches.front().portions.front().mass, 1e-9);
  EXPECT_GT(result.series.back().dry_mass, result.series.front().dry_mass);
}

TEST(Refill, BeginsTheStepsAnewAndLeavesWhatWasBefore) {
  const RunResult plain = run(problem_of(by_amounts(""))),
                  filled = run(problem_of(by_amounts("refills = [ { on = [1], mass = \"10 kg\" } ]")));
  const auto at_day = std::find_if(filled.series.begin(), filled.series.end(),
                                   [](const SeriesRow& row) { return row.time > day - 1e-6; });
  EXPECT_NEAR(at_day->time, day, 1e-6);
  for (std::size_t n = 0; n < 8; ++n) EXPECT_EQ(filled.series[n].hottest, plain.series[n].hottest);
  const SeriesRow& after = *(at_day + 1);
  EXPECT_LT(after.time - at_day->time, 61.0);
  EXPECT_GT(after.height, at_day->height + 0.02);
  EXPECT_GT(after.mean_temperature, at_day->mean_temperature + 1.0) << "it came as warm as the filling was";
}

TEST(Refill, WhatFindsNoRoomIsLeftOutAndTold) {
  const RunResult result = run(problem_of(by_amounts("refills = [ { every = 0.5, mass = \"100 kg\" } ]")));
  EXPECT_EQ(result.left_out, (std::vector<double>{1.0 * day, 1.5 * day}));
  EXPECT_NEAR(result.series.back().filled, 100.0, 1e-9);
  for (const SeriesRow& row : result.series) EXPECT_LE(row.height, 0.9);
}

TEST(Refill, HalfOfABoxIsFilledUpAsTheWholeIs) {
  std::string text = by_amounts("refills = [ { every = 0.3, mass = \"6 kg\" } ]\ndays = 0.7");
  const std::string rings = "mode = \"rings\"\ncells = [5, 16]";
  text.replace(text.find(rings), rings.size(), "mode = \"whole\"\ncells = [6, 6, 8]");
  const Problem p = problem_of(text);
  const SeriesRow half = run(p).series.back(), whole = run(p, {}, Halves::never).series.back();
  EXPECT_NEAR(half.filled, 12.0, 1e-9);
  EXPECT_NEAR(whole.filled, 12.0, 1e-9);
  EXPECT_NEAR(half.height / whole.height, 1.0, 1e-6);
  EXPECT_NEAR(half.dry_mass / whole.dry_mass, 1.0, 1e-9);
  EXPECT_NEAR(half.mean_temperature, whole.mean_temperature, 1e-3);
}

TEST(Refill, AShareOfChipsHoldsForWhatGoesOnTopToo) {
  Overrides share;
  put(share, "woodchip_share", "0.6");
  const std::string refills =
      "refills = [ { on = [1], mass = \"12 kg\" }, { on = [1], fill = [ { what = \"woodchip, coarse\", "
      "buckets = 1 } "
      "] } ]";
  const Problem plain = read_sound(by_amounts(refills)).problem,
                more = read_sound(by_amounts(refills), share).problem;
  const auto soft = [](const Batch& batch) {
    double mass = 0.0;
    for (const Portion& part : batch.portions) mass += part.feedstock.chips ? 0.0 : part.mass;
    return mass;
  };
  EXPECT_NEAR(blend(more.refills[0].portions, more.laws).chip_share, 0.6, 1e-12);
  EXPECT_NEAR(soft(plain.refills[0]), 8.0, 1e-12);
  EXPECT_NEAR(soft(more.refills[0]), 8.0, 1e-12) << "waste keeps its amount";
  EXPECT_EQ(more.refills[1].portions.front().mass, plain.refills[1].portions.front().mass);
}

TEST(Refill, WhatIsUncertainOfItIsInTheSample) {
  const auto inputs =
      read_sound(by_amounts("refills = [ { on = [1], fill = [ { what = \"straw\", buckets = 1 } ] } ]"))
          .problem.uncertain;
  const auto of_straw = [](const UncertainInput& input) {
    return input.key.find("straw") != std::string::npos;
  };
  EXPECT_GE(std::count_if(inputs.begin(), inputs.end(), of_straw), 2);
}

TEST(Refill, DaysComeFromAListOrARhythm) {
  const auto days = [](const std::string& when) {
    std::vector<double> out;
    for (const Event& event :
         read_sound(by_amounts("days = 10\nrefills = [ { " + when + ", mass = \"1 kg\" } ]")).problem.events)
      out.push_back(event.time / day);
    return out;
  };
  using Days = std::vector<double>;
  EXPECT_EQ(days("on = [5, 2]"), (Days{2, 5}));
  EXPECT_EQ(days("every = 3"), (Days{3, 6, 9}));
  EXPECT_EQ(days("every = 3, from = 1"), (Days{1, 4, 7}));
  EXPECT_EQ(days("every = 3, until = 6"), (Days{3, 6}));
}

TEST(Refill, MistakesAreTold) {
  const auto told = [](const std::string& refill) {
    return to_text(read_case_text(by_amounts("refills = [ { " + refill + " } ]"), "box.toml").mistakes);
  };
  const auto has = [](const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos ? "" : text + " lacks " + part;
  };
  EXPECT_EQ(told("every = 1, mass = \"1 kg\""), "");
  EXPECT_EQ(has(told("mass = \"1 kg\""), "not said when"), "");
  EXPECT_EQ(has(told("every = 1"), "What goes on top is missing"), "");
  EXPECT_EQ(has(told("every = 1, mass = \"1 kg\", buckets = 1"), "more than once"), "");
  EXPECT_EQ(has(told("every = 1, mass = \"0 kg\""), "Nothing goes on top"), "");
  EXPECT_EQ(has(told("every = 3, mass = \"1 kg\""), "would never come"), "");
  EXPECT_EQ(has(told("on = [2], mass = \"1 kg\""), "when all is over"), "");
  EXPECT_EQ(has(told("on = [1], every = 1, mass = \"1 kg\""), "does not go with every"), "");
  EXPECT_EQ(has(told("on = [1], from = 1, mass = \"1 kg\""), "does not go with on"), "");
  EXPECT_EQ(has(told("on = [1], fill = [ { what = \"strow\", buckets = 1 } ]"), "straw"), "");
  EXPECT_EQ(has(told("on = [1], mas = \"1 kg\""), "`mass`"), "");
  const std::string few = by_amounts("refills = [ { on = [1], mass = \"1 kg\" } ]");
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string text = few;
    return to_text(read_case_text(text.replace(text.find(from), from.size(), to), "box.toml").mistakes);
  };
  EXPECT_EQ(has(with("cells = [5, 16]", "cells = [5, 3]"), "more parts in height"), "");
  EXPECT_EQ(has(with("mode", "settles = false\nmode"), "goes on sinking"), "");
}

}  // namespace
}  // namespace updraught
