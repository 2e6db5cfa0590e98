// The five balances of whole runs close: what cells and spaces hold at both ends against what was booked on
// the way (theory 9.7).
#include <gtest/gtest.h>

#include <string>

#include "cases/reader/read_case.h"
#include "solver/bed/bed.h"
#include "solver/run.h"
#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

/// A day of a case on few cells.
Balances balances_of(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text + "days = 1\n", "box.toml");
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  return outcome.read ? run(outcome.read->problem).balances : Balances{};
}

/// The sound case without any way in or out for air.
std::string sealed_case() {
  const std::string out = "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n";
  std::string text = reader_tests::with_line("air_in", "base = { kind = \"closed\" }");
  return text.erase(text.find(out), out.size());
}

Balances balances_with(const std::string& lines) {
  return balances_of(reader_tests::with_added(lines));
}

void expect_closed(const Balances& b) {
  constexpr double promised = 1e-8;
  EXPECT_LT(b.dry_gas, promised);
  EXPECT_LT(b.oxygen, promised);
  EXPECT_LT(b.heat, promised);
  EXPECT_LT(b.water, promised);
  EXPECT_LT(b.dry_mass, promised);
}

TEST(Balances, OfRings) {
  expect_closed(balances_with("cells = [8, 12]"));
}

TEST(Balances, OfAWholeBox) {
  expect_closed(balances_with("cells = [8, 8, 10]"));
}

TEST(Balances, WhenLessCarbonDioxideIsMadeThanOxygenUsed) {
  expect_closed(balances_with("cells = [8, 12]\nmicrobes = { quotient = 0.7 }"));
}

TEST(Balances, WhenCondensateDrainsAndTheWeatherSwings) {
  const std::string weather = reader_tests::with_line(
      "outside", "outside = { daily = { low = \"-5 degC\", high = \"15 degC\" }, humidity = 0.9 }");
  expect_closed(balances_of(weather + "lid = { kind = \"closed\", drip = \"away\" }\ncells = [8, 12]\n"));
}

TEST(Balances, OfABoxWithoutAnyWayOut) {
  const Balances b = balances_of(sealed_case() + "cells = [8, 12]\n");
  expect_closed(b);
  // No air came in and none was made, so its error is of what is there: rounding, and only that.
  EXPECT_LT(b.dry_gas, 1e-12);
}

// Neither inflow nor production: the error is told all the same, over what is there.
TEST(Balances, OfAQuantityAtRestTellItsError) {
  const ReadOutcome outcome = read_case_text(sealed_case() + "cells = [4, 6]\n", "box.toml");
  ASSERT_TRUE(outcome.read) << to_text(outcome.mistakes);
  auto [bed, still] = lay_bed(outcome.read->problem);
  still.booked.assign(booked_count, 0.0);
  const Inventory before{40.0, 8.0, 0.01, 2e6, 100.0, 60.0};
  Inventory after = before;
  Balances b;
  close_balances(bed, before, after, still, b);
  EXPECT_EQ(b.dry_gas, 0.0);
  EXPECT_EQ(b.dry_mass, 0.0);
  after.dry_gas *= 1.0 - 1e-9;
  after.dry_mass *= 1.0 - 1e-6;
  after.water *= 1.0 + 1e-7;
  close_balances(bed, before, after, still, b);
  EXPECT_NEAR(b.dry_gas, 1e-9, 1e-13);
  EXPECT_NEAR(b.dry_mass, 1e-6, 1e-13);
  EXPECT_NEAR(b.water, 1e-7, 1e-13);
  EXPECT_EQ(b.oxygen, 0.0);
  EXPECT_EQ(balance_error(40.0, 41.0, 0.5, 5.0), 0.1);
  // What a sealed bed lets in by rounding is no turnover: measured by it, rounding looked like a loss.
  EXPECT_LT(balance_error(3.5, 3.5 + 1e-15, 0.0, 1e-13), 1e-14);
  EXPECT_GT(balance_error(3.5, 3.5 + 1e-10, 0.0, 1e-8), 1e-3);
}

TEST(Balances, OfHolesInTheSides) {
  const std::string holes = reader_tests::with_line("air_in",
                                                    "air_in = [ { where = \"side\", kind = \"holes\", size = "
                                                    "\"12 mm\", count = 60, heights = [\"10 cm\"] } ]");
  expect_closed(balances_of(holes + "base = { kind = \"closed\" }\ncells = [8, 12]\n"));
}

TEST(Balances, OfAHeldTemperature) {
  expect_closed(balances_with("cells = [8, 12]\nhold_temperature = \"50 degC\""));
}

}  // namespace
}  // namespace updraught
