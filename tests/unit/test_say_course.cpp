#include <gtest/gtest.h>

#include <optional>
#include <string>

#include "post/answer/verdict.h"

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
  c.hottest_at = 4 * day;
  c.airless_share = 0.31;
  c.worst_share = 0.12;
  c.worst_at = 3 * day;
  Findings findings;
  findings.course = c;
  return findings;
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(SayCourse, OfNoRunNothing) {
  EXPECT_EQ(say_course(Findings{}), "");
}

TEST(SayCourse, TellsAColdBedFromAnAiredOne) {
  Findings cold = hot();
  cold.course->going = cold.course->hot = std::nullopt;
  cold.course->hottest = 31;
  cold.course->airless_share = 0.0;
  cold.course->worst_share = 1.0;
  const std::string text = say_course(cold);
  EXPECT_TRUE(holds(text, "does not get going within 14 days")) << text;
  EXPECT_TRUE(holds(text, "about 30 °C")) << text;
  EXPECT_TRUE(holds(text, "so little breathes")) << text;
}

TEST(SayCourse, TellsWhenMostOfTheBedHasAir) {
  Findings f = hot();
  EXPECT_TRUE(holds(say_course(f), "gets going on day 1.5 (45 °C) and is hot from day 2 on (55 °C)"))
      << say_course(f);
  EXPECT_TRUE(holds(say_course(f), "Half of it never has air for a whole day: 31 %")) << say_course(f);
  EXPECT_TRUE(holds(say_course(f), "the worst is day 3, when 12 %")) << say_course(f);
  f.course->struck = 0.0;
  EXPECT_TRUE(holds(say_course(f), "Most of it has air throughout: 31 %")) << say_course(f);
  f.course->died = 9 * day;
  EXPECT_TRUE(holds(say_course(f), "Most of it has air until day 9: ")) << say_course(f);
  f.course->struck = 5 * day;
  EXPECT_TRUE(holds(say_course(f), "Most of it has air from day 5 to day 9: ")) << say_course(f);
  f.course->died.reset();
  EXPECT_TRUE(holds(say_course(f), "Most of it has air from day 5 on: ")) << say_course(f);
  f.course->airless_share = 0.001;
  EXPECT_TRUE(holds(say_course(f), "It never goes short of air.")) << say_course(f);
}

}  // namespace
}  // namespace updraught
