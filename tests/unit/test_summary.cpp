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
  out.openings = {{"slots", 0.2, 0.0, 0.0, 0.0}, {"lid gap", 0.0, 0.21, 0.0, 0.0}};
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

TEST(Summary, speaks_of_day_three_or_the_last_one) {
  EXPECT_DOUBLE_EQ(headline_day(summarise(result_over(14.0))), 3.0);
  EXPECT_DOUBLE_EQ(headline_day(summarise(result_over(2.0))), 2.0);
}

TEST(Summary, a_result_without_steps_has_no_day) {
  const Summary summary = summarise(Result{});
  EXPECT_TRUE(summary.days.empty());
  EXPECT_THROW(headline_day(summary), std::invalid_argument);
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

TEST(Bands, keep_the_value_between_low_and_high) {
  // The middle setting lies outside the other two: the value itself is then one end.
  const Band band = laid_on(0.27, 0.30, 0.25, 0.40);
  EXPECT_NEAR(band.low, 0.27, 1e-12);
  EXPECT_NEAR(band.high, 0.42, 1e-12);
  // Adverse and favourable may swap sides, as they do for temperatures.
  const Band swapped = laid_on(60.0, 65.0, 60.0, 50.0);
  EXPECT_NEAR(swapped.low, 50.0, 1e-12);
  EXPECT_NEAR(swapped.high, 65.0, 1e-12);
}

// Usual detail where the draught struck up (all of the bed), quick detail where it did so in one setting
// only.
TEST(Bands, hold_the_settings_themselves_where_detail_moves_as_much_as_they_do) {
  const Band band = laid_on(1.0, 0.0, 0.0, 1.0);
  EXPECT_DOUBLE_EQ(band.low, 0.0);
  EXPECT_DOUBLE_EQ(band.high, 1.0);
  const Band air = laid_on(36.0, 0.5, 0.6, 58.0);
  EXPECT_DOUBLE_EQ(air.low, 0.5);
  EXPECT_DOUBLE_EQ(air.high, 58.0);
}

TEST(Bands, keep_shares_within_none_and_all) {
  const Band band = kept_possible("aired_share", laid_on(0.7, 0.1, 0.6, 1.0));
  EXPECT_NEAR(band.low, 0.2, 1e-12);
  EXPECT_NEAR(band.high, 1.0, 1e-12);
  EXPECT_DOUBLE_EQ(kept_possible("air_in_m3_h", {-1.0, 2.0}).low, 0.0);
  EXPECT_DOUBLE_EQ(kept_possible("hottest_c", {-1.0, 2.0}).low, -1.0);
}

TEST(Bands, lie_on_the_days_that_all_settings_have) {
  const Summary asked = summarise(result_over(3.0));
  ThreeSettings quick{asked, asked, asked};
  quick.adverse.days.pop_back();
  for (Day& one : quick.adverse.days) one.aired_share -= 0.05;
  const auto bands = bands_of(asked, quick);
  ASSERT_EQ(bands.size(), 3u);
  EXPECT_NEAR(bands[1].at("aired_share").low, asked.days[1].aired_share - 0.05, 1e-12);
  EXPECT_NEAR(bands[1].at("aired_share").high, asked.days[1].aired_share, 1e-12);
  EXPECT_TRUE(bands[2].empty());
}

}  // namespace
}  // namespace updraught
