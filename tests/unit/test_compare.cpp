// Designs side by side over the same plausible beds, and which to take.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "post/answer/cautions.h"
#include "post/answer/comparison.h"
#include "tests/unit/plausible.h"

namespace updraught {
namespace {

using made_up::beds;
using made_up::course;

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Ten beds that differ by design: without air in so much of their hours, from `from` on in even steps.
std::vector<double> from_to(double from, double to) {
  std::vector<double> out;
  for (int n = 0; n < 10; ++n) out.push_back(from + (to - from) * n / 9.0);
  return out;
}

ComparedCase design(const std::string& name, const std::vector<double>& airless, double hottest = 60.0,
                    double mean = 40.0) {
  ComparedCase one;
  one.name = name;
  one.asked = course(airless[airless.size() / 2], hottest, mean);
  one.quick = one.asked;
  one.tried = beds(airless, hottest, mean);
  one.inputs = {{"a", "", 0.0, 0.5, 1.0, UncertainInput::Distribution::triangular, "",
                 "how fine the pores are", "a bucket test tells"}};
  return one;
}

TEST(Compare, TakesTheDesignWithMoreAirAndSaysHowSurely) {
  const auto answer =
      compare({design("sides", from_to(0.4, 0.9), 40.0), design("base", from_to(0.0, 0.5), 40.0)});
  EXPECT_EQ(answer.order, (std::vector<std::size_t>{1, 0}));
  EXPECT_EQ(answer.verdict[0],
            "Neither works as it is: the bed does not get going within 14 days. "
            "Take base: in all plausible beds it has more air than sides, less in none.");
  EXPECT_EQ(answer.verdict[1],
            "Share of the bed's hours without enough air: base 28 % (likely 5 to 45 %) and sides 68 % "
            "(likely 45 to 85 %).");
  EXPECT_TRUE(has(comparison_table(answer), "less in all")) << comparison_table(answer);
}

TEST(Compare, TakesTheWarmerDesignWhereBothHaveTheirAir) {
  const auto answer = compare({design("bare", from_to(0.0, 0.02), 27.0, 18.0),
                               design("straw round it", from_to(0.0, 0.02), 43.0, 30.0)});
  EXPECT_TRUE(has(answer.verdict[0],
                  "Take straw round it: in all plausible beds it is warmer than bare, colder in none."))
      << answer.verdict[0];
}

TEST(Compare, DoesNotTakeTheWarmerDesignThatIsHotForShorterMoreOften) {
  ComparedCase warm = design("warm", from_to(0.0, 0.02), 60.0, 45.0);
  const ComparedCase hot = design("hot", from_to(0.0, 0.02), 60.0, 42.0);
  const auto hot_hours = [&](std::size_t from, std::size_t to, double hours) {
    for (std::size_t n = from; n < to; ++n) warm.tried.beds[n].course.hours_hot = hours;
  };
  hot_hours(0, 4, 80.0);
  const auto alike = compare({warm, hot});
  const std::string either = alike.verdict[0], figures = alike.verdict[4];
  EXPECT_TRUE(has(either, "Take either ")) << either;
  EXPECT_TRUE(has(
      figures, "Warmer on average: warm in all, hot in none. Hot for longer: warm in none, hot in 4 of 10."))
      << figures;
  hot_hours(4, 10, 120.0);
  const auto longer = compare({warm, hot});
  EXPECT_TRUE(has(longer.verdict[0], "Take warm: in all plausible beds it is warmer")) << longer.verdict[0];
}

TEST(Compare, TakesTheDesignThatIsHotForLongerUnlessItIsColderMoreOften) {
  const ComparedCase brief = design("brief", from_to(0.0, 0.02));
  ComparedCase lasting = design("lasting", from_to(0.0, 0.02));
  for (std::size_t n = 0; n < 6; ++n) lasting.tried.beds[n].course.hours_hot = 120.0;
  const std::string taken = compare({brief, lasting}).verdict[0];
  EXPECT_TRUE(has(taken,
                  "Take lasting: in 6 of 10 plausible beds it is hot for longer than brief, for less "
                  "long in none."))
      << taken;
  for (std::size_t n = 4; n < 8; ++n) lasting.tried.beds[n].course.mean_temperature = 35.0;
  const auto alike = compare({brief, lasting});
  const std::string either = alike.verdict[0], figures = alike.verdict[4];
  EXPECT_TRUE(has(either, "Take either ")) << either;
  EXPECT_TRUE(has(figures, "Hot for longer: brief in none, lasting in 6 of 10.")) << figures;
}

TEST(Compare, TakesTheDesignThatIsHotForLongerAlthoughItLacksAirMore) {
  const auto answer =
      compare({design("cold", from_to(0.0, 0.0), 30.0, 20.0), design("hot", from_to(0.2, 0.3), 62.0, 45.0)});
  EXPECT_EQ(answer.order.front(), 1u);
  EXPECT_TRUE(has(answer.verdict[0], "Take hot: it is hot for longer")) << answer.verdict[0];
  EXPECT_TRUE(has(answer.verdict[0], "though in all it has less air")) << answer.verdict[0];
}

TEST(Compare, SaysWhereNoneIsClearlyBetterAndWhatWouldDecide) {
  std::vector<double> up = from_to(0.1, 0.9);
  std::vector<double> down(up.rbegin(), up.rend());
  const auto answer = compare({design("one", up), design("other", down)});
  EXPECT_TRUE(has(answer.verdict[0], "No clear difference between ")) << answer.verdict[0];
  EXPECT_TRUE(has(answer.verdict[0], "More air: one in 5 of 10, other in 5 of 10. Warmer: one in none"))
      << answer.verdict[0];
  EXPECT_TRUE(has(answer.verdict[0], "What would decide: how fine the pores are (a bucket test tells)"))
      << answer.verdict[0];
  EXPECT_TRUE(has(comparison_table(answer), "; not clear"));
  EXPECT_TRUE(to_json(answer)["take"].is_null());
}

TEST(Compare, SaysToTakeEitherWhereBothKeepTheirAir) {
  const auto answer = compare({design("one", from_to(0.0, 0.02)), design("other", from_to(0.02, 0.0))});
  EXPECT_TRUE(has(answer.verdict[0], "Take either ")) << answer.verdict[0];
  EXPECT_EQ(
      answer.verdict[4],
      "More air: one in none, other in none; else they hardly differ. Warmer: one in none, other in none.");
}

TEST(Compare, NamesAllThatMayBeTakenAndNoneThatIsUnsure) {
  ComparedCase unsure = design("unsure", from_to(0.01, 0.01));
  for (std::size_t n = 0; n < 3; ++n) unsure.tried.beds[n].course.going.reset();
  const auto answer =
      compare({design("one", from_to(0.0, 0.02)), unsure, design("other", from_to(0.02, 0.0))});
  EXPECT_TRUE(has(answer.verdict[0], "Take either ")) << answer.verdict[0];
  EXPECT_TRUE(has(answer.verdict[0], "other")) << answer.verdict[0];
  EXPECT_FALSE(has(answer.verdict[0], "unsure")) << answer.verdict[0];
  const auto alike = compare({design("one", from_to(0.0, 0.02)), design("other", from_to(0.02, 0.0)),
                              design("third", from_to(0.01, 0.01))});
  EXPECT_TRUE(has(alike.verdict[0], ": each gets going")) << alike.verdict[0];
  for (const char* name : {"one", "other", "third"}) EXPECT_TRUE(has(alike.verdict[0], name)) << name;
  EXPECT_FALSE(has(alike.verdict[0], "either")) << alike.verdict[0];
}

TEST(Compare, TellsTheMostOfWhatRunsOffOnce) {
  using Words = std::vector<std::string>;
  const Caution dusty{Caution::Kind::care, "A mask.", 0.0}, hot{Caution::Kind::warning, "It is hot.", 0.0};
  const auto wet = [](double kilograms) {
    return Caution{Caution::Kind::care, "About so much of run-off.", kilograms};
  };
  EXPECT_EQ(words_once({{dusty, wet(0.27)}, {dusty, wet(0.56)}, {hot, dusty}}, Caution::Kind::care),
            (Words{"A mask.", "Up to about 0.56 L of run-off: keep it off drains, wells and streams."}));
  EXPECT_EQ(words_once({{dusty}, {dusty, hot}}, Caution::Kind::care), Words{"A mask."});
  EXPECT_EQ(words_once({{dusty}, {dusty, hot}}, Caution::Kind::warning), Words{"It is hot."});
}

TEST(Compare, SaysHowFarQuickDetailIsFromWhatWasAskedFor) {
  const auto told = [](double quick) {
    ComparedCase one = design("one", from_to(0.0, 0.5));
    one.quick->airless_share = quick;
    return compare({one, design("other", from_to(0.0, 0.5))}).verdict.back();
  };
  EXPECT_TRUE(has(told(design("one", from_to(0.0, 0.5)).asked.airless_share), "it gives the same hours"));
  EXPECT_TRUE(has(told(0.9), "one 90 % where the asked detail gives 28 %")) << told(0.9);
}

TEST(Compare, SaysFirstThatNoneWorks) {
  const auto failing = [](const std::string& name, double airless) {
    ComparedCase one = design(name, from_to(0.5, 0.9));
    one.asked = course(airless);
    return one;
  };
  const auto begins = [](const ComparedCase& one, const ComparedCase& other) {
    const std::string words = compare({one, other}).verdict[0];
    return words.substr(0, words.find(". ") + 1);
  };
  EXPECT_EQ(begins(failing("one", 0.8), failing("other", 0.6)),
            "Neither works as it is: with one the bed lacks air in 80 % of its hours and with other the bed "
            "lacks air "
            "in 60 % of its hours.");
  ComparedCase cold = failing("cold", 0.1);
  cold.asked = course(0.1, 30.0, 20.0);
  EXPECT_EQ(begins(cold, failing("other", 0.6)),
            "Neither works as it is: with cold the bed does not get going within 14 days and with other the "
            "bed lacks air "
            "in 60 % of "
            "its hours.");
  EXPECT_FALSE(has(compare({failing("one", 0.1), failing("other", 0.6)}).verdict[0], "works as it is"));
  ComparedCase soon = failing("soon", 0.8);
  soon.asked.duration = 2.0 * 86400.0;
  EXPECT_FALSE(has(compare({soon, failing("other", 0.6)}).verdict[0], "works as it is"))
      << "the draught may come";
  EXPECT_TRUE(has(compare({cold, failing("one", 0.8), failing("other", 0.6)}).verdict[0],
                  "None works as it is: each lacks air or does not get going. "));
}

TEST(Compare, SaysWhichRangeACaseStandsAtTheEndOfWhereItLiesOutsideWhatIsLikely) {
  ComparedCase calm = design("calm", from_to(0.0, 0.5));
  calm.asked.airless_share = 0.9;
  const auto told_of_wind = [&](double asked) {
    calm.inputs.push_back({"outside.wind", "m/s", 0.0, asked, 2.0, UncertainInput::Distribution::triangular,
                           "", "how windy it is", ""});
    const auto answer = compare({calm, design("other", from_to(0.0, 0.5))});
    calm.inputs.pop_back();
    return std::any_of(answer.verdict.begin(), answer.verdict.end(), [](const std::string& s) {
      return s ==
             "The hours without enough air of calm lie outside what is likely, since what was asked stands "
             "at "
             "the end of a range: how windy it is: 0 m/s there, 0 to 2 m/s in plausible beds.";
    });
  };
  EXPECT_TRUE(told_of_wind(0.0));
  EXPECT_FALSE(told_of_wind(1.0)) << "a wind was asked for";
  calm.asked.airless_share = 0.3;
  EXPECT_FALSE(told_of_wind(0.0)) << "it lies within";
}

TEST(Compare, ChoosesNothingFromAFewPlausibleBeds) {
  const auto answer =
      compare({design("sides", {0.7, 0.8, 0.9, 0.8}, 40.0), design("base", {0.1, 0.1, 0.2, 0.1}, 40.0)});
  EXPECT_TRUE(has(answer.verdict[0],
                  "Too few plausible beds to choose between base and sides: 4 were computed, at least 10 are "
                  "needed. More air: base in all 4, sides in none of 4."))
      << answer.verdict[0];
  EXPECT_TRUE(to_json(answer)["take"].is_null());
}

TEST(Compare, RanksMoreThanTwo) {
  const auto answer = compare({design("none", from_to(0.8, 0.9)), design("low", from_to(0.41, 0.51)),
                               design("high", from_to(0.4, 0.5)), design("base", from_to(0.0, 0.1))});
  EXPECT_EQ(answer.order, (std::vector<std::size_t>{3, 2, 1, 0}));
  bool ranked = false;
  for (const std::string& sentence : answer.verdict)
    ranked |= sentence == "In order: base; then high, not clearly before low; then none.";
  EXPECT_TRUE(ranked);
  EXPECT_EQ(to_json(answer)["take"], "base");
}

TEST(Compare, OffersAllThatAreAlikeBeforeOneThatIsNot) {
  const auto answer = compare({design("none", from_to(0.8, 0.9)), design("low", from_to(0.0, 0.1)),
                               design("base", from_to(0.0, 0.08))});
  EXPECT_EQ(answer.verdict[0],
            "Take base or low: no clear difference between them. Base: in all plausible beds it has more air "
            "than none, less in none.");
  EXPECT_EQ(to_json(answer)["take"], "base");
}

/// Ten beds that lack air in so much of their hours: the first six, two more, and the last two.
std::vector<double> six_and_twice_two(double six, double two, double last) {
  return {six, six, six, six, six, six, two, two, last, last};
}

TEST(Compare, NamesOneWhereThoseAlikeToItDifferThemselves) {
  const auto answer = compare(
      {design("first", six_and_twice_two(0.0, 0.4, 0.0)), design("second", six_and_twice_two(0.0, 0.0, 0.9)),
       design("worse than the second", six_and_twice_two(0.2, 0.0, 0.9)),
       design("one", six_and_twice_two(0.2, 0.4, 0.0)), design("another", six_and_twice_two(0.2, 0.4, 0.0))});
  EXPECT_EQ(
      answer.verdict[0],
      "Take first: in 6 of 10 plausible beds it has more air than one, less in none; in 6 of 10 plausible "
      "beds it has more air than another, less in none. No clear difference to second and worse than the "
      "second.");
}

TEST(Compare, TellsHowManyChipsEachNeeds) {
  ComparedCase base = design("base", from_to(0.0, 0.1)), sides = design("sides", from_to(0.8, 0.9));
  for (int n = 0; n <= 10; ++n) {
    base.tips.push_back({n, 0.50 + 0.01 * n, {}});
    sides.tips.push_back({n, 0.54 + 0.01 * n, {}});
  }
  const auto answer = compare({base, sides});
  ASSERT_TRUE(answer.chips);
  EXPECT_EQ(answer.verdict[3],
            "Chips needed to keep its air, of the buckets: base 50 % (likely 52 % to 59 %) and sides 54 % "
            "(likely 56 % to 63 %): sides needs 4 points more (likely 4 to 4).");
  EXPECT_TRUE(has(comparison_table(answer), "chips needed to keep its air [%]"));
  sides.tips.back().least.reset();
  for (ChipTips& tips : sides.tips) tips.least.reset();
  EXPECT_TRUE(has(compare({base, sides}).verdict[3], "sides more than was tried"));
}

TEST(Compare, TurnsRoundWithItsCases) {
  const ComparedCase one = design("one", from_to(0.0, 0.1)), other = design("other", from_to(0.5, 0.9));
  const auto ahead = compare({one, other}), back = compare({other, one});
  EXPECT_EQ(ahead.verdict[0], back.verdict[0]);
  EXPECT_NEAR(ahead.rows[0].pairs[1].middle, -back.rows[0].pairs[1].middle, 1e-12);
}

TEST(Compare, NeedsTwoDesignsWithPlausibleBeds) {
  EXPECT_THROW(compare({design("one", from_to(0.0, 0.1))}), std::invalid_argument);
  ComparedCase bare = design("bare", from_to(0.0, 0.1));
  bare.tried.beds.clear();
  EXPECT_THROW(compare({bare, bare}), std::invalid_argument);
}

TEST(Compare, WritesJsonWithEveryPairing) {
  const auto object =
      to_json(compare({design("base", from_to(0.0, 0.5)), design("sides", from_to(0.4, 0.9))}));
  EXPECT_EQ(object["take"], "base");
  EXPECT_EQ(object["measures"].size(), key_figures().size());
  const auto& airless = object["measures"][0];
  EXPECT_EQ(airless["name"], "airless_share");
  EXPECT_EQ(airless["pairs"][0]["against"], "base");
  EXPECT_EQ(airless["pairs"][0]["above"], 10);
  EXPECT_EQ(airless["pairs"][0]["clear"], true);
  EXPECT_TRUE(airless["values"][1]["high"].is_number());
}

}  // namespace
}  // namespace updraught
