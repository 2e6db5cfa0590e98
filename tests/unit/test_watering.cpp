// Water poured on a bed: it stays where there is room for it, the rest runs out, and both are booked.
#include <gtest/gtest.h>

#include "solver/bed/properties.h"
#include "solver/events.h"
#include "solver/run.h"
#include "solver/step/march.h"
#include "solver/watering.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_line;
using step_tests::problem_of;
using step_tests::Ready;

/// Straw, which has room for water; or what the line says instead.
Ready dry_bed(const std::string& fill = "fill = [ { what = \"straw\", buckets = 1 } ]") {
  return Ready(problem_of(with_line("fill", fill) +
                          "mode = \"rings\"\ncells = [5, 12]\ninitial = { temperature = \"20 degC\" }\n"));
}

Event pouring(double water, double temperature = 5.0) {
  return {Event::Kind::water, 0.0, 0, temperature, water};
}

double poured_of(const Ready& before, const Laid& after) {
  return before.bed.setup->problem.plan_scale *
         (after.state.booked[water_filled] - before.state.booked[water_filled]);
}

TEST(Watering, ALittleStaysOnTopAndCoolsIt) {
  const Ready bed = dry_bed();
  const Laid wet = watered(pouring(2.0), bed);
  const Grid& g = bed.bed.grid;
  EXPECT_NEAR(poured_of(bed, wet), 2.0, 1e-12);
  EXPECT_EQ(wet.state.booked[water_drained], 0.0);
  const auto top = at(g.cell(0, 0, g.nz - 1)), bottom = at(g.cell(0, 0, 0));
  EXPECT_GT(wet.state.water[top], 1.5 * bed.state.water[top]);
  EXPECT_LT(wet.state.temperature[top], 15.0);
  EXPECT_GT(wet.state.temperature[top], 5.0);
  EXPECT_EQ(wet.state.water[bottom], bed.state.water[bottom]);
  EXPECT_EQ(wet.state.temperature[bottom], 20.0);
  EXPECT_EQ(wet.state.clock.since_event, 0.0);
}

TEST(Watering, WhatFindsNoRoomRunsOutBelow) {
  const Ready bed = dry_bed();
  const double scale = bed.bed.setup->problem.plan_scale;
  double dry = 0.0, water = 0.0;
  for (std::size_t c = 0; c < bed.state.water.size(); ++c) {
    dry += scale * dry_of(bed.state, c);
    water += scale * bed.state.water[c];
  }
  const double room =
      bed.bed.setup->problem.batches.front().portions.front().feedstock.water_capacity * dry - water;
  const Laid wet = watered(pouring(2.0 * room), bed);
  EXPECT_NEAR(scale * wet.state.booked[water_drained], room, 1e-6 * room);
  // All that it holds has no free water, and what is poured on again runs through.
  for (int cell = 0; cell < wet.bed.grid.cells(); ++cell)
    EXPECT_LT(free_water(wet.bed, wet.state, cell), 1e-9);
  const Laid again = watered(pouring(1.0), wet);
  EXPECT_NEAR(scale * (again.state.booked[water_drained] - wet.state.booked[water_drained]), 1.0, 1e-9);
  for (std::size_t c = 0; c < wet.state.water.size(); ++c)
    EXPECT_NEAR(again.state.water[c], wet.state.water[c], 1e-12);
}

TEST(Watering, IsBookedAndTheBalancesClose) {
  Ready bed = dry_bed();
  const Inventory before = inventory(bed.bed, bed.state);
  for (const double litres : {1.0, 30.0, 400.0}) {
    const Laid wet = watered(pouring(litres, 40.0), bed);
    Balances b;
    close_balances(wet.bed, before, inventory(wet.bed, wet.state), wet.state, b);
    for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) EXPECT_LT(error, 1e-11);
  }
}

TEST(Watering, GoesThroughARunAndOntoWhatIsTurned) {
  const auto text = [](const std::string& more) {
    return with_line("fill", "fill = [ { what = \"straw\", buckets = 1 } ]") +
           "mode = \"rings\"\ncells = [5, 12]\ninitial = { temperature = \"30 degC\" }\ndays = 1\n" + more +
           "\n";
  };
  const RunResult plain = run(problem_of(text(""))),
                  wet = run(problem_of(text("waterings = [ { every = 0.3, volume = \"8 L\" } ]")));
  for (const double error : {wet.balances.dry_gas, wet.balances.oxygen, wet.balances.heat, wet.balances.water,
                             wet.balances.dry_mass})
    EXPECT_LT(error, 1e-9);
  EXPECT_NEAR(wet.series.back().filled, 24.0, 1e-9);
  EXPECT_GT(wet.series.back().water, plain.series.back().water + 15.0);
  // On the same day water comes first and is mixed in, wherever it stands in the file.
  const Problem both =
      problem_of(text("turned_on = [0.5]\nwaterings = [ { on = [0.5], volume = \"8 L\" } ]"));
  ASSERT_EQ(both.events.size(), 2U);
  EXPECT_EQ(both.events.front().kind, Event::Kind::water);
  EXPECT_EQ(both.events.back().kind, Event::Kind::turn);
}

TEST(Watering, IsAsColdAsTheAirButWater) {
  const auto temperature = [](const std::string& outside) {
    return problem_of(with_line("outside", outside) + "waterings = [ { on = [0.5], volume = \"8 L\" } ]\n")
        .events.front()
        .temperature;
  };
  EXPECT_EQ(temperature("outside = { temperature = \"8 degC\" }"), 8.0);
  EXPECT_EQ(temperature("outside = { temperature = \"-8 degC\" }"), 0.0);
}

TEST(Watering, MistakesAreTold) {
  const auto told = [](const std::string& watering) {
    return to_text(
        read_case_text(reader_tests::with_added("waterings = [ { " + watering + " } ]"), "box.toml")
            .mistakes);
  };
  EXPECT_EQ(told("on = [1], volume = \"5 L\""), "");
  EXPECT_NE(told("on = [1]").find("volume"), std::string::npos);
  EXPECT_NE(told("volume = \"5 L\"").find("not said when"), std::string::npos);
  EXPECT_NE(told("on = [1], volume = \"0 L\"").find("Nothing is poured"), std::string::npos);
  EXPECT_NE(told("on = [20], volume = \"5 L\"").find("when all is over"), std::string::npos);
}

}  // namespace
}  // namespace updraught
