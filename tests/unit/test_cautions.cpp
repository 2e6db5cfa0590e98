// Cautions come from what a case is made of, not from what it calls that or from a number.
#include <gtest/gtest.h>

#include "cases/reader/read_case.h"
#include "post/answer/cautions.h"
#include "post/answer/verdict.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::with_added;
using reader_tests::with_line;

Problem read(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text, "box.toml");
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  return outcome.read ? outcome.read->problem : Problem{};
}

/// All cautions and notes of a case of which nothing was computed.
std::string said(const std::string& text) {
  const Problem problem = read(text);
  Findings findings;
  findings.materials = materials_in(problem);
  std::string all = say_notes(findings);
  for (const Caution& one : cautions(findings, problem)) all += "\n" + one.words;
  return all;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string filled_with(const std::string& name, const std::string& like) {
  return with_line("fill", fmt::format("feedstocks = {{ \"{0}\" = {{ like = \"{1}\" }} }}\n"
                                       "fill = [ {{ what = \"{0}\", buckets = 5 }} ]",
                                       name, like));
}

TEST(Cautions, OfFoamComeFromFoamAlone) {
  EXPECT_FALSE(has(said(with_line("walls", "walls = [ { of = \"timber\", thick = \"200 mm\" } ]")), "Foam"));
  const std::string foam = "[ { of = \"foil-faced board\", thick = \"5 mm\" } ]";
  for (const char* key : {"sides = { back = ", "floor = ", "lid = "})
    EXPECT_TRUE(has(said(with_added(key + foam + (key[0] == 's' ? " }" : ""))), "Foam")) << key;
}

TEST(Cautions, FollowAFeedstockToWhatIsLikeIt) {
  const std::string cooked = said(filled_with("restaurant leftovers", "cooked food"));
  EXPECT_TRUE(has(cooked, "Cooked food and meat")) << cooked;
  EXPECT_TRUE(has(cooked, "acid start")) << cooked;
  EXPECT_TRUE(has(said(filled_with("from the stable", "horse manure")), "weedkiller"));
  EXPECT_TRUE(has(said(filled_with("goat bedding", "straw")), "weedkiller"));
}

TEST(Cautions, OfSewageSludgeComeFromSludgeAlone) {
  const std::string sludge = said(filled_with("from the works", "sewage sludge"));
  EXPECT_TRUE(has(sludge, "Sewage sludge carries germs")) << sludge;
  EXPECT_TRUE(has(sludge, "sludge law decides")) << sludge;
  EXPECT_FALSE(has(said(filled_with("sewage sludge from next door", "horse manure")), "Sewage sludge"));
  EXPECT_FALSE(has(said(filled_with("pond sludge", "digestate")), "Sewage sludge"));
}

TEST(Cautions, OfMeatFishAndBreadAreThoseOfCookedFood) {
  for (const char* name : {"fish scraps", "meat scraps", "bread"})
    EXPECT_TRUE(has(said(filled_with("leavings", name)), "Cooked food and meat")) << name;
  for (const char* name : {"coffee grounds", "tea leaves"}) {
    const std::string all = said(filled_with("from the kitchen", name));
    EXPECT_FALSE(has(all, "Cooked food and meat")) << name;
    EXPECT_TRUE(has(all, "Local rules on food waste")) << name;
  }
}

TEST(Cautions, DoNotFollowAName) {
  const std::string grass = said(filled_with("cooked food canteen straw", "grass"));
  EXPECT_FALSE(has(grass, "Cooked food and meat")) << grass;
  EXPECT_FALSE(has(grass, "weedkiller")) << grass;
  EXPECT_FALSE(has(grass, "acid start")) << grass;
}

}  // namespace
}  // namespace updraught
