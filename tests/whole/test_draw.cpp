// draw: what a run left can be made again from its store alone, byte for byte.
#include <gtest/gtest.h>

#include <map>

#include "tests/whole/program.h"
#include "tests/whole/small_bin.h"

namespace updraught::whole {
namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// All files below a folder but the store and the list of files, with their bytes.
std::map<std::string, std::string> drawn_files(const fs::path& folder) {
  std::map<std::string, std::string> out;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const std::string name = fs::relative(entry.path(), folder).string();
    if (entry.is_regular_file() && name != "result.h5" && name != "updraught-files.txt")
      out[name] = text_of(entry.path());
  }
  return out;
}

void expect_same_files(const fs::path& one, const fs::path& other) {
  const auto left = drawn_files(one), right = drawn_files(other);
  EXPECT_GT(left.size(), 15U);
  for (const auto& [name, bytes] : left) {
    ASSERT_TRUE(right.contains(name)) << name;
    EXPECT_TRUE(right.at(name) == bytes) << name << " is another one";
  }
  EXPECT_EQ(left.size(), right.size());
}

TEST(Draw, MakesEveryFileOfARunAgainByteForByte) {
  const Folder folder("draw");
  folder.write("bin.toml", small_bin("1.5"));
  const Said ran = folder.run({"run", "bin.toml", "--quiet", "--json"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  const fs::path first = folder.path() / "bin.results";
  // The store is all that is needed: not the case, nor what lies beside it.
  fs::rename(first / "result.h5", folder.path() / "alone.h5");
  fs::remove(folder.path() / "bin.toml");
  const Said drawn = folder.run({"draw", "alone.h5", "--json"});
  EXPECT_EQ(drawn.code, 0) << drawn.err;
  EXPECT_EQ(drawn.out, ran.out);
  expect_same_files(first, folder.path() / "bin.drawn");
}

TEST(Draw, KeepsTheStoreWhereItDrawsBesideIt) {
  const Folder folder("draw_in_place");
  folder.write("bin.toml", small_bin("1.5"));
  ASSERT_EQ(folder.run({"run", "bin.toml", "--quiet", "--no-band", "--no-figures"}).code, 0);
  const fs::path results = folder.path() / "bin.results";
  const std::string store = text_of(results / "result.h5");
  const Said refused = folder.run({"draw", "bin.results", "--out", "bin.results"});
  EXPECT_EQ(refused.code, 2);
  EXPECT_TRUE(has(refused.err, "replace them with --force")) << refused.err;
  EXPECT_FALSE(fs::exists(results / "figures"));
  const Said drawn = folder.run({"draw", "bin.results", "--out", "bin.results", "--force"});
  EXPECT_EQ(drawn.code, 0) << drawn.err;
  EXPECT_TRUE(fs::exists(results / "figures/sheet.png"));
  EXPECT_TRUE(text_of(results / "result.h5") == store);
  EXPECT_FALSE(fs::exists(results / "unfinished") || fs::exists(results / "replaced"));
}

TEST(Draw, OfAKilledRunSaysHowFarItWent) {
  const Folder folder("draw_killed");
  folder.write("bin.toml", small_bin("60"));
  const fs::path left = folder.path() / "bin.results/unfinished";
  const Said ran = folder.run_until(
      {"run", "bin.toml", "--quiet", "--no-band"},
      [&] { return fs::exists(left / "result_parts_1/picture_000003.h5") && fs::exists(left / "result.h5"); },
      SIGKILL);
  ASSERT_EQ(ran.signal, SIGKILL) << ran.err;
  const Said drawn = folder.run({"draw", "bin.results"});
  EXPECT_EQ(drawn.code, 1);
  EXPECT_TRUE(has(drawn.err, "was killed or still goes on: this speaks of its first ")) << drawn.err;
  EXPECT_TRUE(has(drawn.out, "Stopped before its end")) << drawn.out;
  const std::string sheet = text_of(folder.path() / "bin.drawn/figures/sheet.svg");
  EXPECT_FALSE(sheet.empty());
  EXPECT_FALSE(has(sheet, "less than 0.000001 %")) << "what is unknown passes for balanced";
  // What the killed run left is still there.
  EXPECT_TRUE(fs::exists(left / "result.h5"));
}

TEST(Draw, TellsWhatCannotBeDrawn) {
  const Folder folder("draw_none");
  folder.write("text.h5", "no store");
  fs::create_directories(folder.path() / "empty");
  const auto refused = [&](const std::string& what, const std::string& why) {
    const Said said = folder.run({"draw", what});
    EXPECT_EQ(said.code, 2) << what;
    EXPECT_TRUE(has(said.err, why)) << said.err;
    EXPECT_EQ(std::count(said.err.begin(), said.err.end(), '\n'), 1) << said.err;
  };
  refused("nowhere", "nowhere is not there");
  refused("text.h5", "is not a result");
  refused("empty", "empty holds no result.h5");
}

}  // namespace
}  // namespace updraught::whole
