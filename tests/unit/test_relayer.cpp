// Layers joined to make room on top: thin ones first, and nothing gets lost.
#include <gtest/gtest.h>

#include <algorithm>
#include <memory>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/bed/relayer.h"
#include "solver/step/march.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using step_tests::problem_of;
using step_tests::Ready;

using Groups = std::vector<int>;

TEST(Relayer, ThinNeighboursJoinFirstAndTheLowestLast) {
  const Groups one(6, 0);
  EXPECT_EQ(joined_layers({1, 5, 1, 1, 5, 5}, one, 6), (Groups{0, 1, 2, 3, 4, 5}));
  EXPECT_EQ(joined_layers({1, 5, 1, 1, 5, 5}, one, 5), (Groups{0, 1, 2, 2, 3, 4}));
  EXPECT_EQ(joined_layers({1, 1, 4, 4, 4, 4}, one, 4), (Groups{0, 1, 1, 2, 2, 3}));
  EXPECT_EQ(joined_layers({1, 1, 4, 4, 4, 4}, one, 2), (Groups{0, 1, 1, 1, 1, 1}));
  EXPECT_EQ(joined_layers({1, 1, 4, 4, 4, 4}, one, 1), one);
}

TEST(Relayer, BordersOfMaterialsStayAsLongAsThereIsAnythingThinWithinThem) {
  EXPECT_EQ(joined_layers({3, 1, 1, 3, 3}, {0, 0, 1, 1, 1}, 4), (Groups{0, 1, 2, 2, 3}));
  EXPECT_EQ(joined_layers({3, 1, 1, 9, 9}, {0, 0, 1, 1, 1}, 4), (Groups{0, 1, 1, 2, 3}));
}

TEST(Relayer, RefusesWhatThereIsNot) {
  EXPECT_THROW(joined_layers({1, 1}, {0, 0}, 3), std::invalid_argument);
  EXPECT_THROW(joined_layers({1, 1}, {0, 0}, 0), std::invalid_argument);
  EXPECT_THROW(joined_layers({1, 1}, {0}, 1), std::invalid_argument);
}

/// Chips below the mix, marched until it is warm and uneven.
Ready layered_bed() {
  Problem p =
      problem_of(with_added("mode = \"rings\"\ncells = [5, 12]\ninitial = { temperature = \"35 degC\" }"));
  Batch chips = p.batches.front();
  std::erase_if(chips.portions, [](const Portion& part) { return !part.feedstock.chips; });
  p.batches.front().depth = 0.4;
  chips.depth = 0.2;
  p.batches.insert(p.batches.begin(), chips);
  Ready ready(p);
  ready.march(12, 1800.0);
  return ready;
}

TEST(Relayer, KeepsMatterGasAndWarmth) {
  for (const int layers : {1, 4, 9, 11}) {
    const Ready ready = layered_bed();
    const Inventory before = inventory(ready.bed, ready.state);
    const Laid after = with_room_on_top(ready, layers);
    const Inventory now = inventory(after.bed, after.state);
    EXPECT_NEAR(now.dry_mass / before.dry_mass, 1.0, 1e-13);
    EXPECT_NEAR(now.water / before.water, 1.0, 1e-13);
    EXPECT_NEAR(now.dry_gas / before.dry_gas, 1.0, 1e-13);
    EXPECT_NEAR(now.oxygen / before.oxygen, 1.0, 1e-13);
    EXPECT_NEAR(now.carbon_dioxide / before.carbon_dioxide, 1.0, 1e-13);
    EXPECT_NEAR(now.heat / before.heat, 1.0, 1e-11);
    for (int k = 0; k < 12; ++k) EXPECT_EQ(after.state.thickness[at(k)] == 0.0, k >= 12 - layers) << k;
    EXPECT_EQ(after.state.clock.since_event, 0.0);
  }
}

TEST(Relayer, JoinedCellsLieBetweenTheirPartsAndCountTheHoursOfTheWorse) {
  Ready ready = layered_bed();
  for (std::size_t c = 0; c < ready.state.hours_hot.size(); ++c) {
    ready.state.hours_hot[c] = static_cast<double>(c % 7);
    ready.state.hours_airless[c] = static_cast<double>(c % 5);
  }
  const State& was = ready.state;
  const Laid after = with_room_on_top(ready, 10);  // all but the lowest layer in one
  const Grid& g = ready.bed.grid;
  for (int i = 0; i < g.nx; ++i) {
    const auto of_column = [&](const std::vector<double>& field) {
      std::vector<double> values;
      for (int k = 1; k < g.nz; ++k) values.push_back(field[at(g.cell(i, 0, k))]);
      const auto [least, most] = std::minmax_element(values.begin(), values.end());
      return std::pair(*least, *most);
    };
    const auto joined = at(g.cell(i, 0, 1));
    for (const auto field : {&State::temperature, &State::pressure}) {
      const auto [low, high] = of_column(was.*field);
      EXPECT_GE((after.state.*field)[joined], low - 1e-9);
      EXPECT_LE((after.state.*field)[joined], high + 1e-9);
    }
    EXPECT_EQ(after.state.hours_hot[joined], of_column(was.hours_hot).first);
    EXPECT_EQ(after.state.hours_airless[joined], of_column(was.hours_airless).second);
    EXPECT_EQ(after.state.flux_z[joined], was.flux_z[joined]);
    EXPECT_EQ(after.state.temperature[at(g.cell(i, 0, 0))], was.temperature[at(g.cell(i, 0, 0))]);
  }
}

TEST(Relayer, BlendsThatNoCellHoldsAreForgotten) {
  const Laid joined = with_room_on_top(layered_bed(), 11), again = with_room_on_top(joined, 11);
  ASSERT_EQ(joined.bed.setup->blends.size(), 3U);
  const Laid present = with_present_mixtures(again);
  // Those of the two layers that were laid stay, and the one that all of it has become.
  ASSERT_EQ(present.bed.setup->blends.size(), 3U);
  Laid unused = layered_bed();
  updraught::Setup more = *unused.bed.setup;
  more.blends.insert(more.blends.begin() + 2, 3, more.blends.front());
  more.recipes.insert(more.recipes.begin() + 2, 3, more.recipes.front());
  more.blends.push_back(more.blends[1]);
  more.recipes.push_back(more.recipes[1]);
  unused.bed.setup = std::make_shared<const updraught::Setup>(more);
  unused.state.mixture.back() = 5.0;
  const Laid left = with_present_mixtures(unused);
  ASSERT_EQ(left.bed.setup->blends.size(), 3U);
  EXPECT_EQ(left.bed.setup->recipes.size(), 3U);
  EXPECT_EQ(left.state.mixture.back(), 2.0);
  EXPECT_EQ(left.bed.setup->blends[2].chip_share, more.blends[1].chip_share);
  for (std::size_t c = 0; c + 1 < left.state.mixture.size(); ++c)
    EXPECT_EQ(left.state.mixture[c], unused.state.mixture[c]);
}

TEST(Relayer, WhatIsJoinedOfTwoMaterialsIsABlendOfBoth) {
  const Ready ready = layered_bed();
  const Laid after = with_room_on_top(ready, 11);  // all in one layer
  ASSERT_EQ(after.bed.setup->blends.size(), 3U);
  EXPECT_EQ(after.state.mixture[0], 2.0);
  const double chips = after.bed.setup->blends[2].chip_share;
  EXPECT_LT(chips, ready.bed.setup->blends[0].chip_share);
  EXPECT_GT(chips, ready.bed.setup->blends[1].chip_share);
  // Each feedstock stands in the recipe once.
  EXPECT_EQ(after.bed.setup->recipes[2].size(), 2U);
  EXPECT_EQ(with_room_on_top(ready, 2).bed.setup->blends.size(), 2U) << "there is enough to join elsewhere";
}

}  // namespace
}  // namespace updraught
