// Beds whose grid holds closed cells: what they do must be what the open cells alone do.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

constexpr double step = 300.0;

/// A grid with a shell of cells more, as wide as their neighbours: `low` and `high` columns at either end of
/// both directions of the plan.
Grid with_shell(const Grid& g, int low, int high) {
  const auto longer = [&](const std::vector<double>& edges) {
    const double first = edges[1] - edges[0], last = edges.back() - edges[edges.size() - 2];
    std::vector<double> out(at(low));
    for (int n = 0; n < low; ++n) out[at(n)] = n * first;
    for (const double edge : edges) out.push_back(edge + low * first);
    for (int n = 0; n < high; ++n) out.push_back(out.back() + last);
    return out;
  };
  const Grid larger = box_grid(longer(g.x), longer(g.y), g.dz);
  return closed_but(
      larger, [&](int i, int j, int) { return i >= low && i < low + g.nx && j >= low && j < low + g.ny; });
}

/// A box at work: warm, and rotting.
Problem box() {
  Problem problem = problem_of(with_added("cells = [6, 7, 8]\nmode = \"whole\""));
  problem.initial.temperature = 40.0;
  for (Batch& batch : problem.batches) batch.activity = batch.heat_loving_activity = 0.5;
  return problem;
}

TEST(ClosedCells, OfAShellAreTrimmedAwayBitForBit) {
  const Problem problem = box();
  Ready plain(problem);
  const Grid plan = make_bed(problem).grid;
  Ready within(lay_bed(make_bed(problem, trimmed(with_shell(plan, 0, 3)))));
  plain.march(5, step);
  within.march(5, step);
  EXPECT_EQ(within.bed.grid.patches, plain.bed.grid.patches);
  for (std::size_t n = 0; n < plain.state.fields().size(); ++n)
    EXPECT_EQ(*within.state.fields()[n].values, *plain.state.fields()[n].values)
        << plain.state.fields()[n].name;
}

// Sums go another way round, and passes end within their tolerance, not to the last bit.
TEST(ClosedCells, OfAShellLeaveABedAsItIsWithout) {
  const Problem problem = box();
  Ready plain(problem);
  const Grid plan = make_bed(problem).grid;
  Ready within(lay_bed(make_bed(problem, with_shell(plan, 2, 1))));
  plain.march(8, step);
  within.march(8, step);
  const Grid &a = plain.bed.grid, &b = within.bed.grid;
  ASSERT_EQ(b.nx, a.nx + 3);
  EXPECT_NEAR(b.height(), a.height(), 1e-8);
  EXPECT_NEAR(b.volume(), a.volume(), 1e-8);
  double moved = 0.0;
  for (int j = 0; j < a.ny; ++j)
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const auto here = at(a.cell(i, j, k)), there = at(b.cell(i + 2, j + 2, k));
        moved = std::max(moved, std::abs(plain.state.temperature[here] - problem.initial.temperature));
        EXPECT_NEAR(within.state.temperature[there], plain.state.temperature[here], 1e-4);
        EXPECT_NEAR(within.state.oxygen[there] / plain.state.oxygen[here], 1.0, 1e-4);
        EXPECT_NEAR(within.state.water[there] / plain.state.water[here], 1.0, 1e-6);
      }
  EXPECT_GT(moved, 1.0) << "nothing happened that could differ";
}

/// The open cells of a plan whose columns lie in a circle that touches its sides.
Grid cylinder_in(const Grid& plan) {
  const double radius = 0.5 * plan.x.back();
  return closed_but(plan, [&](int i, int j, int) {
    return std::hypot(plan.centre_x(i) - radius, plan.centre_y(j) - radius) < radius;
  });
}

TEST(ClosedCells, RoundACylinderHoldItsVolumeAndItsWall) {
  std::vector<double> edges;
  for (int n = 0; n <= 40; ++n) edges.push_back(n / 40.0);
  const Grid g = cylinder_in(box_grid(edges, edges, {0.25, 0.25}));
  EXPECT_NEAR(g.volume(), 0.5 * std::numbers::pi / 4.0, 0.01);
  EXPECT_NEAR(g.area_of(Boundary::floor), std::numbers::pi / 4.0, 0.01);
  EXPECT_NEAR(g.area_of(Boundary::top), g.area_of(Boundary::floor), 1e-12);
  // A staircase round a circle is as long as the square round it.
  EXPECT_NEAR(g.perimeter(0), 4.0, 1e-12);
  EXPECT_NEAR(g.area_of(Boundary::wall), 2.0, 1e-12);
}

TEST(ClosedCells, RoundACylinderKeepAllBalances) {
  Problem problem = box();
  problem.cells = {12, 12, 8, true};
  problem.wall_lane = false;
  const Grid plan = cylinder_in(make_bed(problem).grid);
  Ready ready(lay_bed(make_bed(problem, plan)));
  const Inventory before = inventory(ready.bed, ready.state);
  ready.march(20, step);
  Balances b;
  close_balances(ready.bed, before, inventory(ready.bed, ready.state), ready.state, b);
  for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) EXPECT_LT(error, 1e-9);
  const Grid& g = ready.bed.grid;
  for (int cell = 0; cell < g.cells(); ++cell) {
    if (!g.open(cell)) {
      EXPECT_EQ(ready.state.temperature[at(cell)], problem.initial.temperature);
    }
    EXPECT_TRUE(std::isfinite(ready.state.temperature[at(cell)]));
    const double share = ready.state.oxygen[at(cell)] / ready.state.dry_gas[at(cell)];
    EXPECT_TRUE(share >= 0.0 && share < 0.2096) << share;
  }
}

TEST(ClosedCells, AboveAndBelowABedGiveItAFloorAndATopWhereItEnds) {
  const Grid g = closed_but(box_grid({0.0, 0.5, 1.0}, {0.0, 1.0}, {0.1, 0.2, 0.3, 0.4}),
                            [](int i, int, int k) { return i == 0 ? k < 2 : k > 0; });
  std::vector<std::pair<int, Boundary>> ends;
  for (const Patch& patch : g.patches)
    if (patch.boundary != Boundary::wall) ends.emplace_back(patch.cell, patch.boundary);
  const std::vector<std::pair<int, Boundary>> expected{{g.cell(0, 0, 0), Boundary::floor},
                                                       {g.cell(0, 0, 1), Boundary::top},
                                                       {g.cell(1, 0, 1), Boundary::floor},
                                                       {g.cell(1, 0, 3), Boundary::top}};
  EXPECT_EQ(ends, expected);
  EXPECT_EQ(g.area_z(0, 0, g.nz), 0.0);
  EXPECT_EQ(g.area_z(1, 0, g.nz), 0.5);
  EXPECT_EQ(g.area_x(1, 0, 0), 0.0);
  EXPECT_GT(g.area_x(1, 0, 1), 0.0);
  EXPECT_THROW(closed_but(g, [](int, int, int) { return false; }), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
