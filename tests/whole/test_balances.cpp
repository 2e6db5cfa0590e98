// The five balances of whole runs, recomputed from result.h5 alone by a script that shares no line with the
// program; and the same script must find a leak of a millionth that is planted in the solver.
#include <gtest/gtest.h>

#include "cases/run/compute.h"
#include "post/store/store_read.h"
#include "solver/balance/balances.h"
#include "tests/unit/run_python.h"
#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

const std::vector<std::string> balance_names{"dry_gas", "oxygen", "heat", "water", "dry_mass"};

/// Runs a case as `updraught run` does and leaves its store alone in the folder.
fs::path store_of(const Folder& folder, const std::string& text, std::optional<PlantedLeak> leak = {}) {
  ReadOutcome outcome = read_case_text(text, "box.toml");
  if (!outcome.read) throw std::runtime_error(to_text(outcome.mistakes));
  outcome.read->problem.planted_leak = leak;
  Progress progress(stderr, false, Verbosity::quiet);
  Computation computation = compute(*outcome.read, folder.path(), progress);
  const fs::path path = computation.store->path();
  computation.store->finish(computation.result);
  return path;
}

made_up::Printed recomputed(const fs::path& store) {
  return made_up::run_python("'" UPDRAUGHT_SOURCE_DIR "/tests/whole/recompute_balances.py' '" +
                             store.string() + "'");
}

std::string with(const std::string& name, const std::string& part, const std::string& by) {
  return replaced(ready_case(name), part, by) + "detail = \"quick\"\n";
}

const std::string seven_days = "days     = 7\n";

class Balances : public testing::Test {
 protected:
  void SetUp() override { ASSERT_TRUE(made_up::python_has("h5py")) << "the set-up script installs it"; }
};

/// Checks a run; returns its last state.
State expect_closed(const std::string& name, const std::string& text) {
  const Folder folder("balances_" + name);
  const fs::path store = store_of(folder, text);
  const made_up::Printed said = recomputed(store);
  EXPECT_EQ(said.status, 0) << name << ":\n" << said.text;
  for (const std::string& balance : balance_names) {
    EXPECT_FALSE(said[balance].empty()) << said.text;
    EXPECT_LE(std::stod(said[balance]), 1e-8) << name << ": " << balance;
  }
  return read_state(store, state_times(store).size() - 1);
}

TEST_F(Balances, OfAVentedBase) {
  expect_closed("base", with("allotment-box", seven_days, seven_days));
}

TEST_F(Balances, OfSideHoles) {
  expect_closed("holes", with("allotment-box-side-holes", seven_days, seven_days));
}

TEST_F(Balances, OfARoundBin) {
  expect_closed("round", replaced(ready_case("school-round"), "days", "detail = \"quick\"\ndays"));
}

TEST_F(Balances, OfABoxInAllThreeDirections) {
  expect_closed("whole", replaced(ready_case("allotment-box"), seven_days, "days = 2\n") +
                             "mode = \"whole\"\ncells = [8, 8, 10]\n");
}

TEST_F(Balances, OfABoxThatTheWindBlowsThrough) {
  const std::string windy = replaced(ready_case("allotment-box-side-holes"), "wind = \"1 m/s\"",
                                     "wind = \"3 m/s\", shift = \"-4 K\"");
  expect_closed("windy",
                replaced(windy, seven_days, "days = 2\n") + "mode = \"whole\"\ncells = [8, 8, 10]\n");
}

TEST_F(Balances, OfAClosedBase) {
  const std::string closed = replaced(ready_case("allotment-box-side-holes"), "air_in ", "# air_in ");
  expect_closed("closed", replaced(closed, seven_days, "days = 3\n") + "detail = \"quick\"\n");
}

TEST_F(Balances, OfAWetBedThatDrainsOnABaseOfChips) {
  const std::string wet =
      replaced(ready_case("allotment-box"),
               "fill     = [ { what = \"kitchen waste\", buckets = 3 }, { what = \"grass clippings\", "
               "buckets = 1 }, { what "
               "= \"woodchip, coarse\", buckets = 2 } ]",
               "layers = [ { depth = \"10 cm\", fill = [ { what = \"woodchip, coarse\", buckets = 1 } ] },\n"
               "{ depth = \"50 cm\", fill = [ { what = \"sodden\", buckets = 3 }, { what = \"water\", "
               "buckets = 0.7 }, { what = \"woodchip, "
               "coarse\", buckets = "
               "2 } ] } ]\nfeedstocks = { sodden = { like = \"kitchen waste\", moisture = \"88 %\", "
               "water_capacity = 3 } }");
  const State end = expect_closed("wet", replaced(replaced(wet, "depth    = \"0.7 m\"\n", ""), seven_days,
                                                  "days = 3\ndetail = \"quick\"\n"));
  EXPECT_GT(end.booked[water_drained], 0.1);
}

TEST_F(Balances, OfAColdLidWhoseDripIsDrained) {
  const std::string cold = replaced(still_case("allotment-box"), "temperature = \"15 degC\"",
                                    "daily = { low = \"-8 degC\", high = \"6 degC\" }");
  const State end = expect_closed(
      "drip", replaced(replaced(cold, "lid      = [", "lid = { kind = \"closed\", drip = \"away\" } #"),
                       seven_days, "days = 3\ndetail = \"quick\"\n"));
  EXPECT_GT(end.booked[water_drained], 0.1);
}

TEST_F(Balances, WhenMicrobesMakeLessCarbonDioxideThanTheyUseOxygen) {
  expect_closed("quotient", with("allotment-box", seven_days, "days = 3\nmicrobes = { quotient = 0.8 }\n"));
}

struct Planted {
  PlantedLeak::Of of;
  std::string balance;
};

class ALeak : public Balances, public testing::WithParamInterface<Planted> {};

// The leak is a millionth of the turnover, so the balance must miss by a millionth: no more, no less.
TEST_P(ALeak, OfAMillionthIsFound) {
  const Folder folder("leak_" + GetParam().balance);
  const std::string text = with("allotment-box", seven_days, "days = 2\n");
  const made_up::Printed said = recomputed(store_of(folder, text, PlantedLeak{GetParam().of, 1e-6}));
  EXPECT_NE(said.status, 0) << said.text;
  EXPECT_NE(said.text.find("NOT within"), std::string::npos) << said.text;
  EXPECT_NEAR(std::stod(said[GetParam().balance]), 1e-6, 2e-8) << said.text;
}

INSTANTIATE_TEST_SUITE_P(Planted, ALeak,
                         testing::Values(Planted{PlantedLeak::Of::dry_gas, "dry_gas"},
                                         Planted{PlantedLeak::Of::oxygen, "oxygen"},
                                         Planted{PlantedLeak::Of::heat, "heat"},
                                         Planted{PlantedLeak::Of::water, "water"},
                                         Planted{PlantedLeak::Of::dry_mass, "dry_mass"}),
                         [](const auto& planted) { return planted.param.balance; });

}  // namespace
}  // namespace updraught::whole
