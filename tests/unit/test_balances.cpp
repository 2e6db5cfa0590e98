// The five balances of whole runs close: what cells and spaces hold at both ends against what was booked on
// the way (theory 9.7).
#include <gtest/gtest.h>

#include <string>

#include "cases/reader/read_case.h"
#include "solver/run.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

/// A day of a case on few cells.
Balances balances_of(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text + "days = 1\n", "box.toml");
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  return outcome.read ? run(outcome.read->problem).balances : Balances{};
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
  const std::string sealed = reader_tests::with_line("air_in", "base = { kind = \"closed\" }");
  const std::string out = "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n";
  std::string text = sealed;
  text.erase(text.find(out), out.size());
  expect_closed(balances_of(text + "cells = [8, 12]\n"));
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
