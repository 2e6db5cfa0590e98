// The shares of chips at which a bed tips, found by halving.
#include <gtest/gtest.h>

#include <cmath>

#include "post/result/chip_tips.h"
#include "tests/unit/plausible.h"

namespace updraught {
namespace {

/// A bed that keeps its air from one share on and gets hot up to another.
struct Bed {
  double airy_from;
  double hot_to;

  ShareTried at(double share) const {
    const bool airy = share >= airy_from - 1e-9;
    return {share, made_up::course(airy ? 0.0 : 0.8, airy && share <= hot_to + 1e-9 ? 65.0 : 45.0)};
  }
};

struct Found {
  ChipTips tips;
  int tries = 0;
};

Found search(const Bed& bed, double start, const TipAims& aims = {}) {
  std::vector<ShareTried> tried;
  for (int n = 0; n < 50; ++n) {
    const Tip least = least_with_air(tried, start, aims);
    if (least.next) {
      tried.push_back(bed.at(*least.next));
      continue;
    }
    if (!least.share) return {{1, {}, {}}, n};
    const Tip most = most_that_is_hot(tried, *least.share, aims);
    if (!most.next) return {{1, least.share, most.share}, n};
    tried.push_back(bed.at(*most.next));
  }
  ADD_FAILURE() << "the search does not end";
  return {};
}

TEST(ChipTips, AreFoundFromAnyStartToTheAskedFineness) {
  const TipAims aims;
  for (double from = 0.03; from < 0.7; from += 0.0537)
    for (const double start : {0.0, 0.3, 0.58, 0.7}) {
      const Bed bed{from, std::min(from + 0.04, 0.7)};
      const Found found = search(bed, start);
      ASSERT_TRUE(found.tips.least) << from << " from " << start;
      EXPECT_GE(*found.tips.least, from - 1e-9);
      EXPECT_LE(*found.tips.least, from + aims.fine + 1e-9);
      ASSERT_TRUE(found.tips.most) << from << " from " << start;
      EXPECT_LE(*found.tips.most, bed.hot_to + 1e-9);
      EXPECT_GE(*found.tips.most, bed.hot_to - aims.fine - 0.01);
      EXPECT_LE(found.tries, 14);
    }
}

TEST(ChipTips, NearTheirStartTakeFewTries) {
  EXPECT_LE(search({0.57, 0.63}, 0.58).tries, 8);
}

TEST(ChipTips, DoNotExistWhereNoShareHasAirOrIsHot) {
  const Found airless = search({2.0, 2.0}, 0.5);
  EXPECT_FALSE(airless.tips.least);
  EXPECT_FALSE(airless.tips.works(0.7));
  const Found cool = search({0.4, 0.0}, 0.5);
  ASSERT_TRUE(cool.tips.least);
  EXPECT_FALSE(cool.tips.most);
  EXPECT_FALSE(cool.tips.works(0.5));
}

TEST(ChipTips, LieAtTheEndsOfWhatMayBeTried) {
  const Found all = search({0.0, 1.0}, 0.5);
  EXPECT_EQ(all.tips.least, 0.0);
  EXPECT_NEAR(*all.tips.most, TipAims{}.most, 1e-9);
  EXPECT_TRUE(all.tips.works(0.3));
  EXPECT_FALSE(all.tips.works(0.71));
}

TEST(ChipTips, CountABedThatDriesAsNotHot) {
  Course dry = made_up::course(0.0, 65.0);
  EXPECT_TRUE(gets_hot(dry, {}));
  dry.moisture_at_end = 0.3;
  EXPECT_FALSE(gets_hot(dry, {}));
  dry.moisture_at_end = std::nan("");
  EXPECT_TRUE(gets_hot(dry, {})) << "a bed without a mass of its own cannot dry";
}

TEST(ChipTips, KeepTheirAirWhereTheDraughtStrikesEarlyAndLasts) {
  Course c = made_up::course(0.8);
  EXPECT_FALSE(keeps_air(c, {}));
  c.regained = 2.9 * 86400.0;
  EXPECT_TRUE(keeps_air(c, {}));
  c.died = 9.0 * 86400.0;
  EXPECT_FALSE(keeps_air(c, {}));
  c.died.reset();
  c.regained = 3.1 * 86400.0;
  EXPECT_FALSE(keeps_air(c, {}));
}

}  // namespace
}  // namespace updraught
