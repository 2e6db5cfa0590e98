#include "cases/run/members_beside.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <utility>

#include "cases/terminal/stop.h"

namespace updraught {

namespace {

constexpr std::chrono::milliseconds between_looks{100};

}  // namespace

MembersBeside::MembersBeside(std::vector<Member> members, const std::filesystem::path& program, int cores)
    : members_(std::move(members)), cores_(cores) {
  MembersPlan plan;
  plan.program = program;
  plan.at_once = [this] { return alone_ ? cores_ : cores_ - threads_here(); };
  plan.stop = [this] { return end_ || stop_requested(); };
  plan.on_done = [this](int done, int all) {
    done_ = done;
    all_ = all;
  };
  running_ = std::async(std::launch::async, [this, plan] { return run(plan); });
}

MembersBeside::~MembersBeside() {
  end_ = true;
  if (running_.valid()) running_.wait();
}

MembersDone MembersBeside::run(const MembersPlan& plan) {
  MembersDone done = run_members(members_, plan);
  over_ = true;
  return done;
}

int MembersBeside::threads_here() const {
  return over_ ? cores_ : std::max(1, cores_ / 2);
}

MembersDone MembersBeside::finish(Progress& progress, const std::string& what) {
  alone_ = true;
  progress.start(what);
  while (running_.wait_for(between_looks) != std::future_status::ready)
    progress.update(double(done_) / all_,
                    fmt::format("{} of {} quick computations", done_.load(), all_.load()));
  MembersDone done = running_.get();
  progress.finish(fmt::format("{} quick computations", done.different - done.failed));
  return done;
}

}  // namespace updraught
