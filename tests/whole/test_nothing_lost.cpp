// Through the program itself: no refusal, failure, kill or second run loses anything of the user's.
#include <gtest/gtest.h>
#include <sys/resource.h>

#include <map>
#include <random>

#include "post/store/store_read.h"
#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

using Words = std::vector<std::string>;

void write_box(const Folder& folder, const std::string& name = "box.toml") {
  folder.write(name, ready_case("allotment-box") + "cells = [8, 10]\nmode = \"rings\"\n");
}

const Words short_run{"run", "box.toml", "--days", "0.2", "--no-band", "--quiet"};

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// All files below a folder with their bytes.
std::map<std::string, std::string> content(const fs::path& folder) {
  std::map<std::string, std::string> out;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file())
      out[entry.path().lexically_relative(folder).string()] = text_of(entry.path());
  return out;
}

/// No file of this process may grow beyond a size, as on a disk that is full.
void allow_files_of(rlim_t bytes) {
  const rlimit small{bytes, bytes};
  setrlimit(RLIMIT_FSIZE, &small);
}

TEST(NothingLost, AFailingForcedRunKeepsTheEarlierResults) {
  const Folder folder("lost_failing");
  write_box(folder);
  ASSERT_EQ(folder.run(short_run).code, 0);
  const auto before = content(folder.path() / "box.results");
  ASSERT_TRUE(before.contains("figures/sheet.png") && before.contains("verdict.txt"));
  const Said failed = folder.run_after([] { allow_files_of(2000); }, with(short_run, {"--force"}));
  EXPECT_EQ(failed.code, 1);
  EXPECT_NE(failed.err.find("grows beyond the size"), std::string::npos) << failed.err;
  auto after = content(folder.path() / "box.results");
  std::erase_if(after, [](const auto& file) { return file.first.starts_with("unfinished/"); });
  EXPECT_EQ(after, before);
}

TEST(NothingLost, AStoppedForcedRunKeepsTheEarlierResults) {
  const Folder folder("lost_stopped");
  write_box(folder);
  ASSERT_EQ(folder.run(short_run).code, 0);
  const auto before = content(folder.path() / "box.results");
  const fs::path work = folder.path() / "box.results" / "unfinished";
  const Said said = folder.run_until(
      {"run", "box.toml", "--days", "3000", "--no-band", "--quiet", "--force"},
      [&] { return fs::exists(work / "result.h5"); }, SIGINT);
  EXPECT_EQ(said.code, 1);
  EXPECT_NE(said.err.find("The earlier results stay"), std::string::npos) << said.err;
  EXPECT_TRUE(read_result(work / "result.h5").run.stopped);
  auto after = content(folder.path() / "box.results");
  std::erase_if(after, [](const auto& file) { return file.first.starts_with("unfinished/"); });
  EXPECT_EQ(after, before);
}

TEST(NothingLost, AForcedRunThatEndsEarlyKeepsTheEarlierResults) {
  const Folder folder("lost_ended");
  write_box(folder);
  ASSERT_EQ(folder.run(short_run).code, 0);
  const auto before = content(folder.path() / "box.results");
  // Heat that nothing carries off leaves the range of the laws.
  folder.write("box.toml", ready_case("allotment-box") +
                               "cells = [8, 10]\nmode = \"rings\"\nprescribed = { heat = \"30000 W/m3\" }\n");
  const Said said = folder.run({"run", "box.toml", "--days", "3", "--no-band", "--quiet", "--force"});
  EXPECT_EQ(said.code, 1);
  EXPECT_NE(said.err.find("The computation ended on day "), std::string::npos) << said.err;
  auto after = content(folder.path() / "box.results");
  std::erase_if(after, [](const auto& file) { return file.first.starts_with("unfinished/"); });
  EXPECT_EQ(after, before);
}

TEST(NothingLost, AForeignSummaryIsNotOfferedToForce) {
  const Folder folder("lost_foreign");
  write_box(folder);
  fs::create_directories(folder.path() / "mine" / "figures");
  folder.write("mine/summary.json", "{}");
  folder.write("mine/figures/photo.png", "photo");
  const auto before = content(folder.path() / "mine");
  for (const Words& more : {Words{}, Words{"--force"}}) {
    const Said said = folder.run(with(with(short_run, {"--out", "mine"}), more));
    EXPECT_EQ(said.code, 2);
    EXPECT_NE(said.err.find("holds other files"), std::string::npos) << said.err;
    EXPECT_EQ(content(folder.path() / "mine"), before);
  }
}

TEST(NothingLost, ASecondRunIntoTheSameFolderIsRefused) {
  const Folder folder("lost_second");
  const Folder beside("lost_second_beside");
  write_box(folder);
  const std::string out = (folder.path() / "here").string();
  Said second;
  const auto once_it_runs = [&] {
    if (!fs::exists(folder.path() / "here" / "unfinished" / "result.h5")) return false;
    write_box(beside);
    second = beside.run(with(short_run, {"--out", out, "--force"}));
    return true;
  };
  const Said first = folder.run_until(
      {"run", "box.toml", "--days", "3000", "--no-band", "--quiet", "--out", out}, once_it_runs, SIGINT);
  EXPECT_EQ(second.code, 2);
  EXPECT_NE(second.err.find("another run is writing into"), std::string::npos) << second.err;
  EXPECT_EQ(first.code, 1);
  EXPECT_TRUE(read_result(folder.path() / "here" / "result.h5").run.stopped);
}

TEST(NothingLost, ACaseNamedByDotsStaysInItsFolder) {
  const Folder folder("lost_dots");
  write_box(folder, "...toml");
  write_box(folder, "comparison.json.toml");
  folder.write("verdict.txt", "mine");
  const Said said = folder.run({"compare", "--tries", "4", "--no-chips", "...toml", "comparison.json.toml",
                                "--days", "0.2", "--quiet", "--out", "both"});
  EXPECT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(text_of(folder.path() / "verdict.txt"), "mine");
  EXPECT_EQ(folder.names(), (Words{"...toml", "both", "comparison.json.toml", "verdict.txt"}));
  EXPECT_TRUE(fs::exists(folder.path() / "both" / "case" / "result.h5"));
  EXPECT_TRUE(fs::exists(folder.path() / "both" / "comparison.json-2" / "result.h5"));
}

TEST(NothingLost, AnAbortedComparisonCanBeForced) {
  const Folder folder("lost_compare");
  write_box(folder, "a.toml");
  write_box(folder, "b.toml");
  const Words compare{"compare", "--tries", "4",       "--no-chips", "a.toml", "b.toml",
                      "--days",  "0.2",     "--quiet", "--out",      "both"};
  const fs::path second = folder.path() / "both" / "unfinished" / "b";
  const Said killed = folder.run_until(
      compare, [&] { return fs::exists(second); }, SIGKILL);
  ASSERT_EQ(killed.signal, SIGKILL);
  EXPECT_TRUE(read_result(folder.path() / "both" / "unfinished" / "a" / "result.h5").pictures.size() > 1);
  const Said refused = folder.run(compare);
  EXPECT_EQ(refused.code, 2);
  EXPECT_NE(refused.err.find("interrupted run left"), std::string::npos) << refused.err;
  EXPECT_EQ(folder.run(with(compare, {"--force"})).code, 0);
  EXPECT_TRUE(fs::exists(folder.path() / "both" / "comparison.json"));
}

/// Kills a forced run over earlier results (0.2 days) and looks at what is left.
void kill_and_look(const Words& days, const std::function<bool(const fs::path&)>& now) {
  const Folder folder("lost_killed");
  write_box(folder);
  ASSERT_EQ(folder.run(with(short_run, {"--no-figures"})).code, 0);
  const fs::path results = folder.path() / "box.results", work = results / "unfinished";
  folder.run_until(
      with({"run", "box.toml", "--no-band", "--no-figures", "--quiet", "--force"}, days),
      [&] { return now(work); }, SIGKILL);
  // For a moment, while the new ones move in, the earlier results stand aside.
  const bool aside = !fs::exists(results / "result.h5");
  const fs::path there = aside ? results / "replaced" / "results-1" : results;
  const double last = read_result(there / "result.h5").run.series.back().time / 86400.0;
  if (!aside) {
    const nlohmann::json summary = nlohmann::json::parse(text_of(results / "summary.json"));
    EXPECT_NEAR(summary["days"].back()["day"].get<double>(), last, 1e-6) << "old and new are mixed";
  }
  if (aside || fs::exists(work / "result.h5")) {
    EXPECT_GE(read_result(work / "result.h5").pictures.size(), 1u);
  }
}

TEST(NothingLost, KilledAtAnyMomentItLeavesWhatOpens) {
  std::mt19937 random(5);
  for (int round = 0; round < 5; ++round) {
    const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(300 + random() % 1000);
    kill_and_look({"--days", "1"}, [&](const fs::path&) { return std::chrono::steady_clock::now() > until; });
  }
}

TEST(NothingLost, KilledWhileItComputesItLeavesWhatOpens) {
  kill_and_look({"--days", "3000"}, [](const fs::path& work) { return fs::exists(work / "result.h5"); });
}

TEST(NothingLost, VerdictAndSummaryOutliveTheirPictures) {
  const Folder folder("lost_pictures");
  write_box(folder);
  // Larger than the store and the maps, smaller than the sheet.
  const Said said = folder.run_after([] { allow_files_of(300000); }, short_run);
  EXPECT_EQ(said.code, 1);
  EXPECT_NE(said.err.find("the picture sheet is missing: cannot write"), std::string::npos) << said.err;
  const fs::path results = folder.path() / "box.results";
  EXPECT_GT(text_of(results / "verdict.txt").size(), 100u);
  EXPECT_EQ(nlohmann::json::parse(text_of(results / "summary.json"))["case"], "box");
  EXPECT_FALSE(fs::exists(results / "figures" / "sheet.png")) << "a cut picture under its final name";
  EXPECT_TRUE(fs::exists(results / "figures" / "oxygen-day-0.20.svg"));
}

TEST(NothingLost, AFileNameInLatin1IsComputedAndDrawn) {
  const Folder folder("lost_latin");
  write_box(folder,
            "K\xfc"
            "che.toml");
  const Said said = folder.run({"run",
                                "K\xfc"
                                "che.toml",
                                "--days", "0.2", "--no-band", "--quiet", "--json", "--out", "here"});
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(said.json()["case"], "K\uFFFDche");
  EXPECT_TRUE(fs::exists(folder.path() / "here" / "figures" / "sheet.svg"));
  EXPECT_EQ(folder
                .run({"check",
                      "K\xfc"
                      "che.toml",
                      "--json"})
                .json()["case"],
            "K\uFFFDche");
}

TEST(NothingLost, AMessageThatCutsALetterIsStillPrinted) {
  const Folder folder("lost_letter");
  folder.write("box.toml", replaced(ready_case("starter"), "= \"0.6 m\"",
                                    "= \"" + std::string(39, 'x') + std::string(20, 'x') + "\u00fc\""));
  const Said said = folder.run({"check", "box.toml", "--json"});
  EXPECT_EQ(said.code, 1);
  ASSERT_EQ(said.json()["mistakes"].size(), 1u);
  EXPECT_EQ(said.out.find("\uFFFD"), std::string::npos) << said.out;
}

TEST(NothingLost, AFullStandardOutputIsAnError) {
  const Folder folder("lost_full");
  write_box(folder);
  const auto full = [] { dup2(open("/dev/full", O_WRONLY), STDOUT_FILENO); };
  for (const Words& command : {Words{"check", "box.toml"}, Words{"check", "box.toml", "--json"},
                               Words{"feedstocks"}, with(short_run, {"--no-figures"})}) {
    const Said said = folder.run_after(full, command);
    EXPECT_EQ(said.code, 1) << command[0];
    EXPECT_NE(said.err.find("standard output did not take the whole answer: the disk is full"),
              std::string::npos)
        << said.err;
  }
  EXPECT_TRUE(fs::exists(folder.path() / "box.results" / "verdict.txt"));
}

TEST(NothingLost, AClosedStandardOutputIsAnError) {
  const Folder folder("lost_closed");
  write_box(folder);
  const auto closed_pipe = [] {
    int ends[2];
    if (pipe(ends) != 0) return;
    dup2(ends[1], STDOUT_FILENO);
    close(ends[0]);
    close(ends[1]);
  };
  const Words run = with(short_run, {"--no-figures", "--force"});
  for (const std::function<void()>& before :
       {std::function<void()>(closed_pipe), std::function<void()>([] { close(STDOUT_FILENO); })}) {
    const Said said = folder.run_after(before, run);
    EXPECT_EQ(said.signal, 0);
    EXPECT_EQ(said.code, 1);
    EXPECT_NE(said.err.find("it is closed"), std::string::npos) << said.err;
    EXPECT_NO_THROW(read_result(folder.path() / "box.results" / "result.h5"));
  }
}

TEST(NothingLost, AFullOrClosedErrorOutputEndsNoRun) {
  const Folder folder("lost_errors");
  write_box(folder);
  const auto full = [] { dup2(open("/dev/full", O_WRONLY), STDERR_FILENO); };
  const auto closed = [] { close(STDERR_FILENO); };
  const auto closed_pipe = [] {
    int ends[2];
    if (pipe(ends) != 0) return;
    dup2(ends[1], STDERR_FILENO);
    close(ends[0]);
    close(ends[1]);
  };
  for (const std::function<void()>& before :
       {std::function<void()>(full), std::function<void()>(closed), std::function<void()>(closed_pipe)}) {
    const Said said = folder.run_after(
        before, {"run", "box.toml", "--days", "0.2", "--no-band", "--no-figures", "--json", "--force"});
    EXPECT_EQ(said.code, 0);
    EXPECT_EQ(said.json()["case"], "box");
  }
}

/// Ends one member of the command that runs in this folder; true once it has.
bool kill_one_member(const fs::path& folder) {
  for (const auto& process : fs::directory_iterator("/proc")) {
    std::error_code gone;
    if (fs::read_symlink(process.path() / "cwd", gone) != folder || gone) continue;
    if (text_of(process.path() / "cmdline").find("--member") == std::string::npos) continue;
    return kill(std::stoi(process.path().filename().string()), SIGKILL) == 0;
  }
  return false;
}

TEST(NothingLost, ABlendGoesOnWithoutAKilledMember) {
  const Folder folder("lost_blend");
  write_box(folder);
  const fs::path here = fs::canonical(folder.path());
  // Signal 0 only asks whether the program is there; the member is ended by the looking itself.
  const Said said = folder.run_until(
      {"blend", "box.toml", "--from", "20", "--to", "60", "--step", "20", "--tries", "4", "--json",
       "--quiet"},
      [&] { return kill_one_member(here); }, 0);
  EXPECT_EQ(said.code, 1);
  EXPECT_NE(said.err.find("1 of 3 quick computations could not be done"), std::string::npos) << said.err;
  const nlohmann::json object = said.json();
  EXPECT_EQ(object["left_out"].size(), 1u);
  EXPECT_GE(object["points"].size(), 2u);
  EXPECT_TRUE(fs::exists(folder.path() / "box.blend" / "verdict.txt"));
}

TEST(NothingLost, ARunKeepsItsVerdictWithoutAKilledMember) {
  const Folder folder("lost_member");
  write_box(folder);
  const fs::path here = fs::canonical(folder.path());
  const Said said = folder.run_until(
      {"run", "box.toml", "--days", "1", "--tries", "6", "--no-figures", "--json", "--quiet"},
      [&] { return kill_one_member(here); }, 0);
  EXPECT_EQ(said.code, 1);
  EXPECT_NE(said.err.find("quick computations could not be done"), std::string::npos) << said.err;
  EXPECT_FALSE(said.json()["verdict"].empty());
  EXPECT_TRUE(fs::exists(folder.path() / "box.results" / "verdict.txt"));
}

TEST(NothingLost, NoNameLeavesItsFieldItsFileOrItsFolder) {
  const Folder folder("lost_names");
  std::string text =
      replaced(ready_case("starter"), "\"Will the middle get air?\"", R"("<b>& [31m ]]> \uFFFD why?")");
  text = replaced(text, "{ where = \"base\",", R"({ name = "=cmd|' /C calc'!A0", where = "base",)");
  text = replaced(text, "{ where = \"lid\",", R"({ name = "../../../x <&\"", where = "lid",)");
  folder.write("box.toml", text + "cells = [8, 10]\nmode = \"rings\"\n");
  const Said said = folder.run({"run", "box.toml", "--days", "0.2", "--no-band", "--quiet"});
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(said.out.find_first_of("\x1b\x01\x07"), std::string::npos) << "a screen would obey it";
  EXPECT_EQ(folder.names(), (Words{"box.results", "box.toml"}));
  const fs::path results = folder.path() / "box.results";
  const std::string table = text_of(results / "series.csv");
  EXPECT_EQ(table.find(",="), std::string::npos);
  EXPECT_NE(table.find(",'=cmd"), std::string::npos) << table.substr(0, 2000);
  const std::string sheet = text_of(results / "figures" / "sheet.svg");
  EXPECT_NE(sheet.find("&lt;b&gt;&amp; [31m"), std::string::npos) << sheet.substr(0, 600);
  EXPECT_EQ(sheet.find_first_of("\x1b\x01\x07"), std::string::npos);
  EXPECT_EQ(read_result(results / "result.h5").problem.openings.at(0).name, "=cmd|' /C calc'!A0");
}

}  // namespace
}  // namespace updraught::whole
