#include <gtest/gtest.h>

#include <optional>
#include <string>

#include "post/answer/verdict.h"
#include "tests/unit/plausible.h"

namespace updraught {
namespace {

constexpr double day = 86400.0;

/// A bed that is hot from day 2 on and has half of its air for 14 days.
Findings hot() {
  Course c;
  c.duration = 14 * day;
  c.going = 1.5 * day;
  c.hot = 2 * day;
  c.hottest = 66;
  c.airless_share = 0.31;
  c.worst_share = 0.12;
  Findings findings;
  findings.course = c;
  return findings;
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(SayCourse, OfNoRunNothing) {
  EXPECT_EQ(say_answer(Findings{}) + say_course(Findings{}) + say_plausible(Findings{}), "");
}

TEST(SayCourse, TellsAColdBedFromAnAiredOne) {
  Findings cold = hot();
  cold.course->going = cold.course->hot = std::nullopt;
  cold.course->hottest = 31;
  cold.course->airless_share = 0.0;
  EXPECT_EQ(say_answer(cold),
            "It does not get going within 14 days: the hottest part reaches about 30 °C, and while "
            "so little breathes, there is air, whatever the openings do.");
  EXPECT_EQ(say_course(cold),
            "0 % of the bed's hours go without air in all; the hottest part reaches 30 °C.");
}

TEST(SayCourse, TellsWhenMostOfTheBedHasAir) {
  Findings f = hot();
  const auto says = [&](const std::string& part) {
    EXPECT_TRUE(holds(say_answer(f), part)) << say_answer(f);
  };
  says(
      "gets going on day 1.5 (45 °C) and first gets hot (55 °C) on day 2, and most of it has enough "
      "air (oxygen "
      "above 5 %) but for less than a day at a time.");
  EXPECT_LT(f.course->worst_share, 0.5);
  f.course->worst_share = 0.6;
  says("most of it has enough air (oxygen above 5 %) throughout.");
  f.course->lost = 0.0;
  says("most of it is without enough air (oxygen above 5 %) throughout.");
  f.course->regained = 9 * day;
  says("most of it is without enough air (oxygen above 5 %) until day 9.");
  f.course->lost = 5 * day;
  says("from day 5 to day 9.");
  f.course->died = 12 * day;
  says("from day 5 to day 9, and again from day 12 on.");
  f.course->died = f.course->regained = std::nullopt;
  says("from day 5 on.");
  f.course->airless_share = 0.001;
  says("and never goes short of air.");
}

TEST(SayCourse, PutsWhatIsLikelyBesideTheNumbers) {
  Findings f = hot();
  f.course->hours_hot = 90.0;
  EXPECT_EQ(say_course(f),
            "31 % of the bed's hours go without air in all, at the worst 12 % of the bed has enough; the "
            "hottest part is above 55 °C for 90 h.");
  f.tried = made_up::beds({0.0, 0.1, 0.2, 0.3, 0.4, 0.6, 0.7, 0.8, 0.9, 0.9});
  EXPECT_TRUE(holds(say_course(f), "in all (likely 9 to 90 %)")) << say_course(f);
  EXPECT_EQ(
      say_plausible(f),
      "Of the plausible beds, 5 of 10 get going (45 °C) and have air in most of the bed from day 3 on at the "
      "latest; all get hot (55 °C) somewhere.");
}

TEST(SayCourse, IsLeastSureOfWhatMovesTheAnswerMost) {
  Findings findings;
  EXPECT_EQ(say_least_sure(findings), "");
  findings.tried = made_up::beds({0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95});
  findings.inputs = {{"a", "", 0.0, 0.5, 1.0, UncertainInput::Distribution::triangular, "",
                      "how tightly the waste packs", "a bucket test tells"}};
  EXPECT_EQ(
      say_least_sure(findings),
      "What moves the hours without air most among all that is uncertain is how tightly the waste packs "
      "(a bucket test tells).");
  for (TriedBed& bed : findings.tried.beds) {
    bed.course.airless_share = 0.0;
    bed.course.hottest = 50.0 + bed.point[0];
  }
  EXPECT_TRUE(holds(say_least_sure(findings), "What moves how hot it gets most")) << say_least_sure(findings);
}

}  // namespace
}  // namespace updraught
