#include <gtest/gtest.h>

#include "cases/terminal/nearest.h"

namespace updraught {
namespace {

TEST(EditDistance, CountsSlips) {
  EXPECT_EQ(edit_distance("", ""), 0u);
  EXPECT_EQ(edit_distance("", "bin"), 3u);
  EXPECT_EQ(edit_distance("width", "Width"), 0u);
  EXPECT_EQ(edit_distance("widht", "width"), 1u);
  EXPECT_EQ(edit_distance("heigth", "height"), 1u);
  EXPECT_EQ(edit_distance("buckts", "buckets"), 1u);
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3u);
}

TEST(Nearest, FindsTheWordThatWasMeant) {
  const std::vector<std::string> keys = {"width", "length", "height", "depth", "temperature"};
  EXPECT_EQ(nearest("heigth", keys), "height");
  EXPECT_EQ(nearest("temprature", keys), "temperature");
  EXPECT_EQ(nearest("lenght", keys), "length");
}

TEST(Nearest, FindsAWordInsideAnother) {
  EXPECT_EQ(nearest("manure", {"straw", "horse manure"}), "horse manure");
  EXPECT_EQ(nearest("outside_temperature", {"depth", "temperature"}), "temperature");
}

TEST(Nearest, StaysSilentWhenNothingIsClose) {
  EXPECT_FALSE(nearest("xyzzy", {"width", "depth"}));
  EXPECT_FALSE(nearest("", {"width"}));
  EXPECT_FALSE(nearest(std::string(5000, 'w'), {"width"}));
  EXPECT_FALSE(nearest("width", {}));
}

}  // namespace
}  // namespace updraught
