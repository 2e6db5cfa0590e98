// Sentences of the verdict that hang on the sign or the kind of what was computed.
#include <gtest/gtest.h>

#include <regex>

#include "cases/reader/read_case.h"
#include "post/answer/verdict.h"
#include "post/result/intervals.h"
#include "solver/bed/bed.h"
#include "solver/transport/boundary_heat.h"
#include "tests/unit/invented_result.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

/// What is found of a result that came of a problem.
Findings find(Result result, const Problem& problem) {
  result.problem = problem;
  return updraught::find(result);
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

Findings kitchen() {
  Findings findings;
  findings.materials.any = true;
  findings.heat_made = 20.0;
  return findings;
}

std::string heat(double air, double walls, double floor, double top) {
  Findings findings = kitchen();
  findings.heat_by_path = {{"air", air}, {"walls", walls}, {"floor", floor}, {"top", top}};
  return say_heat(findings);
}

TEST(VerdictSentences, GivePerCentsOnlyOfWhatIsLost) {
  const std::string text = heat(8.0, -6.0, -1.0, 2.0);
  EXPECT_TRUE(has(text, "Of 10 W of heat lost on average, 80 % goes with the air")) << text;
  EXPECT_TRUE(has(text, "20 % through the top")) << text;
  EXPECT_TRUE(has(text, "takes up 7 W through walls and floor")) << text;
}

TEST(VerdictSentences, NeverSayAPerCentBelowZeroOrAboveAHundred) {
  const std::regex share("(-?[0-9]+) %");
  for (const double air : {-9.0, -0.2, 0.0, 0.4, 7.0})
    for (const double walls : {-8.0, 0.1, 5.0})
      for (const double floor : {-3.0, 2.0})
        for (const double top : {-4.0, 0.0, 6.0}) {
          const std::string text = heat(air, walls, floor, top);
          for (std::sregex_iterator found(text.begin(), text.end(), share), end; found != end; ++found) {
            const int percent = std::stoi((*found)[1]);
            EXPECT_TRUE(percent >= 0 && percent <= 100) << text;
          }
        }
}

TEST(VerdictSentences, TellWallsFromFloorWhereHeatPassesThemInOppositeDirections) {
  const std::string text = heat(0.0, 5.0, -5.0, 0.0);
  EXPECT_TRUE(has(text, "100 % through the walls")) << text;
  EXPECT_TRUE(has(text, "5 W through the floor")) << text;
}

TEST(VerdictSentences, SayOfABedThatIsOnlyWarmedThatNothingIsLost) {
  EXPECT_EQ(heat(-3.0, -6.0, -1.0, 0.0),
            "No heat is lost on average; the bed takes up 3 W from the air that passes and 7 W through walls "
            "and floor.");
  EXPECT_EQ(heat(0.1, -0.2, 0.0, 0.1), "");
}

TEST(VerdictSentences, CompareTheLowestLayerWithItself) {
  const std::string layers =
      "layers = [ { depth = \"8 cm\", fill = [ { what = \"woodchip, coarse\", buckets = 1 } ] },\n"
      "  { depth = \"50 cm\", fill = [ { what = \"kitchen waste\", buckets = 1 } ] } ]";
  std::string text = reader_tests::with_line("depth", "");
  const std::size_t fill = text.find("fill =");
  text.replace(fill, text.find('\n', fill) - fill, layers);
  const Problem problem = read_case_text(text, "box.toml").read->problem;
  Result result = invented::result(Mode::whole, true);
  result.run.loose = loose_facts(problem);
  for (SeriesRow& row : result.run.series) row.base_air_between = 0.60;
  const Findings findings = find(result, problem);
  const double chips = problem.batches[0].portions[0].feedstock.loose_porosity;
  EXPECT_NEAR(findings.loose_air_between, chips, 0.02);
  EXPECT_TRUE(has(say_base(findings), "60 % open pores in the lowest layer, against")) << say_base(findings);
}

TEST(VerdictSentences, SayWhyABaseHasMorePoresThanWhenItWasLaid) {
  Findings findings = kitchen();
  findings.base_stress = 4000.0;
  findings.base_air_between = 0.56;
  findings.loose_air_between = 0.51;
  EXPECT_EQ(
      say_base(findings),
      "The base stays open: 4 kPa above it still leaves 56 % open pores there, more than the 51 % of the "
      "fresh filling: what rots and drains makes room.");
}

TEST(VerdictSentences, SayThatFreezingIsNotComputedWhereTheBedStaysBelowZero) {
  const Problem problem = read_case_text(reader_tests::sound_case(), "box.toml").read->problem;
  Result result = invented::result(Mode::whole, true);
  EXPECT_EQ(say_freezing(find(result, problem)), "");
  for (SeriesRow& row : result.run.series) row.coldest = row.time < 4.0 * 86400.0 ? -5.0 : 5.0;
  const std::string text = say_freezing(find(result, problem));
  EXPECT_TRUE(has(text, "below 0 °C for 3.9 days in all: freezing is not computed")) << text;
}

TEST(VerdictSentences, SayStillAirOrWhatTheWindCountsFor) {
  Problem problem = read_case_text(reader_tests::sound_case(), "box.toml").read->problem;
  const Result result = invented::result(Mode::whole, true);
  EXPECT_TRUE(
      has(say_notes(find(result, problem)), "Computed in still air: wind, sun and rain are left out."));
  problem.outside.wind = 4.0;
  problem.outer_film = film_in_wind(4.0);
  const std::string windy = say_notes(find(result, problem));
  EXPECT_TRUE(has(windy, "A steady wind of 4 m/s presses on the openings and cools walls and lid")) << windy;
  problem.outside.wind = 0.0;
  problem.outer_film = 25.0;
  EXPECT_TRUE(has(say_notes(find(result, problem)), "the 25 W/m2K of the case"));
}

TEST(VerdictSentences, GiveNoRangeOfTheHottestPartWhereNothingIsUncertain) {
  Result result = invented::result(Mode::rings, true);
  const Problem problem = read_case_text(reader_tests::sound_case(), "box.toml").read->problem;
  result.run.series[52].hottest = 90.0;  // between two days
  result.bands = bands_without_width(summarise(result));
  const std::string text = say_warmth(find(result, problem));
  EXPECT_TRUE(has(text, "about 90 °C on day 6.5.")) << text;
}

}  // namespace
}  // namespace updraught
