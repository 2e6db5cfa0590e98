// --set KEY=VALUE: any key of a case said otherwise on the command line, and by members to one another.
#include <gtest/gtest.h>

#include "post/store/store_read.h"
#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

using nlohmann::json;

/// A bin that is computed in a moment.
const char* const small_bin =
    "bin = { shape = \"round\", width = \"0.5 m\", height = \"0.8 m\" }\n"
    "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
    "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.5 } ]\n"
    "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
    "fill = [ { what = \"vegetable scraps (raw)\", buckets = 1 }, { what = \"woodchip, coarse\", buckets = 2 "
    "} ]\n"
    "depth = \"0.5 m\"\ndays = 1\ndetail = \"quick\"\n";

/// What a run told, without what differs from one run to the next.
json without_clocks(json object) {
  for (const char* key : {"wall_seconds", "band_seconds", "peak_memory_mb", "seconds"}) object.erase(key);
  return object;
}

TEST(Set, VariesAnyKeyAsTheFileWould) {
  const Folder folder("set_any_key");
  folder.write("box.toml", small_bin);
  const std::vector<std::string> words{"--json", "--quiet", "--no-band", "--no-figures", "--days", "0.2"};
  const auto run = [&](std::vector<std::string> more) {
    more.insert(more.end(), words.begin(), words.end());
    const Said said = folder.run(more);
    EXPECT_EQ(said.code, 0) << said.err;
    return without_clocks(said.json());
  };
  const json laid = run({"run", "box.toml", "--set", "air_out[1].size=12 mm", "--set=bin.width=60 cm"});
  folder.write("box.toml", replaced(replaced(small_bin, "5 mm", "12 mm"), "\"0.5 m\"", "\"60 cm\""));
  EXPECT_EQ(laid, run({"run", "box.toml", "--force"}));
}

TEST(Set, MistakesAreToldAndNothingIsWritten) {
  const Folder folder("set_mistakes");
  folder.write("box.toml", small_bin);
  for (const std::string command : {"run", "check", "blend"}) {
    const Said said = folder.run({command, "box.toml", "--set", "air_out[1].size=12 kg", "--set", "dyas=3"});
    EXPECT_EQ(said.code, 2);
    EXPECT_EQ(
        said.err,
        "--set dyas=3: dyas: There is no key of this name here. Did you mean `days`?\n"
        "--set air_out[1].size=12 kg: air_out[1].size: \"12 kg\" is not a length. Write a length such as "
        "\"0.9 m\".\n")
        << command;
  }
  EXPECT_EQ(folder.run({"compare", "box.toml", "box.toml", "--set", "days=0"}).code, 2);
  const Said twice = folder.run({"run", "box.toml", "--days", "1", "--set", "days=2"});
  EXPECT_EQ(twice.code, 2);
  EXPECT_EQ(twice.err,
            "--days 1: days: It takes the place of what --set days=2 says. Leave one of the two out.\n");
  const Said bare = folder.run({"run", "box.toml", "--set", "days"});
  EXPECT_EQ(
      bare.err,
      "updraught: --set: \"days\" does not do; write a key of the case and its value, such as days=7.\n");
  EXPECT_EQ(folder.names(), (std::vector<std::string>{"box.toml"}));
}

TEST(Set, TakesTheKeysOfWhatIsUncertain) {
  const Folder folder("set_uncertain");
  folder.write("box.toml", small_bin);
  const json inputs = folder.run({"check", "box.toml", "--json"}).json()["uncertain"];
  ASSERT_GT(inputs.size(), 8u);
  for (const json& input : inputs) {
    std::ostringstream word;
    word.precision(17);
    word << input["key"].get<std::string>() << "=" << input["high"].get<double>();
    if (input["unit"] != "") word << " " << input["unit"].get<std::string>();
    const Said said = folder.run({"check", "box.toml", "--json", "--set", word.str()});
    EXPECT_EQ(said.code, 0) << word.str() << said.out << said.err;
  }
}

TEST(Set, ReachesTheComputationsOfLowAndHigh) {
  const Folder folder("set_band");
  folder.write("box.toml", small_bin);
  const auto band = [&](const std::string& value) {
    const Said said =
        folder.run({"run", "box.toml", "--set", "bin.height=" + value, "--set", "depth=" + value, "--days",
                    "0.5", "--tries", "4", "--json", "--quiet", "--no-figures", "--force"});
    EXPECT_EQ(said.code, 0) << said.err;
    return said.json()["days"].back()["height_m_low"].get<double>();
  };
  EXPECT_GT(band("70 cm"), 1.5 * band("35 cm"));
}

TEST(Members, ComputeTheCaseThatWasReadWhateverBecameOfTheFile) {
  const Folder folder("edited_meanwhile");
  folder.write("box.toml", small_bin);
  const std::vector<std::string> words{"run",    "box.toml", "--tries",      "6",
                                       "--json", "--quiet",  "--no-figures", "--force"};
  const json calm = folder.run(words).json();
  bool edited = false;
  const Said said = folder.run_until(
      words,
      [&] {
        if (edited || !fs::exists(folder.path() / "box.results" / "unfinished")) return edited;
        folder.write("box.toml", replaced(small_bin, "buckets = 2", "buckets = 9"));
        return edited = true;
      },
      0);
  ASSERT_TRUE(edited) << "the folder of work was not seen";
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(without_clocks(said.json()), without_clocks(calm));
}

TEST(Members, PrintTheSameNumbersAsTheRunItself) {
  const Folder folder("member_by_hand");
  folder.write("bin.toml", small_bin);
  const std::string file = (folder.path() / "bin.toml").string();
  const auto from_file = [&] { dup2(open(file.c_str(), O_RDONLY), STDIN_FILENO); };
  const Said member =
      folder.run_after(from_file, {"run", "else.toml", "--member", "--set", "laws.packing_excess_shift=-0.1",
                                   "--threads", "1", "--json"});
  ASSERT_EQ(member.code, 0) << member.err;
  EXPECT_EQ(member.json()["case"], "else");
  const auto day_one = [](const json& object) { return object["days"][0]["hottest_c"]; };
  const std::vector<std::string> words{"run",       "bin.toml",     "--json", "--quiet",
                                       "--no-band", "--no-figures", "--force"};
  const json plain = folder.run(words).json();
  std::vector<std::string> shifted = words;
  shifted.insert(shifted.end(), {"--set", "laws.packing_excess_shift=-0.1"});
  EXPECT_EQ(day_one(member.json()), day_one(folder.run(shifted).json()));
  EXPECT_NE(day_one(member.json()), day_one(plain));
  EXPECT_TRUE(plain["days"][0]["hottest_c_low"].is_null());
  EXPECT_EQ(folder.names(), (std::vector<std::string>{"bin.results", "bin.toml"}));
}

TEST(PlausibleBeds, AreTheSameBitsOnAnyNumberOfCoresAndOthersForAnotherSeed) {
  const Folder folder("plausible_bits");
  folder.write("bin.toml", small_bin);
  const auto plausible = [&](const std::string& threads, const std::string& seed) {
    const Said said = folder.run({"run", "bin.toml", "--tries", "6", "--threads", threads, "--seed", seed,
                                  "--json", "--quiet", "--no-figures", "--force"});
    EXPECT_EQ(said.code, 0) << said.err;
    return said.json()["plausible"]["measures"];
  };
  EXPECT_EQ(plausible("1", "1"), plausible("2", "1"));
  EXPECT_NE(plausible("2", "1"), plausible("2", "2"));
}

TEST(PlausibleBeds, CanBeComputedOneByOne) {
  const Folder folder("plausible_bed");
  folder.write("bin.toml", small_bin);
  const Said all =
      folder.run({"run", "bin.toml", "--tries", "4", "--json", "--quiet", "--no-figures", "--force"});
  ASSERT_EQ(all.code, 0) << all.err;
  const TriedBeds tried = read_result(folder.path() / "bin.results" / "result.h5").quick.tried;
  ASSERT_EQ(tried.beds.size(), 4u);
  const Said third =
      folder.run({"run", "bin.toml", "--bed", "3", "--json", "--quiet", "--no-figures", "--force"});
  ASSERT_EQ(third.code, 0) << third.err;
  EXPECT_EQ(third.json()["course"]["hottest_c"], tried.beds[2].course.hottest);
  EXPECT_NE(third.json()["course"]["hottest_c"], all.json()["course"]["hottest_c"]);
  EXPECT_TRUE(third.json()["plausible"].is_null());
}

}  // namespace
}  // namespace updraught::whole
