// What the verdict says about the ways of the air comes from the computed flow: it turns round when buoyancy
// does, and does not depend on how the case is called.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

using nlohmann::json;

json run_of(const Folder& folder, const std::string& name, const std::string& text) {
  folder.write(name + ".toml", text);
  const Said said = folder.run({"run", name + ".toml", "--tries", "4", "--no-figures", "--json", "--quiet"});
  EXPECT_EQ(said.code, 0) << said.err;
  return said.json();
}

/// Inert fill, so that the temperatures of bed and outside alone decide where the air goes.
std::string inert(const std::string& name, const std::string& bed, const std::string& outside) {
  std::string text = replaced(still_case(name), "days     = 7\n", "days = 0.2\nmicrobes = false\n");
  text = replaced(text, "temperature = \"15 degC\"", "temperature = \"" + outside + "\"");
  return replaced(text, "temperature = \"28 degC\"", "temperature = \"" + bed + "\"") +
         "detail = \"quick\"\n";
}

/// The sentences of the verdict that tell the ways of the air.
std::string air_paths(const json& run) {
  std::string out;
  for (const json& sentence : run["verdict"]) {
    const std::string text = sentence;
    if (text.starts_with("Air enters") || text.find("comes and goes through") != std::string::npos)
      out += text;
  }
  return out;
}

/// Net inflow by opening (m3/h).
double net_in(const json& run, const std::string& name) {
  for (const json& opening : run["openings"])
    if (opening["name"] == name)
      return opening["air_in_m3_h"].get<double>() - opening["air_out_m3_h"].get<double>();
  ADD_FAILURE() << "no opening " << name;
  return 0.0;
}

/// The part of the sentences between one word and the next opening's verb.
bool says(const std::string& text, const std::string& verb, const std::string& opening) {
  const std::size_t verb_at = text.find(verb), name_at = text.find(opening);
  if (verb_at == std::string::npos || name_at == std::string::npos || name_at < verb_at) return false;
  const std::string between = text.substr(verb_at + verb.size(), name_at - verb_at - verb.size());
  return between.find("leaves through") == std::string::npos &&
         between.find("enters through") == std::string::npos;
}

struct Turned {
  std::string name;
  std::string below;  ///< the low opening
};

class Verdict : public testing::TestWithParam<Turned> {};

TEST_P(Verdict, TurnsRoundWithBuoyancy) {
  const Folder folder("verdict");
  const json warm = run_of(folder, "box", inert(GetParam().name, "50 degC", "10 degC"));
  const json cold = run_of(folder, "box2", inert(GetParam().name, "10 degC", "40 degC"));
  const std::string up = air_paths(warm), down = air_paths(cold);
  EXPECT_GT(net_in(warm, GetParam().below), 0.0);
  EXPECT_LT(net_in(cold, GetParam().below), 0.0);
  EXPECT_TRUE(says(up, "enters through", GetParam().below)) << up;
  EXPECT_TRUE(says(up, "leaves through", "lid gap")) << up;
  EXPECT_TRUE(says(down, "enters through", "lid gap")) << down;
  EXPECT_TRUE(says(down, "leaves through", GetParam().below)) << down;
}

INSTANTIATE_TEST_SUITE_P(Boxes, Verdict,
                         testing::Values(Turned{"allotment-box", "inlet of the raised base"},
                                         Turned{"allotment-box-side-holes", "side holes"}),
                         [](const auto& turned) { return turned.param.below.substr(0, 4); });

TEST(VerdictOfACase, DoesNotKnowWhatTheCaseIsCalled) {
  const Folder folder("verdict_name");
  const std::string base =
      replaced(ready_case("allotment-box"), "days     = 7\n", "days = 2\ndetail = \"quick\"\n");
  const std::string sides =
      replaced(ready_case("allotment-box-side-holes"), "days     = 7\n", "days = 2\ndetail = \"quick\"\n");
  const json one = run_of(folder, "allotment-box", base);
  const json other = run_of(folder, "allotment-box-side-holes", base);
  EXPECT_EQ(one["verdict"], other["verdict"]);
  EXPECT_EQ(one["cautions"], other["cautions"]);
  // And two cases of like names are told apart by what they hold.
  EXPECT_NE(run_of(folder, "allotment-box-2", sides)["verdict"], one["verdict"]);
}

/// The sentence about what holds the microbes back; empty where there is none.
std::string held_back(const json& run) {
  for (const json& sentence : run["verdict"])
    if (const std::string text = sentence; text.starts_with("What holds it back")) return text;
  return "";
}

// What it says of more chips is what a run with those chips says.
TEST(VerdictOfACase, TellsWhatMoreChipsWouldDoAboutWantOfAir) {
  const Folder folder("verdict_chips");
  const std::string few = "days = 3\nmode = \"rings\"\ncells = [8, 10]\n";
  std::string text = replaced(still_case("allotment-box-side-holes"), "days     = 7\n", few);
  const std::string said = held_back(run_of(folder, "box", text));
  ASSERT_NE(said.find("want of air"), std::string::npos) << said;
  const std::size_t share_at = said.find(" % of the buckets, not ");
  ASSERT_NE(share_at, std::string::npos) << said;
  const std::string share =
      said.substr(said.rfind('(', share_at) + 1, share_at - said.rfind('(', share_at) - 1);
  const auto airless = [&](std::vector<std::string> more) {
    more.insert(more.begin(), {"run", "box.toml", "--detail", "quick", "--no-band", "--no-figures", "--json",
                               "--quiet", "--force"});
    return std::round(100.0 * folder.run(more).json()["course"]["airless_share"].get<double>());
  };
  const std::string with =
      fmt::format("{} % of the bed's hours go without air", airless({"--woodchip", share}));
  EXPECT_NE(said.find(with), std::string::npos) << said << with;
  EXPECT_NE(said.find(fmt::format("{} %", airless({})), said.find(with)), std::string::npos) << said;
}

TEST(VerdictOfACase, SaysNothingOfMicrobesThatDoNotLive) {
  const Folder folder("verdict_inert");
  EXPECT_EQ(held_back(run_of(folder, "box", inert("allotment-box-side-holes", "50 degC", "10 degC"))), "");
}

TEST(VerdictOfAComparison, SwapsItsSidesWithTheCases) {
  const Folder folder("verdict_compare");
  const std::string few = "days = 2\nmode = \"rings\"\ncells = [8, 10]\n";
  const std::string base = replaced(ready_case("allotment-box"), "days     = 7\n", few);
  const std::string sides = replaced(ready_case("allotment-box-side-holes"), "days     = 7\n", few);
  const auto compared = [&](const std::string& first, const std::string& second, const std::string& out) {
    folder.write("a.toml", first);
    folder.write("b.toml", second);
    return folder.run({"compare", "a.toml", "b.toml", "--tries", "6", "--out", out, "--json", "--quiet"})
        .json();
  };
  const json one = compared(base, sides, "one"), other = compared(sides, base, "other");
  ASSERT_EQ(one["measures"].size(), other["measures"].size());
  for (std::size_t n = 0; n < one["measures"].size(); ++n) {
    const json there = one["measures"][n]["pairs"][0], back = other["measures"][n]["pairs"][0];
    EXPECT_EQ(there["above"], back["below"]) << one["measures"][n]["name"];
    EXPECT_EQ(there["clear"], back["clear"]) << one["measures"][n]["name"];
  }
  EXPECT_EQ(one["take"].is_null(), other["take"].is_null());
  if (one["take"].is_string()) {
    EXPECT_NE(one["take"], other["take"]) << "the files changed their names";
  }
}

}  // namespace
}  // namespace updraught::whole
