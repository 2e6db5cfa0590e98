// The commands as people call them: what they print, write, refuse, and leave behind when they are stopped.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <thread>

#include "post/store/store_read.h"
#include "tests/whole/small_bin.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using whole::small_bin;

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string content(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

struct Said {
  int code = -1;
  std::string out;
  std::string errors;
};

class Commands : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("updraught_commands_" + std::to_string(getpid()));
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    write("bin.toml", small_bin("1"));
  }
  void TearDown() override { fs::remove_all(folder_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
  }

  // Starts the program in the test's folder; its streams go into files there.
  pid_t start(std::vector<std::string> words) const {
    const pid_t child = fork();
    if (child != 0) return child;
    words.insert(words.begin(), UPDRAUGHT_PROGRAM);
    std::vector<char*> pointers;
    pointers.reserve(words.size() + 1);
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    const auto into = [this](const char* name, int stream) {
      const int file = open((folder_ / name).c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
      dup2(file, stream);
    };
    into("out.txt", STDOUT_FILENO);
    into("errors.txt", STDERR_FILENO);
    if (chdir(folder_.c_str()) == 0) execv(UPDRAUGHT_PROGRAM, pointers.data());
    _exit(127);
  }

  Said ended(pid_t child) const {
    int status = 0;
    waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status), content(folder_ / "out.txt"),
            content(folder_ / "errors.txt")};
  }

  Said say(const std::vector<std::string>& words) const { return ended(start(words)); }

  std::set<std::string> files() const {
    std::set<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder_)) names.insert(entry.path().filename());
    return names;
  }

  // Waits until a file is there; false after half a minute.
  bool comes(const fs::path& file) const {
    for (int n = 0; n < 600; ++n) {
      if (fs::exists(folder_ / file)) return true;
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    return false;
  }

  fs::path folder_;
};

// Every key that readers of `run --json` count on.
void expect_summary(const json& object) {
  for (const char* key :
       {"case", "mode", "cells", "wall_seconds", "peak_memory_mb", "settled_height_m", "loose", "days",
        "heat_by_path_w", "steps", "unknowns", "seconds", "openings", "balances", "verdict"}) {
    EXPECT_TRUE(object.contains(key)) << key;
  }
  ASSERT_FALSE(object["days"].empty());
  for (const json& day : object["days"]) {
    for (const std::string name :
         {"mean_temperature_c", "hottest_c", "aired_share", "air_in_m3_h", "height_m"}) {
      ASSERT_TRUE(day[name].is_number()) << name;
      EXPECT_LE(day[name + "_low"].get<double>(), day[name + "_high"].get<double>()) << name;
    }
    EXPECT_GE(day["aired_share_low"].get<double>(), 0.0);
    EXPECT_LE(day["aired_share_high"].get<double>(), 1.0);
  }
  EXPECT_FALSE(object["verdict"].empty());
}

TEST_F(Commands, run_prints_the_verdict_and_keeps_to_its_folder) {
  const Said said = say({"run", "bin.toml"});
  EXPECT_EQ(said.code, 0) << said.errors;
  EXPECT_EQ(said.out.find("Does it breathe?"), 0u);
  EXPECT_TRUE(has(said.out, "while so little")) << said.out;
  EXPECT_TRUE(has(said.out, "bin.results/figures/sheet.png")) << said.out;
  EXPECT_EQ(files(), (std::set<std::string>{"bin.toml", "bin.results", "out.txt", "errors.txt"}));
  for (const char* file : {"result.h5", "summary.json", "verdict.txt", "series.csv", "days.csv",
                           "view/bed.pvd", "figures/sheet.png", "figures/sheet.svg"}) {
    EXPECT_TRUE(fs::exists(folder_ / "bin.results" / file)) << file;
  }
  EXPECT_FALSE(has(said.errors, "\r")) << "a bar that is drawn over has no place in a pipe";
  EXPECT_TRUE(has(said.errors, "bin: computed after")) << said.errors;
}

TEST_F(Commands, run_prints_one_json_object_that_the_store_agrees_with) {
  const Said said = say({"run", "bin.toml", "--json", "--quiet", "--out", "here"});
  ASSERT_EQ(said.code, 0) << said.errors;
  EXPECT_EQ(said.errors, "");
  const json object = json::parse(said.out);
  expect_summary(object);
  EXPECT_EQ(object, json::parse(content(folder_ / "here" / "summary.json")));
  const Result result = read_result(folder_ / "here" / "result.h5");
  EXPECT_EQ(result.run.steps, object["steps"].get<int>());
  EXPECT_EQ(result.verdict, object["verdict"].get<std::vector<std::string>>());
  EXPECT_DOUBLE_EQ(result.run.series.back().aired_share, object["days"].back()["aired_share"].get<double>());
  EXPECT_DOUBLE_EQ(result.bands.at(0).at("hottest_c").low, object["days"][0]["hottest_c_low"].get<double>());
}

TEST_F(Commands, run_never_replaces_results_without_being_told) {
  ASSERT_EQ(say({"run", "bin.toml", "--quiet", "--no-band", "--no-figures", "--days", "0.1"}).code, 0);
  const std::string before = content(folder_ / "bin.results" / "summary.json");
  const Said refused = say({"run", "bin.toml", "--quiet", "--no-band", "--no-figures", "--days", "0.2"});
  EXPECT_EQ(refused.code, 2);
  EXPECT_TRUE(has(refused.errors, "--force")) << refused.errors;
  EXPECT_EQ(content(folder_ / "bin.results" / "summary.json"), before);
  EXPECT_EQ(say({"run", "bin.toml", "--quiet", "--no-band", "--no-figures", "--days", "0.2", "--force"}).code,
            0);
  EXPECT_NE(content(folder_ / "bin.results" / "summary.json"), before);
}

TEST_F(Commands, force_does_not_touch_a_folder_of_other_files) {
  fs::create_directories(folder_ / "letters");
  write("letters/letter.txt", "dear all");
  for (const char* out : {"letters", "bin.toml"}) {
    const Said said = say({"run", "bin.toml", "--quiet", "--force", "--out", out});
    EXPECT_EQ(said.code, 2) << said.errors;
    EXPECT_TRUE(has(said.errors, "--out")) << said.errors;
  }
  EXPECT_EQ(content(folder_ / "letters" / "letter.txt"), "dear all");
  EXPECT_EQ(content(folder_ / "bin.toml"), small_bin("1"));
}

TEST_F(Commands, write_nothing_for_a_wrong_case) {
  write("wrong.toml", small_bin("1") + "dpeth = \"0.4 m\"\n");
  for (const std::vector<std::string>& words : {std::vector<std::string>{"run", "wrong.toml"},
                                                {"blend", "wrong.toml"},
                                                {"compare", "bin.toml", "wrong.toml"}}) {
    const Said said = say(words);
    EXPECT_EQ(said.code, 1) << said.errors;
    EXPECT_TRUE(has(said.errors, "depth")) << said.errors;
    EXPECT_EQ(said.out, "");
  }
  EXPECT_EQ(files(), (std::set<std::string>{"bin.toml", "wrong.toml", "out.txt", "errors.txt"}));
}

TEST_F(Commands, the_air_turns_round_when_the_bed_is_the_cold_part) {
  // No microbes: the bed is held warm in cold air, then cold in warm air.
  const auto enters = [this](const std::string& bed, const std::string& outside) {
    std::string text = small_bin("1");
    text.replace(text.find("\"10 degC\""), 9, "\"" + outside + "\"");
    write("held.toml", text + "hold_temperature = \"" + bed + "\"\nmicrobes = false\n");
    const Said said = say({"run", "held.toml", "--quiet", "--no-band", "--no-figures", "--force"});
    EXPECT_EQ(said.code, 0) << said.errors;
    std::string line = said.out;
    for (char& letter : line) letter = letter == '\n' ? ' ' : letter;
    const std::size_t from = line.find("Air enters through");
    return from == std::string::npos ? line : line.substr(from, line.find(" and leaves", from) - from);
  };
  EXPECT_TRUE(has(enters("50 degC", "5 degC"), "raised base"));
  EXPECT_TRUE(has(enters("5 degC", "35 degC"), "lid"));
}

TEST_F(Commands, a_prescribed_bed_at_a_held_temperature_has_a_band_without_width) {
  fs::copy_file(fs::path(UPDRAUGHT_SOURCE_DIR) / "cases/textbook/darcy-column.toml", folder_ / "column.toml");
  const Said said = say({"run", "column.toml", "--json", "--quiet"});
  ASSERT_EQ(said.code, 0) << said.errors;
  const json object = json::parse(said.out);
  expect_summary(object);
  EXPECT_EQ(object["days"][0]["air_in_m3_h_low"], object["days"][0]["air_in_m3_h_high"]);
  EXPECT_EQ(said.out.find("NaN"), std::string::npos);
}

TEST_F(Commands, compare_pairs_plausible_beds_and_takes_one_design) {
  std::string closed = small_bin("1");
  closed.replace(closed.find("base     ="), closed.find("air_out") - closed.find("base     ="),
                 "base     = { kind = \"closed\" }\n");
  write("closed.toml", closed);
  const Said said = say({"compare", "bin.toml", "closed.toml", "--tries", "8", "--json", "--quiet"});
  ASSERT_EQ(said.code, 0) << said.errors;
  const json object = json::parse(said.out);
  ASSERT_EQ(object["cases"].size(), 2u);
  for (const json& one : object["cases"]) expect_summary(one);
  EXPECT_EQ(object["cases"][0]["case"], "bin");
  EXPECT_EQ(object["measures"][0]["name"], "airless_share");
  EXPECT_EQ(object["measures"][0]["pairs"][0]["pairs"], 8);
  EXPECT_EQ(object["measures"][0]["values"][1]["value"], object["cases"][1]["course"]["airless_share"]);
  EXPECT_EQ(object["order"].size(), 2u);
  const fs::path folder = folder_ / "bin-and-closed.comparison";
  for (const char* file : {"compare.png", "compare.svg", "comparison.json", "table.txt", "bin/result.h5",
                           "closed/result.h5", "closed/view/bed.pvd"}) {
    EXPECT_TRUE(fs::exists(folder / file)) << file;
  }
  EXPECT_TRUE(has(content(folder / "table.txt"), "bed's hours without enough air"));
}

TEST_F(Commands, compare_keeps_cases_of_one_name_apart) {
  fs::create_directories(folder_ / "other");
  write("other/bin.toml", small_bin("1"));
  const Said said = say({"compare", "bin.toml", "other/bin.toml", "--json", "--quiet", "--days", "0.2",
                         "--tries", "4", "--no-chips", "--out", "both"});
  ASSERT_EQ(said.code, 0) << said.errors;
  EXPECT_TRUE(fs::exists(folder_ / "both/bin/result.h5"));
  EXPECT_TRUE(fs::exists(folder_ / "both/bin-2/result.h5"));
  // The same case twice differs in nothing.
  EXPECT_EQ(json::parse(said.out)["measures"][0]["pairs"][0]["middle"], 0.0);
  EXPECT_EQ(json::parse(said.out)["measures"][0]["pairs"][0]["clear"], false);
  EXPECT_TRUE(json::parse(said.out)["take"].is_null());
}

TEST_F(Commands, blend_sweeps_and_tells_why_its_range_ends) {
  const Said said = say({"blend", "bin.toml", "--json", "--quiet", "--from", "0", "--to", "80", "--step",
                         "40", "--tries", "4"});
  ASSERT_EQ(said.code, 0) << said.errors;
  const json object = json::parse(said.out);
  ASSERT_GE(object["points"].size(), 3u);
  EXPECT_EQ(object["points"][0]["woodchip_share"], 0.0);
  for (const json& point : object["points"]) {
    EXPECT_EQ(point["works"].get<bool>(), point["misses"].empty());
  }
  EXPECT_FALSE(object["verdict"].empty());
  for (const char* file : {"blend.json", "blend.csv", "table.txt", "verdict.txt"}) {
    EXPECT_TRUE(fs::exists(folder_ / "bin.blend" / file)) << file;
  }
  std::set<std::string> pictures;
  for (const auto& entry : fs::directory_iterator(folder_ / "bin.blend"))
    pictures.insert(entry.path().extension());
  EXPECT_TRUE(pictures.count(".png") == 1 && pictures.count(".svg") == 1);
}

TEST_F(Commands, blend_leaves_out_shares_that_the_bin_cannot_take) {
  std::string amounts = small_bin("1");
  amounts.replace(amounts.find("depth    = \"0.5 m\"\n"), 19, "bucket = \"10 L\"\n");
  amounts.replace(amounts.find("buckets = 1 "), 12, "buckets = 6 ");
  write("amounts.toml", amounts);
  const Said said = say({"blend", "amounts.toml", "--json", "--quiet", "--from", "20", "--to", "80", "--step",
                         "30", "--tries", "4"});
  ASSERT_EQ(said.code, 0) << said.errors;
  const json object = json::parse(said.out);
  ASSERT_EQ(object["left_out"].size(), 1u) << said.out;
  EXPECT_TRUE(has(object["left_out"][0], "80 % chips were left out"));
}

TEST_F(Commands, stopped_runs_leave_valid_results) {
  const pid_t child = start({"run", "bin.toml", "--detail", "careful", "--days", "60"});
  ASSERT_TRUE(comes("bin.results/unfinished/result.h5"));
  kill(child, SIGINT);
  const Said said = ended(child);
  EXPECT_EQ(said.code, 1) << said.errors;
  EXPECT_TRUE(has(said.errors, "Stopped")) << said.errors;
  const Result result = read_result(folder_ / "bin.results/result.h5");
  EXPECT_TRUE(result.run.stopped);
  EXPECT_LT(result.run.series.back().time, 60.0 * 86400.0);
  EXPECT_EQ(state_times(folder_ / "bin.results/result.h5").back(), result.run.series.back().time);
  EXPECT_TRUE(json::parse(content(folder_ / "bin.results/summary.json"))["stopped"].get<bool>());
  EXPECT_TRUE(has(content(folder_ / "bin.results/verdict.txt"), "Stopped before its end"));
}

// Processes of this program that have a word on their command line, and another; those of other tests run
// beside them.
int running_with(const std::string& word, const std::string& other = "") {
  int count = 0;
  for (const auto& entry : fs::directory_iterator("/proc")) {
    const std::string words = content(entry.path() / "cmdline");
    if (words.starts_with(UPDRAUGHT_PROGRAM) && has(words, word) && has(words, other)) ++count;
  }
  return count;
}

TEST_F(Commands, stopping_ends_the_children_too) {
  write("long.toml", small_bin("1"));
  const pid_t child = start({"blend", "long.toml", "--detail", "careful", "--days", "60"});
  for (int n = 0; n < 200 && running_with("--member", "long.toml") == 0; ++n) {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  ASSERT_GT(running_with("--member", "long.toml"), 0);
  kill(child, SIGTERM);
  const Said said = ended(child);
  EXPECT_EQ(said.code, 1) << said.errors;
  EXPECT_TRUE(has(said.errors, "stopped")) << said.errors;
  EXPECT_EQ(running_with("long.toml"), 0);
  EXPECT_FALSE(fs::exists(folder_ / "long.blend"));
}

TEST_F(Commands, children_end_when_their_parent_is_killed) {
  write("orphan.toml", small_bin("1"));
  const pid_t child = start({"blend", "orphan.toml", "--detail", "careful", "--days", "60"});
  for (int n = 0; n < 200 && running_with("--member", "orphan.toml") == 0; ++n) {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  ASSERT_GT(running_with("--member", "orphan.toml"), 0);
  // A child asks to end with its parent in its first lines; give it the time to do so.
  std::this_thread::sleep_for(std::chrono::milliseconds(500));
  kill(child, SIGKILL);
  ended(child);
  for (int n = 0; n < 100 && running_with("orphan.toml") > 0; ++n) {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  EXPECT_EQ(running_with("orphan.toml"), 0);
}

TEST_F(Commands, a_folder_that_cannot_be_made_gives_a_plain_message) {
  const Said said = say({"run", "bin.toml", "--quiet", "--out", "bin.toml/inside"});
  EXPECT_EQ(said.code, 1);
  EXPECT_TRUE(has(said.errors, "updraught: ")) << said.errors;
  EXPECT_FALSE(has(said.errors, "filesystem error")) << said.errors;
  EXPECT_EQ(content(folder_ / "bin.toml"), small_bin("1"));
}

}  // namespace
}  // namespace updraught
