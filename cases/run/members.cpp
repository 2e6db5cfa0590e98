#include "cases/run/members.h"

#include <fmt/format.h>
#include <poll.h>

#include <algorithm>
#include <chrono>
#include <list>
#include <optional>

#include "cases/machine/child_process.h"
#include "cases/output/printing.h"
#include "cases/terminal/stop.h"
#include "post/tables/summary_json.h"

namespace updraught {

namespace {

constexpr int look_every = 100;  // ms between looks at a request to stop

// A member and those equal to it.
struct Job {
  std::vector<std::string> words;
  const Member* member;  // the first of them
  std::vector<std::size_t> places;
};

struct Running {
  ChildProcess child;
  const Job* job;
};

std::vector<Job> jobs_of(const std::vector<Member>& members) {
  std::vector<Job> jobs;
  for (std::size_t i = 0; i < members.size(); ++i) {
    const auto words = member_words(members[i]);
    const auto same = std::find_if(jobs.begin(), jobs.end(), [&](const Job& job) {
      return job.words == words && job.member->text == members[i].text;
    });
    if (same != jobs.end()) {
      same->places.push_back(i);
    } else {
      jobs.push_back({words, &members[i], {i}});
    }
  }
  return jobs;
}

std::string last_line(const std::string& text) {
  const std::size_t end = text.find_last_not_of(" \n");
  if (end == std::string::npos) return "it said nothing";
  const std::size_t start = text.find_last_of('\n', end);
  std::string line = text.substr(start == std::string::npos ? 0 : start + 1,
                                 end - (start == std::string::npos ? 0 : start + 1) + 1);
  const std::string name = "updraught: ";
  return line.starts_with(name) ? line.substr(name.size()) : line;
}

// What a child told, or why it told nothing.
struct Told {
  Summary summary;
  std::string failure;
};

std::string failure_of(const ChildProcess::Ending& ending, const std::string& errors) {
  if (ending.signal != 0)
    return fmt::format("was ended by the system (signal {}); memory may be short.", ending.signal);
  return sentence("failed: " + last_line(errors));
}

Told told_by(ChildProcess& child, const Job& job) {
  const ChildProcess::Ending ending = child.wait();
  const std::string start = "the quick computation of " + job.member->name + " ";
  if (ending.signal != 0 || ending.code != 0) return {{}, start + failure_of(ending, child.errors())};
  try {
    Told told{summary_from_json(nlohmann::json::parse(child.output())), ""};
    // A bed that is known for part of its time cannot stand beside others for all of theirs.
    if (!told.summary.ended.empty()) return {{}, start + "came to its end early. " + told.summary.ended};
    return told;
  } catch (const nlohmann::json::exception&) {
    return {{}, start + "gave no result that can be read."};
  } catch (const std::runtime_error&) {
    return {{}, start + "gave no summary."};
  }
}

void note(const Told& told, const Job& job, MembersDone& out) {
  out.seconds += told.summary.wall_seconds;
  out.failed += told.failure.empty() ? 0 : 1;
  for (const std::size_t place : job.places) {
    out.summaries[place] = told.summary;
    out.failures[place] = told.failure;
  }
}

void wait_for_output(const std::list<Running>& running) {
  std::vector<pollfd> files;
  for (const Running& one : running) {
    for (const int file : {one.child.output_file(), one.child.error_file()}) {
      if (file >= 0) files.push_back({file, POLLIN, 0});
    }
  }
  poll(files.data(), nfds_t(files.size()), look_every);
}

}  // namespace

std::vector<std::string> member_words(const Member& member) {
  std::vector<std::string> words{"run", member.file, "--member"};
  for (const Override& one : member.overrides) {
    words.emplace_back("--set");
    words.push_back(one.key + "=" + one.value);
  }
  words.insert(words.end(), {"--threads", "1", "--json", "--quiet"});
  return words;
}

bool MembersDone::have(std::size_t place, std::size_t count) const {
  for (std::size_t i = place; i < place + count; ++i)
    if (!failures.at(i).empty()) return false;
  return true;
}

std::string failures_in_words(const MembersDone& done) {
  const auto first = std::find_if(done.failures.begin(), done.failures.end(),
                                  [](const std::string& failure) { return !failure.empty(); });
  if (first == done.failures.end()) return "";
  return fmt::format("{} of {} quick computations could not be done: {}", done.failed, done.different,
                     *first);
}

MembersDone run_members(const std::vector<Member>& members, const MembersPlan& plan) {
  const std::vector<Job> jobs = jobs_of(members);
  MembersDone out;
  out.summaries.resize(members.size());
  out.failures.resize(members.size());
  out.different = int(jobs.size());
  std::list<Running> running;  // leaving this function in any way ends the children in it
  int done = 0;
  const auto finished = [&](const Told& told, const Job& job) {
    note(told, job, out);
    if (plan.on_done) plan.on_done(++done, out.different);
  };
  auto next = jobs.begin();
  while (next != jobs.end() || !running.empty()) {
    if (plan.stop && plan.stop()) throw Stopped("stopped");
    const int at_once = plan.at_once ? plan.at_once() : 1;
    for (; next != jobs.end() && int(running.size()) < at_once; ++next) {
      try {
        running.push_back({ChildProcess(plan.program, next->words, next->member->text), &*next});
      } catch (const std::runtime_error& error) {
        finished(
            {{}, sentence("the quick computation of " + next->member->name + " failed: " + error.what())},
            *next);
      }
    }
    wait_for_output(running);
    for (auto one = running.begin(); one != running.end();) {
      if (!one->child.read_on()) {
        ++one;
        continue;
      }
      finished(told_by(one->child, *one->job), *one->job);
      one = running.erase(one);
    }
  }
  return out;
}

std::filesystem::path program_file(const std::filesystem::path& called) {
  // By its file's own name, which lists of processes show; where the file was replaced or removed meanwhile,
  // by the system's name of what runs here.
  const std::filesystem::path here = "/proc/self/exe";
  std::error_code trouble;
  std::filesystem::path file = std::filesystem::read_symlink(here, trouble);
  if (!trouble && std::filesystem::exists(file, trouble)) return file;
  return std::filesystem::exists(here, trouble) ? here : called;
}

}  // namespace updraught
