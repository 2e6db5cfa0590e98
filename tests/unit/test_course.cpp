#include <gtest/gtest.h>

#include <initializer_list>
#include <stdexcept>
#include <vector>

#include "post/result/course.h"

namespace updraught {
namespace {

constexpr double hour = 3600.0;

struct At {
  double hours;
  double hottest;
  double mean;
  double aired;
};

std::vector<SeriesRow> rows(std::initializer_list<At> points) {
  std::vector<SeriesRow> out;
  for (const At& p : points) {
    SeriesRow row;
    row.time = p.hours * hour;
    row.hottest = p.hottest;
    row.mean_temperature = p.mean;
    row.aired_share = p.aired;
    out.push_back(row);
  }
  return out;
}

TEST(Course, TellsWhenABedGetsGoingAndHowLongItIsHot) {
  const Course c = course_of(rows({{0, 15, 15, 1}, {30, 45, 35, 1}, {40, 65, 45, 1}, {60, 45, 40, 1}}));
  ASSERT_TRUE(c.going && c.hot && c.mean_going);
  EXPECT_DOUBLE_EQ(*c.going, 30 * hour);
  EXPECT_DOUBLE_EQ(*c.hot, 35 * hour);
  EXPECT_DOUBLE_EQ(*c.mean_going, 40 * hour);
  EXPECT_NEAR(c.hours_hot, 5 + 10, 1e-12);
  EXPECT_EQ(c.hottest, 65);
  EXPECT_EQ(c.hottest_at, 40 * hour);
  EXPECT_EQ(c.airless_share, 0.0);
}

TEST(Course, DoesNotCallAColdBedGoing) {
  const Course c = course_of(rows({{0, 15, 15, 1}, {100, 33, 20, 1}}));
  EXPECT_FALSE(c.going || c.hot || c.mean_going);
  EXPECT_EQ(c.hours_hot, 0.0);
  EXPECT_EQ(c.airless_since_going, 0.0);
}

TEST(Course, AveragesTheAirlessShareOverBedAndTime) {
  // Half of the bed for a quarter of the time, then all of it for another, ramps between.
  const Course c = course_of(
      rows({{0, 50, 50, 0.5}, {25, 50, 50, 0.5}, {25, 50, 50, 0.0}, {50, 50, 50, 0.0}, {100, 50, 50, 1.0}}));
  EXPECT_NEAR(c.airless_share, (0.5 * 25 + 25 + 0.5 * 50) / 100, 1e-12);
  EXPECT_EQ(c.worst_share, 0.0);
  EXPECT_EQ(c.worst_at, 25 * hour);
}

TEST(Course, CountsAirlessHoursSinceItGotGoingApart) {
  const Course c = course_of(rows({{0, 15, 15, 1.0}, {50, 45, 40, 1.0}, {100, 60, 50, 0.0}}));
  EXPECT_NEAR(c.airless_share, 0.25, 1e-12);
  EXPECT_NEAR(c.airless_since_going, 0.5, 1e-12);
}

TEST(Course, FindsWhenAirIsLostAndRegained) {
  const auto of = [](std::initializer_list<At> points) { return course_of(rows(points)); };
  EXPECT_FALSE(of({{0, 50, 50, 1}, {100, 50, 50, 1}}).lost);
  const Course never = of({{0, 50, 50, 0}, {100, 50, 50, 0.4}});
  EXPECT_EQ(never.lost, 0.0);
  EXPECT_FALSE(never.regained);
  const Course late = of({{0, 50, 50, 0}, {40, 50, 50, 0}, {50, 50, 50, 1}, {100, 50, 50, 1}});
  EXPECT_DOUBLE_EQ(*late.regained, 45 * hour);
  const Course brief =
      of({{0, 50, 50, 0}, {30, 50, 50, 0}, {40, 50, 50, 1}, {50, 50, 50, 0}, {200, 50, 50, 0}});
  EXPECT_FALSE(brief.regained) << "half a day is not for good";
  // However short a bed has air at the start, it loses it when it does.
  const Course soon = of({{0, 50, 50, 1}, {10, 50, 50, 0}, {200, 50, 50, 0}});
  EXPECT_DOUBLE_EQ(*soon.lost, 5 * hour);
  const Course dip =
      of({{0, 50, 50, 1}, {50, 50, 50, 1}, {55, 50, 50, 0.3}, {60, 50, 50, 1}, {150, 50, 50, 1}});
  EXPECT_FALSE(dip.lost) << "five hours without are no loss";
}

TEST(Course, OfNothingIsRefused) {
  EXPECT_THROW(course_of({}), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
