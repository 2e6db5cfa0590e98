// A bed that is turned within a run: nothing gets lost, it is mixed and aired, settles and goes on.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solver/events.h"
#include "solver/run.h"
#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

constexpr double day = 86400.0;

Problem small_bed(const std::string& more) {
  return problem_of(with_added(
      "mode = \"rings\"\ncells = [5, 12]\ninitial = { temperature = \"35 degC\" }\ndays = 1.5\n" + more));
}

Event turning(double time) {
  return {Event::Kind::turn, time};
}

double height(const State& s) {
  return std::accumulate(s.thickness.begin(), s.thickness.end(), 0.0);
}

TEST(Events, ATurnedBedIsEvenAndAiredAndFreeOfFormerLoads) {
  Ready ready(small_bed(""));
  ready.march(40, 1800.0);
  const Laid turned = after_event(turning(ready.state.time()), ready);
  const auto spread = [](const State& s) {
    const auto [least, most] = std::minmax_element(s.temperature.begin(), s.temperature.end());
    return *most - *least;
  };
  EXPECT_GT(spread(ready.state), 5.0);
  // Only the gas that is exchanged differs from cell to cell.
  EXPECT_LT(spread(turned.state), 0.3);
  for (std::size_t c = 0; c < turned.state.oxygen.size(); ++c)
    EXPECT_NEAR(turned.state.oxygen[c] / turned.state.dry_gas[c], air_oxygen, 1e-12);
  for (std::size_t k = 0; k < turned.state.stress.size(); ++k)
    EXPECT_EQ(turned.state.largest_stress[k], turned.state.stress[k]);
  EXPECT_EQ(turned.bed.grid.height(), height(turned.state));
  EXPECT_EQ(turned.state.clock.since_event, 0.0);
}

TEST(Events, WhatTheAirTakesAlongIsBooked) {
  Ready ready(small_bed(""));
  ready.march(30, 1800.0);
  const Inventory before = inventory(ready.bed, ready.state);
  Laid turned = after_event(turning(ready.state.time()), ready);
  for (std::size_t n = 0; n < turned.state.booked.size(); ++n)
    turned.state.booked[n] -= ready.state.booked[n];
  Balances b;
  close_balances(turned.bed, before, inventory(turned.bed, turned.state), turned.state, b);
  for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) EXPECT_LT(error, 1e-9);
  EXPECT_GT(turned.state.booked[oxygen_in], 1.05 * turned.state.booked[oxygen_out]);
  EXPECT_GT(turned.state.booked[heat_air], 0.0) << "moist warm air left";
}

TEST(Events, ARunTurnsOnItsDaysAndItsBalancesStayClosed) {
  const RunResult plain = run(small_bed("")), turned = run(small_bed("turned_on = [0.5, 1]"));
  for (const double error : {turned.balances.dry_gas, turned.balances.oxygen, turned.balances.heat,
                             turned.balances.water, turned.balances.dry_mass})
    EXPECT_LT(error, 1e-8);
  EXPECT_NEAR(turned.series.back().time, 1.5 * day, 1e-6);
  // Nothing before the first turning knows of it; a step ends on its very moment.
  for (std::size_t n = 0; n < 8; ++n)
    EXPECT_EQ(turned.series[n].mean_temperature, plain.series[n].mean_temperature);
  const auto half = std::find_if(turned.series.begin(), turned.series.end(),
                                 [](const SeriesRow& row) { return row.time > 0.5 * day - 1e-6; });
  EXPECT_NEAR(half->time, 0.5 * day, 1e-6);
  const SeriesRow& after = *(half + 1);
  EXPECT_LT(after.hottest - after.coldest, 0.5 * (half->hottest - half->coldest));
  EXPECT_LT(after.time - half->time, 61.0) << "steps begin anew";
}

TEST(Events, ABedNeverRisesAboveItsFill) {
  const RunResult turned = run(small_bed("turned_on = [0.1, 0.2, 0.5, 1]"));
  for (const SeriesRow& row : turned.series) EXPECT_LE(row.height, turned.series.front().height + 1e-9);
}

TEST(Events, ComeInTheirOrderAndWithinTheRun) {
  const Problem p = small_bed("turned_on = [1, 0.25]");
  ASSERT_EQ(p.events.size(), 2U);
  EXPECT_EQ(p.events.front().time, 0.25 * day);
  EXPECT_EQ(next_stop(p, 0.0), 0.25 * day);
  EXPECT_EQ(next_stop(p, 0.25 * day), day);
  EXPECT_EQ(next_stop(p, day), 1.5 * day);
  EXPECT_EQ(due_at(p, day).size(), 1U);
  EXPECT_TRUE(due_at(p, 0.3 * day).empty());
}

TEST(Events, AfterAShorterTimeThatIsLaidOverTheCaseAreLeftOut) {
  Overrides shorter;
  put(shorter, "days", "0.5");
  const Problem p = reader_tests::read_sound(with_added("days = 2\nturned_on = [0.25, 1]"), shorter).problem;
  ASSERT_EQ(p.events.size(), 1U);
  EXPECT_EQ(p.events.front().time, 0.25 * day);
}

TEST(Events, WrongDaysAreMistakes) {
  const auto hints = [](const std::string& days) {
    return to_text(read_case_text(with_added("days = 2\nturned_on = " + days), "box.toml").mistakes);
  };
  EXPECT_NE(hints("[2]").find("when all is over"), std::string::npos);
  EXPECT_NE(hints("[1, 1]").find("stands in the list already"), std::string::npos);
  EXPECT_NE(hints("[0]").find("more than a minute"), std::string::npos);
  EXPECT_NE(hints("[\"soon\"]").find("turned_on"), std::string::npos);
  EXPECT_EQ(hints("[0.5, 1]"), "");
}

}  // namespace
}  // namespace updraught
