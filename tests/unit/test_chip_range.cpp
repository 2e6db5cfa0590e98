// The range of woodchip that works, from the case as it is and from plausible beds.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "post/answer/chip_range.h"
#include "post/words/words.h"
#include "tests/unit/plausible.h"

namespace updraught {
namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string all_of(const std::vector<std::string>& sentences) {
  std::string text;
  for (const std::string& sentence : sentences) text += sentence + "\n";
  return text;
}

BlendPoint point(double share, double airless, double hottest, double base = 0.3) {
  return {share, made_up::course(airless, hottest), base};
}

/// Air from 45 % on, hot up to 62 %; ten plausible beds around that.
SweptChips swept() {
  SweptChips out;
  for (const double share : {0.2, 0.4, 0.44, 0.46, 0.5, 0.6, 0.62, 0.64, 0.8})
    out.points.push_back(
        point(share, share >= 0.45 ? 0.0 : 0.8, share <= 0.62 ? 65.0 : 50.0, share < 0.42 ? 0.15 : 0.3));
  out.asked = {0, 0.46, 0.62};
  out.inputs = {{"a", "", 0.0, 0.5, 1.0, UncertainInput::Distribution::triangular, "",
                 "how fine the pores are", "a bucket test tells"}};
  out.sample = made_up::beds(std::vector<double>(10, 0.0));
  for (int n = 0; n < 10; ++n) out.beds.push_back({n + 1, 0.40 + 0.01 * n, 0.60 + 0.01 * n});
  return out;
}

TEST(ChipRange, BeginsWithTheAnswerAndNamesTheReasonsAtBothEnds) {
  const ChipRange range = chip_range(swept(), {}, 14.0);
  EXPECT_EQ(
      range.verdict[0],
      "Chips work from 46 % of the buckets (6 buckets of chips to 7 of the rest; likely 41 to 48 %) to 62 % "
      "(8 buckets of chips to 5 of the rest; likely 61 to 68 %).");
  EXPECT_TRUE(has(range.verdict[1], "it works in all plausible beds.")) << range.verdict[1];
  EXPECT_TRUE(
      has(range.verdict[2], "With fewer chips too little air gets in (at 44 % 80 % of the bed's hours"))
      << range.verdict[2];
  EXPECT_TRUE(has(range.verdict[3], "With more chips it is not hot for long enough (at 64 %"))
      << range.verdict[3];
  EXPECT_TRUE(
      has(all_of(range.verdict), "what moves it most is how fine the pores are (a bucket test tells)"));
}

TEST(ChipRange, CountsInHowManyBedsAShareWorks) {
  const ChipRange range = chip_range(swept(), {}, 14.0);
  EXPECT_EQ(range.works_at(0.39), 0);
  EXPECT_EQ(range.works_at(0.44), 5);
  EXPECT_EQ(range.works_at(0.55), 10);
  EXPECT_EQ(range.works_at(0.65), 5);
  EXPECT_EQ(range.works_in, 10);
  EXPECT_NEAR(range.best, 0.55, 0.0101);
  EXPECT_EQ(range.beds_that_can_work(), 10);
}

TEST(ChipRange, SaysWhatPlausibleBedsLackAtTheSurestShare) {
  SweptChips mixed = swept();
  for (std::size_t n = 0; n < 4; ++n) mixed.beds[n] = {int(n) + 1, 0.70, 0.70};
  mixed.beds[4] = {5, 0.40, 0.42};
  const ChipRange range = chip_range(mixed, {}, 14.0);
  EXPECT_TRUE(has(range.verdict[1],
                  "it works in 5 of 10 plausible beds; in 4 of 10 it lacks air, in 1 of 10 it is "
                  "not hot for long enough or dries out."))
      << range.verdict[1];
}

TEST(ChipRange, NamesTheNearestMissAndAMendWhereNothingWorks) {
  SweptChips cold = swept();
  for (BlendPoint& p : cold.points) p.course.hours_hot = 10.0;
  cold.asked = {0, 0.46, {}};
  for (ChipTips& bed : cold.beds) bed.most.reset();
  const ChipRange range = chip_range(cold, {}, 14.0);
  EXPECT_TRUE(has(range.verdict[0], "No share of chips that was tried works. Nearest to it comes "))
      << range.verdict[0];
  EXPECT_TRUE(has(range.verdict[0], "not hot for long enough")) << range.verdict[0];
  EXPECT_TRUE(has(range.verdict[0], "what may help, not computed: a larger or better insulated bin"))
      << range.verdict[0];
  EXPECT_TRUE(has(range.verdict[1], "in any of the plausible beds")) << range.verdict[1];
  EXPECT_TRUE(to_json(range)["surest_share"].is_null());
}

TEST(ChipRange, TellsTheAims) {
  const std::string aims = aims_in_words({});
  EXPECT_TRUE(has(aims, "from day 3 on")) << aims;
  EXPECT_TRUE(has(aims, "above 55 °C for 72 h in all")) << aims;
  EXPECT_EQ(chip_range(swept(), {}, 14.0).verdict.back(), aims);
}

TEST(ChipRange, NamesEveryAimThatIsMissed) {
  EXPECT_TRUE(misses(point(0.5, 0.0, 65.0), {}).empty());
  EXPECT_EQ(misses(point(0.3, 0.8, 40.0, 0.1), {}),
            (std::vector{Miss::base_closes, Miss::too_little_warmth}));
  EXPECT_EQ(misses(point(0.3, 0.8, 65.0, 0.3), {}), (std::vector{Miss::too_little_air}));
  BlendPoint dry = point(0.8, 0.0, 65.0);
  dry.course.moisture_at_end = 0.3;
  EXPECT_EQ(misses(dry, {}), (std::vector{Miss::too_dry, Miss::full_of_chips}));
}

TEST(ChipRange, LooksCloserOnlyWhereTheReasonChanges) {
  const auto shares =
      shares_to_refine({point(0.6, 0.0, 65.0), point(0.2, 0.8, 40.0, 0.1), point(0.4, 0.8, 40.0, 0.3),
                        point(0.5, 0.8, 65.0), point(0.8, 0.0, 50.0)},
                       {});
  // A base that closes and too little air are one reason; more than 70 % chips is one that was known before.
  const std::vector<double> expected{0.45, 0.55, 0.7};
  ASSERT_EQ(shares.size(), expected.size());
  for (std::size_t n = 0; n < shares.size(); ++n) EXPECT_NEAR(shares[n], expected[n], 1e-12);
}

TEST(ChipRange, HasBucketsOfItsOwnInEveryRowAndNoneThatFail) {
  ChipRange range = chip_range(swept(), {}, 14.0);
  mark_share(range, {0.4, "the starter's mix, 3 : 2"});
  const std::string table = blend_table(range);
  EXPECT_TRUE(has(table, "(the starter's mix, 3 : 2)")) << table;
  mark_share(range, {0.41, "none"});
  EXPECT_EQ(range.marked->share, 0.4);
  std::vector<std::string> seen;
  const auto object = to_json(range);
  for (const auto& row : object["points"]) seen.push_back(row["in_buckets"]);
  std::sort(seen.begin(), seen.end());
  EXPECT_EQ(std::adjacent_find(seen.begin(), seen.end()), seen.end());
  for (int point = 1; point < 100; ++point)
    EXPECT_NE(in_buckets_within(0.01 * point, 0.01 * point - 0.005, 0.01 * point + 0.004999),
              in_buckets_within(0.01 * point + 0.01, 0.01 * point + 0.005, 0.01 * point + 0.014999))
        << point;
}

TEST(ChipRange, NeedsTwoShares) {
  SweptChips one = swept();
  one.points.resize(1);
  EXPECT_THROW(chip_range(one, {}, 14.0), std::invalid_argument);
  EXPECT_THROW(blend_point(0.5, Summary{}), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
