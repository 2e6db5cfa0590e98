// The points at which plausible beds lie.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "cases/run/sample_points.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::read_sound;
using reader_tests::sound_case;
using reader_tests::with_line;

TEST(SamplePoints, FillEverySideEvenly) {
  for (const std::size_t sides : {3u, 25u, 40u}) {
    const auto points = sample_points(sides, 64, 1);
    ASSERT_EQ(points.size(), 64u);
    for (std::size_t side = 0; side < sides; ++side) {
      std::vector<int> in_eighth(8, 0);
      for (const auto& point : points) {
        ASSERT_GE(point[side], 0.0);
        ASSERT_LT(point[side], 1.0);
        ++in_eighth[static_cast<std::size_t>(8.0 * point[side])];
      }
      // Of the sequence's first 64 points eight lie in every eighth; a shift leaves one or two more or fewer.
      for (const int count : in_eighth) EXPECT_NEAR(count, 8, 2) << side << " of " << sides;
    }
  }
}

TEST(SamplePoints, AreTheSameForOneSeedAndOthersForAnother) {
  EXPECT_EQ(sample_points(5, 8, 1), sample_points(5, 8, 1));
  EXPECT_NE(sample_points(5, 8, 1), sample_points(5, 8, 2));
  const auto longer = sample_points(5, 16, 1);
  EXPECT_TRUE(std::equal(longer.begin(), longer.begin() + 8, sample_points(5, 8, 1).begin()))
      << "a longer row begins with the shorter one";
  EXPECT_EQ(sample_points(0, 3, 1).size(), 3u);
}

TEST(SamplePoints, DrawFurtherSidesByChance) {
  const auto points = sample_points(60, 256, 1);
  for (std::size_t side = 0; side < 60; ++side) {
    double sum = 0.0;
    for (const auto& point : points) {
      ASSERT_GE(point[side], 0.0);
      ASSERT_LT(point[side], 1.0);
      sum += point[side];
    }
    // Four times the standard error of a mean of 256.
    EXPECT_NEAR(sum / 256.0, 0.5, 4.0 * 0.2887 / 16.0) << side;
  }
  const auto shorter = sample_points(60, 8, 1);
  EXPECT_TRUE(std::equal(shorter.begin(), shorter.end(), points.begin()));
}

TEST(Sample, GivesInputsOfOneKeyOneShareInAllCases) {
  const ReadCase one = read_sound(sound_case());
  const ReadCase other =
      read_sound(with_line("fill",
                           "fill = [ { what = \"grass\", buckets = 3 }, { what = \"woodchip, coarse\", "
                           "buckets = 2 } ]"));
  const Sample sample({&one, &other}, 4, 1);
  const auto share_of = [&](const ReadCase& read, const std::string& key) {
    const auto& inputs = read.problem.uncertain;
    const auto found =
        std::find_if(inputs.begin(), inputs.end(), [&](const UncertainInput& i) { return i.key == key; });
    return found == inputs.end() ? std::nan("")
                                 : sample.point(read, 3)[static_cast<std::size_t>(found - inputs.begin())];
  };
  for (const char* key : {"laws.ergun_factor", "feedstocks.\"woodchip, coarse\".moisture"})
    EXPECT_EQ(share_of(one, key), share_of(other, key)) << key;
  EXPECT_EQ(sample.point(one, 1).size(), one.problem.uncertain.size());
  EXPECT_THROW(Sample({&one}, 4, 1).point(other, 1), std::invalid_argument);
}

TEST(Sample, LaysOnlyWhatACaseMaySay) {
  for (const char* what : {"kitchen waste", "grass", "straw", "horse manure", "cooked food", "cardboard"}) {
    const ReadCase read = read_sound(
        with_line("fill", std::string("fill = [ { what = \"") + what +
                              "\", buckets = 3 }, { what = \"woodchip, coarse\", buckets = 3 } ]"));
    const Sample sample({&read}, 32, 1);
    for (int number = 1; number <= 32; ++number) {
      const ReadOutcome moved = read_case_text(read.text, read.file, sample.laid_at(read, number));
      ASSERT_TRUE(moved.read) << what << ", bed " << number << ": " << to_text(moved.mistakes);
    }
  }
}

}  // namespace
}  // namespace updraught
