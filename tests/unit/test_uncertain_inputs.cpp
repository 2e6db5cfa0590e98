// What of a case is known within ranges only, and how a case is moved within them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "cases/library/feedstock_library.h"
#include "cases/reader/uncertain_inputs.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::prescribed_case;
using reader_tests::read_sound;
using reader_tests::sound_case;
using reader_tests::with_added;
using reader_tests::with_line;

std::set<std::string> keys_of(const std::string& text) {
  std::set<std::string> keys;
  for (const UncertainInput& input : read_sound(text).problem.uncertain) keys.insert(input.key);
  return keys;
}

TEST(UncertainInputs, OfACaseAreKeysThatItMaySay) {
  const std::set<std::string> keys = keys_of(sound_case());
  for (const char* key :
       {"laws.packing_excess_shift", "laws.ergun_factor", "laws.uptake_factor", "wall_gap",
        "outside.temperature", "outside.wind", "initial.temperature",
        "feedstocks.\"vegetable scraps (raw)\".moisture",
        "feedstocks.\"vegetable scraps (raw)\".loose_density", "feedstocks.\"woodchip, coarse\".moisture"})
    EXPECT_TRUE(keys.contains(key)) << key;
  EXPECT_FALSE(keys.contains("feedstocks.\"woodchip, coarse\".loose_density"));
  EXPECT_FALSE(keys_of(with_added("activity = 0.3")).contains("feedstocks.\"woodchip, coarse\".activity"));
  EXPECT_FALSE(keys_of(with_added("hold_temperature = \"40 degC\"")).contains("initial.temperature"));
  EXPECT_FALSE(keys_of(with_line("outside", "outside = { daily = { low = \"1 degC\", high = \"9 degC\" } }"))
                   .contains("outside.temperature"));
  EXPECT_TRUE(keys_of(with_line("outside", "outside = { daily = { low = \"1 degC\", high = \"9 degC\" } }"))
                  .contains("outside.shift"));
  EXPECT_FALSE(keys.contains("outside.shift"));
  EXPECT_FALSE(keys_of(with_added("outer_film = \"9 W/m2K\"")).contains("outside.wind"));
  for (const UncertainInput& input : read_sound(sound_case()).problem.uncertain) {
    EXPECT_LT(input.low, input.high) << input.key;
    EXPECT_LE(input.low, input.middle) << input.key;
    EXPECT_LE(input.middle, input.high) << input.key;
    EXPECT_FALSE(input.source.empty()) << input.key;
  }
}

TEST(UncertainInputs, LieAroundWhatTheCaseSays) {
  const Problem moved =
      read_sound(with_added("laws = { ergun_factor = 0.5, packing_excess_shift = 0.2 }")).problem;
  const Problem plain = read_sound(sound_case()).problem;
  EXPECT_EQ(moved.laws.ergun_factor, 0.5);
  EXPECT_EQ(moved.uncertain[0].key, "laws.packing_excess_shift");
  EXPECT_DOUBLE_EQ(moved.uncertain[0].low, 0.1);
  EXPECT_EQ(moved.uncertain[1].low, 0.5 * plain.uncertain[1].low);
  EXPECT_EQ(moved.uncertain[1].middle, 0.5);
}

TEST(UncertainInputs, AreToldInWordsWithAWayToFindOut) {
  for (const UncertainInput& input : read_sound(sound_case()).problem.uncertain) {
    EXPECT_TRUE(input.words.starts_with("how ")) << input.key << ": " << input.words;
    EXPECT_EQ(input.words.find('%'), std::string::npos) << input.words;
    EXPECT_FALSE(input.test.empty()) << input.key;
  }
}

TEST(UncertainInputs, ABedWithoutARecipeHasNoLawsOfMixtures) {
  const Problem p = read_sound(prescribed_case()).problem;
  for (const UncertainInput& input : p.uncertain)
    EXPECT_TRUE(input.key.ends_with(".temperature") || input.key == "outside.wind") << input.key;
}

TEST(UncertainInputs, ReadBackBitForBit) {
  const ReadCase c = read_sound(sound_case());
  const auto& inputs = c.problem.uncertain;
  const Overrides laid = sample(inputs, std::vector<double>(inputs.size(), 0.3));
  const LawFactors back = read_sound(sound_case(), laid).problem.laws;
  EXPECT_EQ(back.packing_excess_shift, value_at(inputs[0], 0.3));
  EXPECT_EQ(back.ergun_factor, value_at(inputs[1], 0.3));
  EXPECT_EQ(back.uptake_factor, value_at(inputs[2], 0.3));
}

const UncertainInput& input_of(const Problem& problem, const std::string& key) {
  return *std::find_if(problem.uncertain.begin(), problem.uncertain.end(),
                       [&](const UncertainInput& input) { return input.key == key; });
}

TEST(UncertainInputs, WindReachesFromStillAirToABreezeOrTwiceWhatIsSaid) {
  const auto wind_of = [](const std::string& outside) {
    const UncertainInput wind = input_of(read_sound(with_line("outside", outside)).problem, "outside.wind");
    return std::vector<double>{wind.low, wind.middle, wind.high};
  };
  EXPECT_EQ(wind_of("outside = { temperature = \"8 degC\" }"), (std::vector<double>{0.0, 0.0, 2.0}));
  EXPECT_EQ(wind_of("outside = { wind = \"0.5 m/s\" }"), (std::vector<double>{0.0, 0.5, 2.0}));
  EXPECT_EQ(wind_of("outside = { wind = \"3 m/s\" }"), (std::vector<double>{0.0, 3.0, 6.0}));
  EXPECT_EQ(wind_of("outside = { wind = \"20 m/s\" }"), (std::vector<double>{0.0, 20.0, 30.0}));
}

TEST(UncertainInputs, AShiftLiesAroundWhatTheCaseSaysAndMovesTheWholeDay) {
  const std::string wave = "outside = { shift = \"2 K\", daily = { low = \"1 degC\", high = \"9 degC\" } }";
  const Problem daily = read_sound(with_line("outside", wave)).problem;
  EXPECT_EQ(daily.outside.temperature, 7.0);
  EXPECT_EQ(daily.outside.daily_swing, 4.0);
  EXPECT_EQ(daily.initial.temperature, 7.0);
  EXPECT_EQ(input_of(daily, "outside.shift").low, -1.0);
  EXPECT_EQ(input_of(daily, "outside.shift").middle, 2.0);
  EXPECT_EQ(input_of(daily, "outside.shift").high, 5.0);
  const Problem table =
      read_sound(with_line("outside",
                           "outside = { shift = \"-1 K\", table = { time = [\"0 d\", \"1 d\"], "
                           "temperature = [\"8 degC\", \"11 degC\"] } }"))
          .problem;
  EXPECT_EQ(table.outside.table_temperature, (std::vector<double>{7.0, 10.0}));
  // What a case says of a constant temperature stays the middle of its own range.
  const Problem constant =
      read_sound(with_line("outside", "outside = { temperature = \"8 degC\", shift = \"2 K\" }")).problem;
  EXPECT_EQ(constant.outside.temperature, 10.0);
  EXPECT_EQ(input_of(constant, "outside.temperature").middle, 8.0);
}

TEST(ValueAt, FollowsItsDistribution) {
  UncertainInput input{"x", "", 1.0, 2.0, 5.0, UncertainInput::Distribution::triangular, ""};
  EXPECT_EQ(value_at(input, 0.0), 1.0);
  EXPECT_DOUBLE_EQ(value_at(input, 0.25), 2.0);  // a quarter of the area lies below the middle
  EXPECT_EQ(value_at(input, 1.0), 5.0);
  input.distribution = UncertainInput::Distribution::log_triangular;
  input.low = 0.5;
  input.high = 8.0;
  EXPECT_DOUBLE_EQ(value_at(input, 0.0), 0.5);
  EXPECT_DOUBLE_EQ(value_at(input, 0.5), 2.0);
  EXPECT_DOUBLE_EQ(value_at(input, 1.0), 8.0);
  for (double share = 0.0; share < 1.0; share += 0.125)
    EXPECT_LT(value_at(input, share), value_at(input, share + 0.125));
  EXPECT_EQ(value_at({"x", "", 3.0, 3.0, 3.0, UncertainInput::Distribution::triangular, ""}, 0.7), 3.0);
}

TEST(Sample, IsAPointOfTheUnitCube) {
  const ReadCase c = read_sound(sound_case());
  const auto& inputs = c.problem.uncertain;
  EXPECT_THROW(sample(inputs, std::vector<double>(inputs.size() + 1, 0.5)), std::invalid_argument);
  std::vector<double> point(inputs.size(), 0.5);
  const auto gap =
      std::find_if(inputs.begin(), inputs.end(), [](const auto& i) { return i.key == "wall_gap"; });
  point[static_cast<std::size_t>(gap - inputs.begin())] = 1.0;
  const Problem moved = read_sound(sound_case(), sample(inputs, point)).problem;
  EXPECT_EQ(moved.wall_gap, 0.002);
  EXPECT_DOUBLE_EQ(moved.outside.temperature, 8.0);
}

std::string text_of(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

/// Every built-in material that is not only water, a bucket of each.
std::string everything() {
  const std::string cases = std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/";
  std::string fill = "fill = [ ";
  for (const LibraryEntry& entry : load_feedstock_library(cases + "feedstocks.toml").entries)
    fill += "{ what = \"" + entry.name + "\", buckets = 1 }, ";
  return with_line("fill", fill.substr(0, fill.size() - 2) + " ]");
}

TEST(Sample, ReachesNoCaseThatCannotBeRead) {
  std::vector<std::string> texts{everything(), with_added("wall_gap = \"4 cm\""),
                                 with_added("wall_friction = 0.3")};
  for (const char* name : {"starter", "allotment-box", "school-round"})
    texts.push_back(text_of(std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/" + name + ".toml"));
  for (const std::string& text : texts) {
    const std::vector<UncertainInput> inputs = read_sound(text).problem.uncertain;
    for (const double share : {0.0, 0.5, 1.0})
      read_sound(text, sample(inputs, std::vector<double>(inputs.size(), share)));
    for (std::size_t n = 0; n < inputs.size(); ++n) {
      std::vector<double> point(inputs.size(), 0.0);
      point[n] = 1.0;
      read_sound(text, sample(inputs, point));
    }
  }
}

}  // namespace
}  // namespace updraught
