// Numbers as people say them, and what is no number.
#include <gtest/gtest.h>

#include <limits>

#include "post/answer/bin_words.h"
#include "post/answer/verdict.h"
#include "post/words/words.h"
#include "tests/materials.h"

namespace updraught {
namespace {

TEST(Words, SayUnknownForWhatIsNoNumber) {
  for (const double none :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    EXPECT_EQ(percent(none), "unknown");
    EXPECT_EQ(percent_with_band(none, Band{0.1, 0.2}), "unknown (likely 10-20 %)");
    EXPECT_EQ(percent_with_band(0.5, Band{none, 0.2}), "50 %");
    EXPECT_EQ(rounded_temperature(none), "unknown");
    EXPECT_EQ(temperature_range({none, 50.0}), "unknown");
    EXPECT_EQ(litres_a_minute(none), "unknown");
    EXPECT_EQ(litres(none), "unknown");
    EXPECT_EQ(span(none), "unknown");
    EXPECT_EQ(day_name(none), "day unknown");
    EXPECT_EQ(plain_number(none), "unknown");
    EXPECT_EQ(rounded(none, 1), "unknown");
    EXPECT_EQ(in_buckets(none), "unknown");
  }
  EXPECT_EQ(rounded(12.345, 1), "12.3");
}

TEST(Words, TellTheFillingByBucketsTheMostFirst) {
  Problem problem;
  EXPECT_EQ(filling_sentence(problem), "") << "a prescribed filling has no materials";
  Feedstock waste = materials::kitchen(), chips = materials::chips(0.04, 0.6);
  waste.name = "waste";
  waste.loose_density = 500.0;
  chips.name = "chips";
  chips.loose_density = 250.0;
  // Two buckets of ten litres of chips on one of each.
  problem.batches = {{"below", {{waste, 5.0}, {chips, 2.5}}}, {"above", {{chips, 5.0}}}};
  EXPECT_EQ(filling_sentence(problem), "Filled with 75 % chips and 25 % waste, by buckets.");
}

TEST(Words, OfAVerdictFromNumbersThatAreNoneHoldNoNan) {
  const double none = std::numeric_limits<double>::quiet_NaN();
  Findings findings;
  findings.day = 3.0;
  findings.aired_share = findings.hottest = findings.coldest_hours_hot = none;
  findings.base_stress = findings.base_air_between = findings.loose_air_between = findings.heat_made = none;
  findings.heat_by_path = {{"air", none}, {"walls", 1.0}};
  findings.materials.any = true;
  for (const std::string& sentence : verdict(findings)) {
    EXPECT_EQ(sentence.find("nan"), std::string::npos) << sentence;
    EXPECT_EQ(sentence.find("inf"), std::string::npos) << sentence;
  }
  EXPECT_EQ(say_aired(findings),
            "How much of the bed has enough air (oxygen above 5 %) on day 3 is unknown.");
}

}  // namespace
}  // namespace updraught
