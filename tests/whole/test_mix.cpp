// mix through the program itself: the advice, what it does not know, and the bucket test.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/whole/finite_numbers.h"
#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

using nlohmann::json;

TEST(Mix, TellsWaterCarbonAndAir) {
  const Folder folder("mix");
  const json object = folder.run({"mix", "3 buckets kitchen waste, 2 buckets woodchip", "--json"}).json();
  expect_numbers_or_null(object, "mix");
  EXPECT_NEAR(object["woodchip_share"], 0.4, 1e-12);
  EXPECT_GT(object["moisture"], 0.4);
  EXPECT_LT(object["moisture"], 0.9);
  EXPECT_LE(object["air_between_base"]["low"], object["air_between_base"]["value"]);
  EXPECT_GE(object["air_between_base"]["high"], object["air_between_base"]["value"]);
  EXPECT_LT(object["air_between_base"]["value"], object["air_between_loose"]["value"]);
  const json woody = folder.run({"mix", "1 bucket kitchen waste, 3 buckets woodchip", "--json"}).json();
  EXPECT_GT(woody["air_between_base"]["value"], object["air_between_base"]["value"]);
  EXPECT_TRUE(folder.names().empty());
}

TEST(Mix, SaysThatItComputesNoAirAndWhichCommandDoes) {
  const Folder folder("mix_scope");
  const Said said = folder.run({"mix", "4 buckets cooked food", "--depth", "60 cm"});
  EXPECT_EQ(said.code, 0);
  for (const char* part : {"no air is computed", "bed 60 cm deep", "the more the deeper",
                           "updraught blend CASE", "of the buckets woodchip"})
    EXPECT_NE(said.out.find(part), std::string::npos) << part << "\n" << said.out;
  // The numbers of its own packing: loose, half way down and at the base.
  const json object = folder.run({"mix", "4 buckets cooked food", "--depth", "60 cm", "--json"}).json();
  const auto share = [&](const char* key) { return object[key]["value"].get<double>(); };
  EXPECT_GT(share("air_between_loose"), share("air_between_half_depth"));
  EXPECT_GT(share("air_between_half_depth"), share("air_between_base"));
  EXPECT_LT(share("air_between_base"), 0.2);
  const std::string closes =
      "The base closes: loose it has " + std::to_string(std::lround(100.0 * share("air_between_loose"))) +
      " % open pores between the pieces, under 30 cm of its own weight " +
      std::to_string(std::lround(100.0 * share("air_between_half_depth"))) + " %, under 60 cm " +
      std::to_string(std::lround(100.0 * share("air_between_base"))) + " %, and ";
  EXPECT_NE(said.out.find(closes), std::string::npos) << closes << "\n" << said.out;
  EXPECT_EQ(object["reasons"][0].get<std::string>().find(closes), 0u);
  EXPECT_NEAR(object["after"]["woodchip_share"].get<double>(),
              object["add"][0]["buckets"].get<double>() / (4.0 + object["add"][0]["buckets"].get<double>() +
                                                           object["add"][1]["buckets"].get<double>()),
              1e-9);
  // A base that stays open is told without the sentence, with the same reserve.
  const Said open = folder.run({"mix", "4 buckets cooked food, 12 buckets woodchip", "--depth", "60 cm"});
  EXPECT_EQ(open.out.find("The base closes"), std::string::npos) << open.out;
  EXPECT_NE(open.out.find("no air is computed"), std::string::npos) << open.out;
}

TEST(Mix, SaysThatABaseClosesOnceItRots) {
  const Folder folder("mix_limp");
  const std::vector<std::string> words = {"mix", "4 buckets kitchen waste, 2 buckets woodchip, coarse",
                                          "--depth", "80 cm"};
  std::vector<std::string> as_numbers = words;
  as_numbers.push_back("--json");
  const json object = folder.run(as_numbers).json();
  const auto share = [&](const char* key) { return object[key]["value"].get<double>(); };
  // Open as it is laid, closed by its own weight once it is limp: neither finding may hide the other.
  EXPECT_GE(share("air_between_base"), 0.2);
  EXPECT_LT(share("air_between_base_limp"), 0.2);
  const Said said = folder.run(words);
  EXPECT_NE(said.out.find("The base closes later: loose it has"), std::string::npos) << said.out;
  EXPECT_EQ(said.out.find("The base closes: "), std::string::npos) << said.out;
}

TEST(Mix, TellsWhatIsWrongWithReadingsOfABucket) {
  const Folder folder("mix_mistakes");
  const Said said = folder.run({"mix", "1 bucket grass", "--loose", "9kg", "--water-poured", "20L/8L"});
  EXPECT_EQ(said.code, 2);
  EXPECT_EQ(said.out, "");
  EXPECT_EQ(said.err,
            "updraught: mix: --loose: \"9kg\" must be two amounts or a density. Write \"9kg/20L\" or \"500 "
            "kg/m3\".\n"
            "updraught: mix: --water-poured: \"20L/8L\" is 250 % of the bucket; pores are between 0 and 100 "
            "% of it. Write the water over the litres that the material fills: \"8L/20L\".\n");
}

TEST(Mix, WarnsOfWhatRulesForbid) {
  const Folder folder("mix_rules");
  EXPECT_NE(folder.run({"mix", "1 bucket fish, 2 buckets shavings"}).out.find("Cooked food and meat"),
            std::string::npos);
  EXPECT_NE(folder.run({"mix", "1 bucket sewage sludge, 3 buckets bark"}).out.find("Sewage sludge carries"),
            std::string::npos);
  const json plain = folder.run({"mix", "1 bucket grass, 1 bucket coffee grounds", "--json"}).json();
  EXPECT_TRUE(plain["cautions"].empty()) << plain["cautions"];
}

TEST(Mix, ReadsABucketTestAndPrintsALineThatACaseTakes) {
  const Folder folder("mix_bucket");
  const std::vector<std::string> words{"mix",     "1 bucket kitchen waste", "--loose", "9kg/20L", "--tapped",
                                       "9kg/15L", "--water-poured",         "8L/20L"};
  const Said said = folder.run(words);
  EXPECT_EQ(said.code, 0) << said.err;
  for (const char* part :
       {"Your loose bucket weighs 450 kg/m3", "After dropping it weighs 600 kg/m3: it sinks by 25 %",
        "Water fills 40 % of the loose bucket", "No key takes this reading", "Into the case:"})
    EXPECT_NE(said.out.find(part), std::string::npos) << part << "\n" << said.out;
  std::vector<std::string> with_json = words;
  with_json.push_back("--json");
  const json bucket = folder.run(with_json).json()["bucket_test"];
  EXPECT_NEAR(bucket["loose"]["kg_m3"], 450.0, 1e-9);
  EXPECT_NEAR(bucket["loose"]["library_kg_m3"], 450.0, 1e-6);
  EXPECT_NEAR(bucket["tapped"]["sinks"], 0.25, 1e-12);
  EXPECT_NEAR(bucket["water_poured"]["share"], 0.4, 1e-12);
  ASSERT_EQ(bucket["keys"].size(), 1u);
  const std::string line = bucket["keys"][0]["line"];
  EXPECT_EQ(line, "feedstocks = { \"vegetable scraps (raw)\" = { loose_density = \"450 kg/m3\" } }");
  folder.write("mine.toml", ready_case("starter") + line + "\n");
  EXPECT_EQ(folder.run({"check", "mine.toml"}).code, 0);
}

TEST(Mix, ADroppedBucketAloneIsHeldBesideTheLibrarysLooseOne) {
  const Folder folder("mix_dropped");
  const auto tapped = [&](const char* reading) {
    return folder.run({"mix", "1 bucket kitchen waste", "--tapped", reading, "--json"}).json()["bucket_test"];
  };
  EXPECT_NEAR(tapped("12kg/20L")["tapped"]["sinks"], 1.0 - 450.0 / 600.0, 1e-9);
  const json light = tapped("8kg/20L");
  EXPECT_FALSE(light["tapped"].contains("sinks"));
  EXPECT_NE(light["sentences"][0].get<std::string>().find("less than the library's loose one (450 kg/m3)"),
            std::string::npos)
      << light;
  EXPECT_TRUE(light["keys"].empty());
}

TEST(Mix, ABucketOfChipsOrOfAMixGoesIntoOtherKeys) {
  const Folder folder("mix_bucket_keys");
  const auto keys = [&](const std::vector<std::string>& words) {
    std::vector<std::string> all{"mix"};
    all.insert(all.end(), words.begin(), words.end());
    all.push_back("--json");
    const Said said = folder.run(all);
    EXPECT_EQ(said.code, 0) << said.err;
    return said.json()["bucket_test"]["keys"];
  };
  const json chips = keys({"1 bucket woodchip", "--loose", "5kg/20L", "--water-poured", "12L/20L"});
  ASSERT_EQ(chips.size(), 1u);
  EXPECT_EQ(
      chips[0]["line"],
      "feedstocks = { \"woodchip, coarse\" = { loose_porosity = 0.60, basic_density = \"375 kg/m3\" } }");
  const json mixed = keys({"3 buckets kitchen waste, 3 buckets woodchip", "--loose", "9.2kg/20L"});
  ASSERT_EQ(mixed.size(), 1u) << mixed;
  EXPECT_EQ(mixed[0]["line"].get<std::string>().find("laws = { packing_excess_shift = "), 0u);
  // Nothing that the reader of cases would refuse.
  for (const json& key : {chips[0], mixed[0]}) {
    folder.write("mine.toml", ready_case("starter") + key["line"].get<std::string>() + "\n");
    const Said said = folder.run({"check", "mine.toml"});
    EXPECT_EQ(said.code, 0) << key << said.out << said.err;
  }
  EXPECT_TRUE(keys({"3 buckets kitchen waste, 3 buckets woodchip", "--loose", "2kg/20L"}).empty());
  EXPECT_TRUE(keys({"1 bucket kitchen waste", "--water-poured", "40 %"}).empty());
}

TEST(Mix, TellsTheLimitsOfItsOptions) {
  const Folder folder("mix_limits");
  EXPECT_EQ(
      folder.run({"mix", "1 bucket grass", "--depth", "300 m"}).err,
      "updraught: mix: --depth: \"300 m\" is out of range. Known limits: a bed is between 1 cm and 10 m "
      "deep.\n");
}

}  // namespace
}  // namespace updraught::whole
