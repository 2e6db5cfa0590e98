// Matter mixed within a bed: nothing gets lost, and a bed mixed at once is one that was laid mixed.
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "solver/bed/enthalpy.h"
#include "solver/bed/mix_cells.h"
#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

/// A case of several materials, told by amounts alone.
Problem by_amounts() {
  Problem p = problem_of(with_added("cells = [5, 12]\nmode = \"rings\""));
  std::vector<Portion>& portions = p.batches.front().portions;
  double mass = 0.0;
  for (const Portion& part : portions) mass += part.mass;
  for (Portion& part : portions) part.mass *= 250.0 / mass;
  p.batches.front().depth = 0.0;
  return p;
}

/// The same materials in two layers: the first material below, the rest on top.
Problem in_layers() {
  Problem p = by_amounts();
  std::vector<Portion>& all = p.batches.front().portions;
  Batch below = p.batches.front();
  below.portions = {all.front()};
  all.erase(all.begin());
  p.batches.insert(p.batches.begin(), below);
  return p;
}

std::vector<int> all_cells(const Laid& laid) {
  std::vector<int> cells(at(laid.bed.grid.cells()));
  std::iota(cells.begin(), cells.end(), 0);
  return cells;
}

TEST(MixCells, AtOnceGivesTheBedThatWasLaidMixed) {
  ASSERT_GT(by_amounts().batches.front().portions.size(), 1U);
  const Laid layered = lay_bed(in_layers()), whole = lay_bed(by_amounts());
  Laid mixed = mix_cells(layered, all_cells(layered));
  const Blend &a = blend_of(mixed.bed, mixed.state, 0), &b = blend_of(whole.bed, whole.state, 0);
  EXPECT_NEAR(a.water, b.water, 1e-12);
  EXPECT_NEAR(a.mixing, b.mixing, 1e-12);
  EXPECT_NEAR(a.soft_porosity, b.soft_porosity, 1e-12);
  EXPECT_NEAR(a.chip_share, b.chip_share, 1e-12);
  EXPECT_NEAR(a.carbon_nitrogen, b.carbon_nitrogen, 1e-9);
  settle_bed(mixed.bed, mixed.state);
  const double height = std::accumulate(mixed.state.thickness.begin(), mixed.state.thickness.end(), 0.0);
  // The layers weigh what they weighed, so the same column is cut elsewhere.
  EXPECT_NEAR(height / whole.bed.grid.height(), 1.0, 2e-3);
  EXPECT_GT(std::abs(layered.bed.grid.height() / height - 1.0), 0.01) << "mixing should have moved the top";
}

TEST(MixCells, KeepsMatterAndWarmth) {
  Ready ready(in_layers());
  ready.march(6, 900.0);
  for (std::size_t c = 0; c < ready.state.temperature.size(); ++c)
    ready.state.temperature[c] += 0.2 * static_cast<double>(c);
  const Inventory before = inventory(ready.bed, ready.state);
  const Laid mixed = mix_cells(ready, all_cells(ready));
  const Inventory after = inventory(mixed.bed, mixed.state);
  EXPECT_NEAR(after.dry_mass / before.dry_mass, 1.0, 1e-13);
  EXPECT_NEAR(after.water / before.water, 1.0, 1e-13);
  EXPECT_NEAR(after.heat / before.heat, 1.0, 1e-11);
  EXPECT_EQ(after.oxygen, before.oxygen);
  for (std::size_t c = 1; c < mixed.state.temperature.size(); ++c) {
    EXPECT_EQ(mixed.state.temperature[c], mixed.state.temperature[0]);
    EXPECT_EQ(mixed.state.mixture[c], 2.0);
  }
}

TEST(MixCells, OfPartOfABedLeaveTheRestAndTheStepsGoOn) {
  Ready ready(in_layers());
  ready.march(4, 600.0);
  std::vector<int> inner;
  for (int cell = 0; cell < ready.bed.grid.cells(); ++cell)
    if (cell % ready.bed.grid.nx < 2) inner.push_back(cell);
  Ready mixed(Laid{ready.bed, ready.state});
  Laid after = mix_cells(ready, inner);
  const int outer = ready.bed.grid.nx - 1;
  EXPECT_EQ(after.state.water[at(outer)], ready.state.water[at(outer)]);
  EXPECT_NE(after.state.mixture[0], after.state.mixture[at(outer)]);
  mixed.bed = after.bed;
  mixed.state = after.state;
  const Inventory start = inventory(mixed.bed, mixed.state);
  mixed.state.booked.assign(booked_count, 0.0);
  mixed.march(6, 600.0);
  Balances b;
  close_balances(mixed.bed, start, inventory(mixed.bed, mixed.state), mixed.state, b);
  for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) EXPECT_LT(error, 1e-9);
}

TEST(MixCells, RefusesWhereThereIsNothing) {
  const Laid laid = lay_bed(in_layers());
  EXPECT_THROW(mix_cells(laid, {}), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
