#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "post/result/intervals.h"
#include "post/result/summary.h"
#include "post/tables/summary_json.h"

namespace updraught {
namespace {

constexpr double day = 86400.0;

SeriesRow row(double time, double aired, double hottest) {
  SeriesRow out;
  out.time = time;
  out.aired_share = aired;
  out.hottest = hottest;
  out.mean_temperature = hottest - 10.0;
  out.air_in = 0.2;
  out.height = 0.6;
  out.water = 60.0;
  out.dry_mass = 40.0;
  out.heat_by_path = {{"walls", 10.0 + hottest}, {"air", 30.0}};
  out.openings = {{"slots", 0.2, 0.0, 0.0, 0.0, 0.0, 0}, {"lid gap", 0.0, 0.21, 0.0, 0.0, 0.0, 1}};
  return out;
}

Result result_over(double days) {
  Result result;
  result.name = "box";
  result.run.loose.carbon_nitrogen = std::numeric_limits<double>::infinity();
  for (double time = 0.0; time < days * day; time += 0.4 * day) {
    result.run.series.push_back(row(time, 0.1 * time / day, 20.0 + 5.0 * time / day));
  }
  result.run.series.push_back(row(days * day, 0.1 * days, 20.0 + 5.0 * days));
  return result;
}

TEST(Summary, has_one_row_per_whole_day_between_steps) {
  const Summary summary = summarise(result_over(3.0));
  ASSERT_EQ(summary.days.size(), 3u);
  EXPECT_DOUBLE_EQ(summary.days[0].day, 1.0);
  EXPECT_NEAR(summary.days[0].aired_share, 0.1, 1e-12);
  EXPECT_NEAR(summary.days[1].hottest, 30.0, 1e-12);
  EXPECT_NEAR(summary.days[2].moisture, 0.6, 1e-12);
}

TEST(Summary, adds_the_end_where_it_falls_between_days) {
  const Summary summary = summarise(result_over(1.5));
  ASSERT_EQ(summary.days.size(), 2u);
  EXPECT_DOUBLE_EQ(summary.days[1].day, 1.5);
  const Summary hours = summarise(result_over(0.25));
  ASSERT_EQ(hours.days.size(), 1u);
  EXPECT_DOUBLE_EQ(hours.days[0].day, 0.25);
}

TEST(Summary, shows_the_end_of_the_shortest_computation) {
  const Summary seconds = summarise(result_over(1e-5));
  ASSERT_EQ(seconds.days.size(), 1u);
  EXPECT_DOUBLE_EQ(seconds.days[0].day, 1e-5);
}

TEST(Summary, speaks_of_the_day_with_least_air_else_of_the_hottest) {
  Summary warm = summarise(result_over(14.0));
  EXPECT_DOUBLE_EQ(telling_day(warm), 1.0) << "least of it has air then";
  for (Day& one : warm.days) one.aired_share = 1.0;
  EXPECT_DOUBLE_EQ(telling_day(warm), 14.0) << "never short of air: the hottest day";
}

TEST(Summary, a_result_without_steps_has_no_day) {
  const Summary summary = summarise(Result{});
  EXPECT_TRUE(summary.days.empty());
  EXPECT_THROW(telling_day(summary), std::invalid_argument);
}

TEST(SummaryJson, never_holds_a_number_that_is_none) {
  const auto object = to_json(summarise(result_over(3.0)));
  EXPECT_TRUE(object["loose"]["cn"].is_null());
  EXPECT_TRUE(object["days"][0]["aired_share_low"].is_null());
  const std::string text = object.dump();
  EXPECT_EQ(text.find("nan"), std::string::npos);
  EXPECT_EQ(text.find("inf"), std::string::npos);
}

TEST(SummaryJson, comes_back_as_it_went) {
  Result result = result_over(2.0);
  result.verdict = {"One.", "Two."};
  result.bands = bands_without_width(summarise(result));
  const Summary before = summarise(result);
  const Summary after = summary_from_json(nlohmann::json::parse(to_json(before).dump()));
  EXPECT_EQ(to_json(before).dump(), to_json(after).dump());
  EXPECT_EQ(after.openings.size(), 2u);
  EXPECT_EQ(after.verdict, result.verdict);
  ASSERT_TRUE(after.course);
  EXPECT_DOUBLE_EQ(after.course->duration, 2.0 * 86400.0);
  EXPECT_EQ(after.course->going, before.course->going);
  EXPECT_DOUBLE_EQ(after.days[1].bands.at("aired_share").low, before.days[1].aired_share);
}

TEST(SummaryJson, holds_every_promised_key) {
  const auto object = to_json(summarise(result_over(2.0)));
  for (const char* key :
       {"case", "mode", "cells", "wall_seconds", "peak_memory_mb", "settled_height_m", "loose", "days",
        "course", "heat_by_path_w", "steps", "unknowns", "seconds", "openings", "balances", "verdict"}) {
    EXPECT_TRUE(object.contains(key)) << key;
  }
  for (const char* key : {"free_air_space", "moisture", "cn", "woodchip_share"}) {
    EXPECT_TRUE(object["loose"].contains(key)) << key;
  }
  for (const char* key :
       {"day", "mean_temperature_c", "hottest_c", "coldest_c", "aired_share", "well_aired_share",
        "air_in_m3_h", "oxygen_uptake_g_h", "height_m", "mean_temperature_c_low", "hottest_c_high",
        "aired_share_low", "air_in_m3_h_high", "height_m_low"}) {
    EXPECT_TRUE(object["days"][0].contains(key)) << key;
  }
  for (const char* key : {"dry_gas", "oxygen", "heat", "water", "dry_mass"}) {
    EXPECT_TRUE(object["balances"].contains(key)) << key;
  }
}

TEST(SummaryJson, refuses_what_is_no_summary) {
  EXPECT_THROW(summary_from_json(nlohmann::json::parse("{\"case\": \"box\"}")), std::runtime_error);
  EXPECT_THROW(summary_from_json(nlohmann::json::parse("[1, 2]")), std::runtime_error);
}

TEST(Bands, HoldEightOfTenPlausibleBedsOfADay) {
  const Summary asked = summarise(result_over(3.0));
  std::vector<Summary> beds(11, asked);
  for (std::size_t n = 0; n < beds.size(); ++n)
    for (Day& one : beds[n].days) one.aired_share = 0.1 * static_cast<double>(n);
  for (Summary& bed : beds) bed.days.pop_back();
  const auto bands = bands_of(asked, beds);
  ASSERT_EQ(bands.size(), 3u);
  EXPECT_NEAR(bands[1].at("aired_share").low, 0.1, 1e-12);
  EXPECT_NEAR(bands[1].at("aired_share").high, 0.9, 1e-12);
  EXPECT_TRUE(bands[2].empty()) << "a day that no bed has";
}

}  // namespace
}  // namespace updraught
