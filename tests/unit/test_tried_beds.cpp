// Quantiles, pairs and influences over plausible beds.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "post/result/pairs.h"
#include "tests/unit/plausible.h"

namespace updraught {
namespace {

using made_up::beds;

constexpr double never = std::numeric_limits<double>::infinity();

TEST(Quantile, LiesOnStraightLinesBetweenValues) {
  EXPECT_DOUBLE_EQ(quantile({3.0, 1.0, 2.0}, 0.5), 2.0);
  EXPECT_DOUBLE_EQ(quantile({0.0, 10.0}, 0.1), 1.0);
  EXPECT_DOUBLE_EQ(quantile({4.0}, 0.9), 4.0);
  EXPECT_THROW(quantile({}, 0.5), std::invalid_argument);
}

TEST(Quantile, DrawsNoLineToInfinity) {
  EXPECT_EQ(quantile({1.0, 2.0, never}, 0.6), 2.0);
  EXPECT_EQ(quantile({1.0, 2.0, never}, 0.9), never);
  EXPECT_EQ(quantile({never, never}, 0.5), never);
}

TEST(BandOf, HoldsEightOfTen) {
  std::vector<double> values;
  for (int n = 0; n <= 100; ++n) values.push_back(n);
  const Band band = band_of(values);
  EXPECT_DOUBLE_EQ(band.low, 10.0);
  EXPECT_DOUBLE_EQ(band.high, 90.0);
}

TEST(Pairs, CancelWhatIsUncertainInBothAlike) {
  // Each design alone reaches from none to 90 %, and they overlap; bed by bed one is always 8 points better.
  std::vector<double> one;
  std::vector<double> other;
  for (int n = 0; n < 10; ++n) {
    one.push_back(0.09 * n);
    other.push_back(0.09 * n + 0.08);
  }
  const KeyFigure& airless = key_figure("airless_share");
  const Paired pairs = paired(beds(one), beds(other), airless);
  EXPECT_EQ(pairs.pairs, 10);
  EXPECT_EQ(pairs.below, 10);
  EXPECT_NEAR(pairs.middle, -0.08, 1e-12);
  EXPECT_NEAR(pairs.band.high, -0.08, 1e-12);
  EXPECT_TRUE(pairs.clearly_below());
  EXPECT_EQ(clearly_better(pairs, airless), 1) << "fewer hours without air are better";
  EXPECT_EQ(clearly_better(paired(beds(other), beds(one), airless), airless), -1);
}

TEST(Pairs, AreClearFromHalfOfThemOnWhereAtMostOneOfTenSpeaksAgainst) {
  const auto with = [](int above, int below, int alike) {
    std::vector<double> differences(std::size_t(above), 1.0);
    differences.insert(differences.end(), std::size_t(below), -1.0);
    differences.insert(differences.end(), std::size_t(alike), 0.05);
    return paired(differences, std::vector<double>(differences.size(), 0.1));
  };
  EXPECT_TRUE(with(5, 1, 4).clearly_above());
  EXPECT_FALSE(with(4, 0, 6).clearly_above()) << "fewer than half differ";
  EXPECT_FALSE(with(8, 2, 0).clearly_above()) << "two of ten speak against";
  EXPECT_TRUE(with(1, 9, 0).clearly_below());
  EXPECT_FALSE(with(0, 0, 10).clearly_above());
  EXPECT_FALSE(paired({}, {}).clearly_above());
  EXPECT_FALSE(with(9, 0, 0).clearly_above()) << "nine pairs are too few";
  EXPECT_THROW(paired({1.0}, {}), std::invalid_argument);
}

TEST(Pairs, LeaveOutBedsThatOnlyOneHas) {
  TriedBeds one = beds({0.1, 0.2, 0.3});
  TriedBeds other = beds({0.1, 0.2, 0.3});
  one.beds.erase(one.beds.begin());
  other.beds.pop_back();
  EXPECT_EQ(paired(one, other, key_figure("airless_share")).pairs, 1);
}

TEST(Pairs, HoldATimeThatNeverComesAgainstOneThatDoes) {
  const KeyFigure& from = key_figure("airs_from_day");
  const Paired pairs = paired(beds({0.9, 0.9}), beds({0.0, 0.9}), from);
  EXPECT_EQ(pairs.above, 1);
  EXPECT_EQ(pairs.below, 0) << "never against never is no difference";
}

TEST(Influences, NameTheInputThatGoesWithTheFigure) {
  const TriedBeds tried = beds({0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95});
  std::vector<double> values;
  for (const TriedBed& bed : tried.beds) values.push_back(-bed.course.airless_share);
  const auto found = influences(tried, values);
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].key, "a");
  EXPECT_NEAR(found[0].correlation, -1.0, 1e-12);
  EXPECT_LT(std::abs(found[1].correlation), 0.3);
  EXPECT_TRUE(influences(tried, std::vector<double>(10, 1.0)).empty());
  EXPECT_TRUE(influences(beds({0.1, 0.2}), {1.0, 2.0}).empty()) << "too few to rank";
  EXPECT_THROW(influences(tried, {1.0}), std::invalid_argument);
}

TEST(KeyFigures, AreNumbersOfACourse) {
  const Course c = made_up::course(0.7, 50.0, 33.0);
  EXPECT_EQ(key_figure("airless_share").value(c), 0.7);
  EXPECT_EQ(key_figure("airs_from_day").value(c), never);
  EXPECT_DOUBLE_EQ(key_figure("going_day").value(c), 1.5);
  EXPECT_EQ(key_figure("mean_temperature_c").value(c), 33.0);
  EXPECT_DOUBLE_EQ(counts_between(key_figure("mean_air_in_m3_h"), 1.0, -3.0), 0.3);
  EXPECT_THROW(key_figure("nothing"), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
