// Recipes in one line.
#include <gtest/gtest.h>

#include "cases/library/recipe_text.h"

namespace updraught {
namespace {

class RecipeText : public testing::Test {
 protected:
  RecipeTextReading read(const std::string& text) { return read_recipe_text(text, 0.01, library_, units_); }

  FeedstockLibrary library_ = load_feedstock_library(UPDRAUGHT_SOURCE_DIR "/cases/feedstocks.toml");
  Units units_;
};

TEST_F(RecipeText, BucketsLitresAndKilograms) {
  const RecipeTextReading r = read("3 buckets kitchen-waste, 1 bucket grass, 20 L leaves and 2 kg of straw");
  ASSERT_TRUE(r.problems.empty()) << r.problems.front();
  ASSERT_EQ(r.portions.size(), 4u);
  EXPECT_EQ(r.portions[0].entry->name, "vegetable scraps (raw)");
  EXPECT_DOUBLE_EQ(r.portions[0].volume, 0.03);
  EXPECT_DOUBLE_EQ(r.portions[1].volume, 0.01);
  EXPECT_DOUBLE_EQ(r.portions[2].volume, 0.02);
  EXPECT_DOUBLE_EQ(r.portions[3].mass, 2.0);
  EXPECT_EQ(r.portions[3].entry->name, "straw");
}

TEST_F(RecipeText, DecimalCommasAndNamesWithACommaStayWhole) {
  const RecipeTextReading r = read("2,5 buckets woodchip, coarse, 1,5 kg grass");
  ASSERT_TRUE(r.problems.empty()) << r.problems.front();
  ASSERT_EQ(r.portions.size(), 2u);
  EXPECT_DOUBLE_EQ(r.portions[0].volume, 0.025);
  EXPECT_EQ(r.portions[0].entry->name, "woodchip, coarse");
  EXPECT_DOUBLE_EQ(r.portions[1].mass, 1.5);
}

TEST_F(RecipeText, SaysWhatItDoesNotUnderstand) {
  EXPECT_EQ(read("3 buckets gras").problems.at(0), "There is no feedstock \"gras\". Did you mean \"grass\"?");
  EXPECT_EQ(read("3 m grass").problems.at(0),
            "\"3 m grass\" needs buckets, a volume or a mass, then a material. Write \"3 buckets grass\".");
  EXPECT_EQ(read("grass").problems.at(0),
            "\"grass\" does not begin with an amount. Write \"3 buckets grass\".");
  EXPECT_EQ(read("0 buckets grass").problems.at(0),
            "The recipe holds nothing. Write \"3 buckets kitchen waste, 1 bucket grass\".");
  EXPECT_EQ(read("").problems.size(), 1u);
}

}  // namespace
}  // namespace updraught
