// The spaces under the lid and under the floor, and the water that trickles down to them (theory 5.4, 6).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/transport/air_spaces.h"
#include "solver/transport/water.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using step_tests::problem_of;
using step_tests::Ready;

/// A warm box under a lid, in the cold.
std::string warm_box(const std::string& lines) {
  return reader_tests::with_added("cells = [6, 10]\ninitial = { temperature = \"55 degC\" }\n" + lines);
}

std::size_t lid_of(const Bed& bed) {
  return at(node_index(bed, NodeKind::lid_space));
}

double node_ratio(const State& s, std::size_t node) {
  return s.node_vapour[node] / (s.node_dry_gas[node] * molar_water);
}

TEST(Nodes, AirUnderTheLidLiesBetweenBedAndOutside) {
  Ready ready(problem_of(warm_box("")));
  ready.march(6, 300.0);
  const double t = ready.state.node_temperature[lid_of(ready.bed)];
  EXPECT_GT(t, ready.work.frame.outside.temperature + 1.0);
  EXPECT_LT(t, 54.0);
}

TEST(Nodes, VapourBeyondSaturationCondenses) {
  Ready ready(problem_of(warm_box("")));
  ready.march(6, 300.0);
  const std::size_t lid = lid_of(ready.bed);
  const double saturated = ready.bed.setup->gas.vapour_ratio(ready.state.node_temperature[lid], 1.0);
  EXPECT_GT(ready.work.trial.condensed[lid], 0.0);
  EXPECT_NEAR(node_ratio(ready.state, lid), saturated, 1e-3 * saturated);
}

TEST(Nodes, AirThatIsJustSaturatedIsFound) {
  Ready ready(problem_of(warm_box("")));
  ready.march(6, 300.0);
  const std::size_t lid = lid_of(ready.bed);
  const int node = static_cast<int>(lid);
  auto& [frame, trial, books, work, air, mixing, memory] = ready.work;
  const NodeTerms terms = terms_of_cells(ready.bed, frame, trial)[lid];
  double& warmth = trial.temperature[at(ready.bed.grid.cells()) + lid];
  // The warmth outside at which vapour begins to condense, from either side closer and closer.
  double condenses = frame.outside.temperature, stays = 80.0;
  for (int n = 0; n < 60; ++n) {
    frame.outside.temperature = 0.5 * (condenses + stays);
    for (const double off : {-2.0, -3e-5, 3e-5, 2.0}) {
      warmth += off;
      EXPECT_TRUE(solve_node(ready.bed, ready.state, node, terms, frame, trial))
          << frame.outside.temperature << " degC outside, " << off << " K off";
    }
    (trial.condensed[lid] > 0.0 ? condenses : stays) = frame.outside.temperature;
  }
  EXPECT_GT(condenses, 0.0);
  EXPECT_LT(stays, 79.0);
}

TEST(Nodes, OverAColdBedNothingCondenses) {
  Ready ready(
      problem_of(reader_tests::with_added("cells = [6, 10]\ninitial = { temperature = \"3 degC\" }\n")));
  ready.march(4, 300.0);
  const std::size_t lid = lid_of(ready.bed);
  EXPECT_EQ(ready.work.trial.condensed[lid], 0.0);
  EXPECT_LT(node_ratio(ready.state, lid),
            ready.bed.setup->gas.vapour_ratio(ready.state.node_temperature[lid], 1.0));
}

TEST(Nodes, CondensateFallsBackOrLeavesAsTheCaseSays) {
  const auto drained = [](const char* drip) {
    Ready ready(problem_of(warm_box(std::string("lid = { kind = \"closed\", drip = \"") + drip + "\" }\n")));
    ready.march(6, 300.0);
    const double condensed = ready.work.trial.condensed[lid_of(ready.bed)];
    return std::pair{ready.work.books.rates[water_drained], condensed};
  };
  const auto [back, fell] = drained("back");
  const auto [away, left] = drained("away");
  EXPECT_GT(fell, 0.0);
  EXPECT_NEAR(away - back, left, 0.01 * left);
}

TEST(Nodes, SolvedSpaceKeepsItsHeatBalance) {
  Ready ready(problem_of(warm_box("")));
  ready.march(5, 300.0);
  const State before = ready.state;
  ready.march(1, 300.0);
  // What the space holds more than before is what the step booked for it.
  for (std::size_t n = 0; n < ready.bed.setup->nodes.size(); ++n) {
    const double gained = node_enthalpy(ready.bed, ready.state, static_cast<int>(n)) -
                          node_enthalpy(ready.bed, before, static_cast<int>(n));
    const double booked = ready.state.last_heat[at(ready.bed.grid.cells()) + n];
    EXPECT_NEAR(gained, booked, 1e-9 * (1.0 + std::abs(booked)));
    EXPECT_NEAR(ready.state.node_vapour[n] - before.node_vapour[n],
                ready.state.last_water[at(ready.bed.grid.cells()) + n], 1e-15);
  }
}

TEST(Nodes, BetterLidKeepsTheSpaceUnderItWarmer) {
  const auto warmth = [](const char* lid) {
    Ready ready(problem_of(warm_box(lid)));
    ready.march(6, 300.0);
    return ready.state.node_temperature[lid_of(ready.bed)];
  };
  EXPECT_GT(warmth("lid = [ { of = \"insulation board\", thick = \"50 mm\" } ]\n"), warmth("") + 1.0);
}

TEST(Nodes, WaterThatTricklesOutArrivesBelow) {
  Ready ready(
      problem_of(reader_tests::with_line(
                     "fill",
                     "fill = [ { what = \"woodchip, coarse\", buckets = 4 }, { what = \"vegetable scraps "
                     "(raw)\", buckets = 2 }, { what = \"water\", buckets = 1 } ]") +
                 "cells = [6, 10]\n"));
  ready.march(1, 300.0);
  drain(ready.bed, ready.state, ready.work.frame);
  const Grid& g = ready.bed.grid;
  const auto& out = ready.work.frame.drained;
  double leached = 0.0;
  for (int k = 0; k < g.nz; ++k)
    for (int i = 0; i < g.nx; ++i) {
      const double below = k > 0 ? drained_into(ready.work.frame, g, g.cell(i, 0, k - 1)) : 0.0;
      if (k == 0)
        leached += out[at(g.cell(i, 0, 0))];
      else
        EXPECT_EQ(below, out[at(g.cell(i, 0, k))]);
      if (k == g.nz - 1) {
        EXPECT_EQ(drained_into(ready.work.frame, g, g.cell(i, 0, k)), 0.0);
      }
    }
  EXPECT_GT(leached, 0.0);
}

TEST(Nodes, LeachateIsTheWaterThatIsMissing) {
  const Problem problem = problem_of(
      reader_tests::with_line("fill",
                              "fill = [ { what = \"woodchip, coarse\", buckets = 4 }, { what = \"vegetable "
                              "scraps (raw)\", buckets = 2 }, { what = \"water\", buckets = 1 } ]") +
      "cells = [6, 10]\nprescribed = { air_speed = \"0 m/s\", uptake = { law = \"none\" } }\n");
  Ready ready(problem);
  const auto held = [&] {
    double sum = 0.0;
    for (double water : ready.state.water) sum += water;
    for (double vapour : ready.state.node_vapour) sum += vapour;
    return sum;
  };
  const double before = held();
  ready.march(10, 1800.0);
  const auto& booked = ready.state.booked;
  EXPECT_GT(booked[water_drained], 0.1);
  EXPECT_NEAR(before - held(), booked[water_drained] + booked[water_out] - booked[water_in],
              1e-9 * booked[water_drained]);
}

}  // namespace
}  // namespace updraught
