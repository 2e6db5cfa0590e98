#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <thread>

#include "cases/run/members.h"
#include "cases/run/members_beside.h"
#include "cases/terminal/progress.h"
#include "cases/terminal/stop.h"
#include "post/tables/summary_json.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

int one() {
  return 1;
}
int two() {
  return 2;
}

// A folder that goes with the test, and programs in it that stand in for members.
class Members : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("members_" + std::to_string(getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }

  fs::path program(const std::string& script) const {
    const fs::path path = folder_ / "program";
    std::ofstream(path) << "#!/bin/sh\n" << script << "\n";
    fs::permissions(path, fs::perms::owner_all);
    return path;
  }

  // A script that prints a summary whose case is what the first --set says.
  std::string prints_summary() const {
    Summary summary;
    summary.name = "NAME";
    summary.wall_seconds = 2.0;
    std::ofstream(folder_ / "summary.json") << to_json(summary).dump() << "\n";
    return "while [ \"$1\" != --set ]; do shift; done\nsed s/NAME/${2#*=}/ " +
           (folder_ / "summary.json").string();
  }

  static std::vector<Member> with_shares(const std::vector<double>& shares) {
    std::vector<Member> members;
    for (const double share : shares) {
      members.push_back({"box.toml", "days = 1", {{"woodchip_share", case_text(share), ""}}, "box"});
    }
    return members;
  }

  fs::path folder_;
};

TEST_F(Members, come_back_in_their_order_whoever_is_first) {
  const auto path = program("case \"$*\" in *0.25*) sleep 0.3;; esac\n" + prints_summary());
  const auto done = run_members(with_shares({0.25, 0.5, 0.75}), {path, two, {}, {}});
  ASSERT_EQ(done.summaries.size(), 3u);
  EXPECT_EQ(done.summaries[0].name, "0.25");
  EXPECT_EQ(done.summaries[1].name, "0.5");
  EXPECT_EQ(done.summaries[2].name, "0.75");
  EXPECT_DOUBLE_EQ(done.seconds, 6.0);
}

TEST_F(Members, that_are_equal_are_computed_once) {
  const auto path = program("echo x >> " + (folder_ / "count").string() + "\n" + prints_summary());
  int told = 0;
  const auto done =
      run_members(with_shares({0.5, 0.25, 0.5}), {path, two, [&told](int, int) { ++told; }, {}});
  EXPECT_EQ(done.summaries[2].name, "0.5");
  EXPECT_EQ(told, 2);
  EXPECT_EQ(fs::file_size(folder_ / "count"), 4u);
}

TEST_F(Members, never_run_more_at_once_than_planned) {
  // Each notes how many are there while it runs.
  const std::string here = (folder_ / "here").string();
  const auto path =
      program("mkdir -p " + here + "; touch " + here + "/$$; sleep 0.15; ls " + here + " | wc -l >> " +
              (folder_ / "seen").string() + "; rm " + here + "/$$\n" + prints_summary());
  run_members(with_shares({0.1, 0.2, 0.3, 0.4, 0.5}), {path, two, {}, {}});
  std::ifstream seen(folder_ / "seen");
  int most = 0;
  for (int count = 0; seen >> count;) most = std::max(most, count);
  EXPECT_EQ(most, 2);
}

TEST_F(Members, that_fail_give_one_plain_message) {
  const auto path =
      program("echo 'something before' >&2; echo 'updraught: the step became too small' >&2; exit 1");
  const MembersDone done = run_members(with_shares({0.5}), {path, one, {}, {}});
  EXPECT_FALSE(done.have(0));
  EXPECT_EQ(done.failures[0], "the quick computation of box failed: the step became too small.");
  EXPECT_EQ(
      failures_in_words(done),
      "1 of 1 quick computations could not be done: the quick computation of box failed: the step became "
      "too small.");
}

TEST_F(Members, that_print_nonsense_or_vanish_are_told_apart) {
  const auto message = [this](const std::string& script) -> std::string {
    return run_members(with_shares({0.5}), {program(script), one, {}, {}}).failures[0];
  };
  EXPECT_TRUE(has(message("echo not json"), "no result that can be read"));
  EXPECT_TRUE(has(message("echo '{}'"), "gave no summary"));
  EXPECT_TRUE(has(message("kill -KILL $$"), "ended by the system (signal 9)"));
  EXPECT_TRUE(has(message("exit 3"), "it said nothing"));
}

TEST_F(Members, say_when_the_program_is_not_there) {
  const MembersDone done = run_members(with_shares({0.25, 0.5}), {folder_ / "nothing", one, {}, {}});
  EXPECT_EQ(done.failed, 2);
  EXPECT_TRUE(has(done.failures[1], "cannot start")) << done.failures[1];
}

TEST_F(Members, leave_no_child_behind_when_stopped) {
  const auto path = program("echo $$ > " + (folder_ / "process").string() + "; exec sleep 60");
  const auto start = std::chrono::steady_clock::now();
  const auto stop = [&] { return fs::exists(folder_ / "process") && fs::file_size(folder_ / "process") > 1; };
  EXPECT_THROW(run_members(with_shares({0.5}), {path, one, {}, stop}), Stopped);
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(20));
  int process = 0;
  std::ifstream(folder_ / "process") >> process;
  ASSERT_GT(process, 1);
  EXPECT_EQ(kill(process, 0), -1);
  EXPECT_EQ(errno, ESRCH);
}

TEST_F(Members, go_on_without_one_that_fails) {
  const auto path = program("case \"$*\" in *0.25*) kill -KILL $$;; esac\n" + prints_summary());
  const MembersDone done = run_members(with_shares({0.5, 0.25, 0.75, 0.25}), {path, two, {}, {}});
  EXPECT_EQ(done.summaries[0].name, "0.5");
  EXPECT_EQ(done.summaries[2].name, "0.75");
  EXPECT_TRUE(done.have(0) && done.have(2) && !done.have(1) && !done.have(3) && !done.have(0, 2));
  EXPECT_EQ(done.different, 3);
  EXPECT_EQ(done.failed, 1);
  EXPECT_TRUE(has(failures_in_words(done), "1 of 3 quick computations could not be done"))
      << failures_in_words(done);
}

TEST_F(Members, ended_by_somebody_else_are_missing_not_a_request_to_stop) {
  const auto path = program("kill -TERM $$");
  EXPECT_EQ(run_members(with_shares({0.5}), {path, one, {}, [] { return false; }}).failed, 1);
}

TEST_F(Members, that_print_much_do_not_stall) {
  Summary summary;
  summary.name = std::string(300000, 'x');
  std::ofstream(folder_ / "long.json") << to_json(summary).dump();
  const auto path = program("cat " + (folder_ / "long.json").string());
  EXPECT_EQ(run_members(with_shares({0.5}), {path, one, {}, {}}).summaries[0].name.size(), 300000u);
}

TEST_F(Members, read_the_text_that_the_command_read) {
  const auto path = program("cat > " + (folder_ / "text").string() + "\n" + prints_summary());
  auto members = with_shares({0.5});
  members[0].text = std::string(300000, '#') + "\ndays = 2\n";
  EXPECT_EQ(run_members(members, {path, one, {}, {}}).failed, 0);
  std::ostringstream came;
  came << std::ifstream(folder_ / "text").rdbuf();
  EXPECT_EQ(came.str(), members[0].text);
}

TEST_F(Members, of_two_texts_are_two) {
  auto members = with_shares({0.5, 0.5});
  members[1].text = "days = 2";
  EXPECT_EQ(run_members(members, {program(prints_summary()), one, {}, {}}).different, 2);
}

TEST_F(Members, beside_another_computation_share_its_cores) {
  const auto path = program("sleep 0.1\n" + prints_summary());
  std::FILE* const nowhere = std::tmpfile();
  Progress progress(nowhere, false, Verbosity::quiet);
  MembersBeside beside(with_shares({0.25, 0.5, 0.75}), path, 4);
  EXPECT_EQ(beside.threads_here(), 2);
  const MembersDone done = beside.finish(progress, "how sure");
  std::fclose(nowhere);
  EXPECT_EQ(beside.threads_here(), 4) << "all cores once they are done";
  ASSERT_EQ(done.failed, 0);
  EXPECT_EQ(done.summaries[1].name, "0.5");
}

TEST_F(Members, wait_for_a_single_core) {
  const auto path = program("touch " + (folder_ / "began").string() + "\n" + prints_summary());
  std::FILE* const nowhere = std::tmpfile();
  Progress progress(nowhere, false, Verbosity::quiet);
  MembersBeside beside(with_shares({0.5}), path, 1);
  EXPECT_EQ(beside.threads_here(), 1);
  std::this_thread::sleep_for(std::chrono::milliseconds(300));
  EXPECT_FALSE(fs::exists(folder_ / "began"));
  EXPECT_EQ(beside.finish(progress, "how sure").failed, 0);
  std::fclose(nowhere);
}

TEST_F(Members, beside_a_computation_that_fails_are_ended) {
  const auto path = program("echo $$ > " + (folder_ / "process").string() + "; exec sleep 60");
  const auto start = std::chrono::steady_clock::now();
  {
    const MembersBeside beside(with_shares({0.5}), path, 2);
    while (!fs::exists(folder_ / "process")) std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(20));
}

TEST(MemberWords, carry_every_input_bit_for_bit) {
  Member member{"a b.toml", "", {}, "a"};
  put(member.overrides, "detail", case_text("quick"));
  put(member.overrides, "laws.ergun_factor", case_text(1.0 / 3.0));
  put(member.overrides, "wall_gap", case_text(0.002, "m"));
  EXPECT_EQ(member_words(member),
            (std::vector<std::string>{"run", "a b.toml", "--member", "--set", "detail=\"quick\"", "--set",
                                      "laws.ergun_factor=0.3333333333333333", "--set", "wall_gap=\"0.002 m\"",
                                      "--threads", "1", "--json", "--quiet"}));
  EXPECT_EQ(std::stod("0.3333333333333333"), 1.0 / 3.0);
}

// What a progress prints, with a clock that the test turns.
class Told {
 public:
  explicit Told(bool terminal, Verbosity verbosity = Verbosity::usual)
      : file_(std::tmpfile()), progress(file_, terminal, verbosity, [this] { return now; }) {}
  ~Told() { std::fclose(file_); }
  Told(const Told&) = delete;
  Told& operator=(const Told&) = delete;
  std::string text() {
    std::rewind(file_);
    std::string out;
    for (int letter = std::fgetc(file_); letter != EOF; letter = std::fgetc(file_)) out += char(letter);
    return out;
  }

 private:
  std::FILE* file_;

 public:
  double now = 0.0;
  Progress progress;
};

TEST(Progress, prints_plain_lines_in_a_pipe) {
  Told told(false);
  told.progress.start("box");
  for (int i = 1; i <= 100; ++i) {
    told.now = i;
    told.progress.update(0.01 * i, "day " + std::to_string(i));
  }
  told.progress.finish("done");
  const std::string text = told.text();
  EXPECT_EQ(text.find('\r'), std::string::npos);
  EXPECT_EQ(text.find('\033'), std::string::npos);
  EXPECT_TRUE(has(text, "box: 50 %, day 50, about 50 s left\n")) << text;
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 11);
}

TEST(Progress, draws_one_line_over_on_a_terminal) {
  Told told(true);
  told.progress.start("box");
  told.now = 10.0;
  told.progress.update(0.25, "day 3 of 12");
  const std::string text = told.text();
  EXPECT_EQ(text.find('\n'), std::string::npos);
  EXPECT_TRUE(has(text, "25 %  day 3 of 12, about 30 s left")) << text;
  told.progress.finish("done");
  EXPECT_TRUE(has(told.text(), "\r\033[Kbox: done (10 s)\n"));
}

TEST(Progress, says_nothing_when_quiet_and_details_only_when_verbose) {
  Told quiet(false, Verbosity::quiet);
  quiet.progress.start("box");
  quiet.progress.update(0.5, "day 1");
  quiet.progress.say("line");
  quiet.progress.finish("done");
  EXPECT_EQ(quiet.text(), "");
  Told usual(false);
  usual.progress.detail("steps");
  EXPECT_EQ(usual.text(), "");
  Told verbose(false, Verbosity::verbose);
  verbose.progress.detail("steps");
  EXPECT_EQ(verbose.text(), "steps\n");
}

}  // namespace
}  // namespace updraught
