// One time step and short runs: what must hold whatever the bed (theory 9).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/run.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

void expect_same_bits(const State& a, const State& b) {
  const auto fields = a.fields(), others = b.fields();
  for (std::size_t n = 0; n < fields.size(); ++n)
    EXPECT_TRUE(*fields[n].values == *others[n].values) << fields[n].name;
  EXPECT_EQ(a.clock, b.clock);
}

State end_of(Problem problem) {
  State last;
  Observer observer;
  observer.on_step = [&](const Grid&, const State& s, const SeriesRow&) { last = s; };
  run(problem, observer);
  return last;
}

TEST(Step, HeavierAirFlowsTheOtherWay) {
  Ready ready(problem_of(reader_tests::prescribed_case() +
                         "base = { kind = \"closed\" }\ncells = [12, 14]\nair = { kind = \"constant\" }\n"));
  const auto cells = at(ready.bed.grid.cells());
  const auto flow_of = [&](double sign) {
    GasState gas;
    gas.density.resize(cells);
    gas.dry_density.assign(cells, 40.0);
    gas.viscosity.assign(cells, 1.8e-5);
    gas.outside_density = 1.2;
    gas.outside_dry_density = 40.0;
    gas.outside_viscosity = 1.8e-5;
    for (std::size_t c = 0; c < cells; ++c)
      gas.density[c] = 1.2 + sign * 0.05 * std::cos(0.37 * static_cast<double>(c % 12));
    Flow flow;
    flow.pressure.assign(cells, 0.0);
    flow.faces.assign(cells, 0.0);
    FlowEngine(ready.work.memory)
        .solve(ready.bed, ready.work.frame.now, gas, {}, StorageRate(cells, 0.0), true, flow);
    return flow;
  };
  const Flow light = flow_of(-1.0), heavy = flow_of(1.0);
  double largest = 0.0, sum = 0.0;
  for (std::size_t c = 0; c < cells; ++c) {
    largest = std::max(largest, std::abs(light.faces.z[c]));
    sum = std::max(sum, std::abs(light.faces.z[c] + heavy.faces.z[c]));
    sum = std::max(sum, std::abs(light.faces.x[c] + heavy.faces.x[c]));
  }
  EXPECT_GT(largest, 0.0);
  EXPECT_LT(sum, 1e-6 * largest);
}

TEST(Step, ABoxAlikeOnAllSidesStaysEvenAboutItsMiddle) {
  const Problem problem = problem_of(with_added("cells = [8, 8, 8]\ndays = 1"));
  const State s = end_of(problem);
  const Grid g = make_bed(problem).grid;
  double warmth = 0.0, oxygen = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = at(g.cell(i, j, k));
        for (const int other : {g.cell(g.nx - 1 - i, j, k), g.cell(i, g.ny - 1 - j, k)}) {
          warmth = std::max(warmth, std::abs(s.temperature[c] - s.temperature[at(other)]));
          oxygen = std::max(
              oxygen, std::abs(s.oxygen[c] / s.dry_gas[c] - s.oxygen[at(other)] / s.dry_gas[at(other)]));
        }
      }
  EXPECT_LT(warmth, 1e-3);
  EXPECT_LT(oxygen, 1e-5);
}

void expect_closed(const std::string& text) {
  const Balances b = run(problem_of(text + "days = 1\n")).balances;
  for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) EXPECT_LT(error, 1e-10);
}

/// The sound case with other ways in and out.
std::string with_openings(const std::string& in, const std::string& out, const std::string& lines) {
  std::string text = reader_tests::with_line("air_in", "air_in = [ " + in + " ]");
  const std::string usual = "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]";
  return text.replace(text.find(usual), usual.size(), "air_out = [ " + out + " ]") + lines;
}

TEST(Step, BalancesCloseWithHolesAndSlotsAllRound) {
  for (const char* cells : {"cells = [8, 12]\n", "cells = [8, 8, 10]\n"})
    expect_closed(
        with_openings("{ where = \"side\", kind = \"holes\", size = \"12 mm\", count = 40, heights = [\"10 "
                      "cm\", \"40 cm\"] }, "
                      "{ where = \"side\", kind = \"slots\", size = \"4 mm\", heights = [\"25 cm\"] }",
                      "{ where = \"lid\", kind = \"holes\", size = \"20 mm\", count = 6 }", cells));
}

TEST(Step, BalancesCloseWithASpaceUnderTheFloorAndAnInlet) {
  expect_closed(with_openings(
      "{ where = \"base\", kind = \"slots\", size = \"5 mm\", length = \"4 m\" }",
      "{ where = \"lid\", kind = \"mesh\", open = 0.1 }",
      "base = { kind = \"raised\", height = \"8 cm\", inlet = \"60 cm2\" }\ncells = [8, 12]\n"));
}

TEST(Step, BalancesCloseUnderAnOpenTopWithAFan) {
  expect_closed(with_openings(
      "{ where = \"base\", kind = \"holes\", size = \"15 mm\", count = 30, pressure = \"20 Pa\" }",
      "{ where = \"top\", kind = \"open\" }", "lid = \"none\"\ncells = [8, 12]\n"));
}

TEST(Step, BalancesCloseWithOneHoleInTheFloor) {
  expect_closed(with_openings("{ where = \"base\", kind = \"hole\", size = \"50 mm\" }",
                              "{ where = \"lid\", kind = \"slots\", size = \"8 mm\", length = \"1 m\" }",
                              "cells = [8, 8, 10]\n"));
}

TEST(Step, AStepDependsOnNothingButTheState) {
  const Problem problem = problem_of(with_added("cells = [6, 10]"));
  Ready tried(problem);
  tried.march(4, 300.0);
  Ready fresh(problem);
  fresh.state = tried.state;
  fresh.bed = tried.bed;
  const State before = tried.state;
  // A step that is tried and thrown away.
  Phases seconds;
  const Advanced thrown = advance(tried.bed, tried.state, 20000.0, tried.work, seconds);
  EXPECT_NE(thrown.bed.grid.dz, tried.bed.grid.dz);
  expect_same_bits(tried.state, before);
  tried.march(2, 400.0);
  fresh.march(2, 400.0);
  expect_same_bits(tried.state, fresh.state);
}

void expect_same_for_any_threads(const std::string& lines) {
  Problem problem = problem_of(with_added(lines));
  problem.threads = 1;
  const State one = end_of(problem);
  for (const int threads : {2, 3, 7}) {
    problem.threads = threads;
    expect_same_bits(one, end_of(problem));
  }
}

TEST(Step, SmallBedsHaveTheSameBitsForAnyThreads) {
  expect_same_for_any_threads("cells = [8, 8, 10]\ndays = 0.5");
}

TEST(Step, LargeBedsHaveTheSameBitsForAnyThreads) {
  ASSERT_LT(parallel_threshold, 28u * 28u * 28u);
  expect_same_for_any_threads("cells = [28, 28, 28]\ndays = 0.01");
}

}  // namespace
}  // namespace updraught
