// Folders of results: nothing of somebody else's is touched, and old results stay until new ones are whole.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

#include "cases/output/results_folder.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;

class Results : public testing::Test {
 protected:
  void SetUp() override {
    top_ = fs::temp_directory_path() / ("results_" + std::to_string(getpid()));
    fs::create_directories(top_);
    folder_ = top_ / "box.results";
  }
  void TearDown() override { fs::remove_all(top_); }

  static void write(const fs::path& file, const std::string& text) {
    fs::create_directories(file.parent_path());
    std::ofstream(file) << text;
  }
  static std::string read(const fs::path& file) {
    std::ostringstream text;
    text << std::ifstream(file).rdbuf();
    return text.str();
  }
  void finish(const std::vector<std::string>& files, const std::string& text) const {
    ResultsFolder place(folder_, true);
    for (const std::string& file : files) write(place.work() / file, text);
    place.put_in_place();
  }
  std::string refusal(bool force) const {
    try {
      const ResultsFolder place(folder_, force);
    } catch (const InTheWay& error) {
      return error.what();
    }
    return "";
  }

  fs::path top_, folder_;
};

TEST_F(Results, come_into_place_with_a_list_of_them) {
  finish({"summary.json", "figures/sheet.png"}, "new");
  EXPECT_EQ(read(folder_ / "figures/sheet.png"), "new");
  EXPECT_FALSE(fs::exists(folder_ / "unfinished"));
  EXPECT_EQ(listed_files(folder_), (std::vector<fs::path>{"figures/sheet.png", "summary.json"}));
}

TEST_F(Results, leave_no_folder_when_nothing_was_written) {
  { const ResultsFolder place(top_ / "a" / "b", false); }
  EXPECT_TRUE(fs::is_empty(top_));
}

TEST_F(Results, stay_until_the_new_ones_are_in_place) {
  finish({"summary.json", "figures/sheet.png"}, "old");
  {
    const ResultsFolder place(folder_, true);
    write(place.work() / "summary.json", "new");
  }
  EXPECT_EQ(read(folder_ / "summary.json"), "old");
  EXPECT_EQ(read(folder_ / "figures/sheet.png"), "old");
  EXPECT_EQ(read(folder_ / "unfinished/summary.json"), "new");
}

TEST_F(Results, replace_what_was_written_before_and_nothing_else) {
  finish({"summary.json", "figures/day-7.png", "view/bed.pvd"}, "old");
  write(folder_ / "notes.txt", "mine");
  write(folder_ / "figures/photo.png", "mine");
  finish({"summary.json", "figures/day-3.png"}, "new");
  EXPECT_EQ(read(folder_ / "summary.json"), "new");
  EXPECT_EQ(read(folder_ / "notes.txt"), "mine");
  EXPECT_EQ(read(folder_ / "figures/photo.png"), "mine");
  EXPECT_EQ(read(folder_ / "figures/day-3.png"), "new");
  EXPECT_FALSE(fs::exists(folder_ / "figures/day-7.png"));
  EXPECT_FALSE(fs::exists(folder_ / "view"));
  EXPECT_FALSE(fs::exists(folder_ / "replaced"));
}

TEST_F(Results, are_refused_where_others_keep_files_even_with_force) {
  write(folder_ / "summary.json", "{}");
  EXPECT_NE(refusal(true).find("holds other files"), std::string::npos);
  EXPECT_EQ(read(folder_ / "summary.json"), "{}");
  EXPECT_FALSE(fs::exists(folder_ / "unfinished"));
}

TEST_F(Results, are_not_replaced_without_force) {
  finish({"summary.json"}, "old");
  EXPECT_NE(refusal(false).find("replace them with --force"), std::string::npos);
}

TEST_F(Results, do_not_replace_a_file_of_somebody_else_with_the_same_name) {
  finish({"summary.json"}, "old");
  write(folder_ / "verdict.txt", "mine");
  EXPECT_THROW(finish({"summary.json", "verdict.txt"}, "new"), InTheWay);
  EXPECT_EQ(read(folder_ / "verdict.txt"), "mine");
  EXPECT_EQ(read(folder_ / "summary.json"), "old");
  EXPECT_EQ(read(folder_ / "unfinished/summary.json"), "new");
}

TEST_F(Results, of_an_interrupted_run_are_told_and_replaced_only_by_whole_ones) {
  {
    const ResultsFolder place(folder_, false);
    write(place.work() / "result.h5", "interrupted");
  }
  EXPECT_NE(refusal(false).find("unfinished holds what an interrupted run left"), std::string::npos);
  {
    const ResultsFolder place(folder_, true);
    write(place.work() / "result.h5", "interrupted again");
  }
  EXPECT_EQ(read(folder_ / "replaced/unfinished-1/result.h5"), "interrupted");
  finish({"result.h5"}, "whole");
  EXPECT_EQ(read(folder_ / "result.h5"), "whole");
  EXPECT_FALSE(fs::exists(folder_ / "replaced"));
}

TEST_F(Results, of_two_runs_at_once_the_second_is_refused) {
  const ResultsFolder place(folder_, false);
  write(place.work() / "result.h5", "first");
  EXPECT_NE(refusal(true).find("another run is writing into"), std::string::npos);
  EXPECT_EQ(read(place.work() / "result.h5"), "first");
}

TEST_F(Results, of_a_killed_process_hold_nobody_off) {
  const pid_t child = fork();
  if (child == 0) {
    ResultsFolder place(folder_, false);
    write(place.work() / "result.h5", "killed");
    kill(getpid(), SIGKILL);
  }
  int status = 0;
  waitpid(child, &status, 0);
  ASSERT_TRUE(WIFSIGNALED(status));
  EXPECT_EQ(refusal(true), "");
}

TEST_F(Results, lists_cannot_name_files_outside_the_folder) {
  finish({"summary.json"}, "old");
  write(top_ / "precious.txt", "mine");
  write(top_ / "other/precious.txt", "mine");
  fs::create_directory_symlink(top_ / "other", folder_ / "figures");
  std::ofstream(folder_ / written_list, std::ios::app)
      << "../precious.txt\n"
      << (top_ / "precious.txt").string() << "\nfigures/precious.txt\n..\n.\n\n";
  EXPECT_EQ(listed_files(folder_), (std::vector<fs::path>{"summary.json"}));
  finish({"summary.json"}, "new");
  EXPECT_EQ(read(top_ / "precious.txt"), "mine");
  EXPECT_EQ(read(top_ / "other/precious.txt"), "mine");
}

TEST_F(Results, go_back_when_the_new_ones_cannot_come_in) {
  finish({"summary.json", "view/bed.pvd"}, "old");
  ResultsFolder place(folder_, true);
  write(place.work() / "summary.json", "new");
  // A folder that appears in the way while a run computes.
  write(folder_ / "updraught-files.txt.unfinished/x", "in the way");
  EXPECT_THROW(place.put_in_place(), StoreError);
  EXPECT_EQ(read(folder_ / "summary.json"), "old");
  EXPECT_EQ(read(folder_ / "view/bed.pvd"), "old");
  EXPECT_EQ(read(place.shown() / "summary.json"), "new");
}

TEST_F(Results, that_are_not_whole_replace_none) {
  finish({"summary.json"}, "old");
  ResultsFolder place(folder_, true);
  write(place.work() / "summary.json", "cut");
  std::vector<std::string> troubles;
  settle(place, false, troubles);
  EXPECT_EQ(read(folder_ / "summary.json"), "old");
  ASSERT_EQ(troubles.size(), 1u);
  EXPECT_EQ(place.shown(), folder_ / "unfinished");
}

TEST_F(Results, that_are_not_whole_do_not_replace_what_an_interrupted_run_left) {
  {
    const ResultsFolder place(folder_, false);
    write(place.work() / "result.h5", "a long run");
  }
  ResultsFolder place(folder_, true);
  write(place.work() / "result.h5", "stopped at once");
  std::vector<std::string> troubles;
  settle(place, false, troubles);
  EXPECT_EQ(read(folder_ / "replaced/unfinished-1/result.h5"), "a long run");
  EXPECT_EQ(read(place.shown() / "result.h5"), "stopped at once");
  ASSERT_EQ(troubles.size(), 1u);
  EXPECT_NE(troubles[0].find("box.results/replaced"), std::string::npos) << troubles[0];
}

TEST_F(Results, that_are_not_whole_still_fill_an_empty_folder) {
  ResultsFolder place(folder_, false);
  write(place.work() / "summary.json", "stopped");
  std::vector<std::string> troubles;
  settle(place, false, troubles);
  EXPECT_TRUE(troubles.empty());
  EXPECT_EQ(read(folder_ / "summary.json"), "stopped");
}

}  // namespace
}  // namespace updraught
