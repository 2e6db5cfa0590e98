// Members that run while this process computes something else: both share the cores, and who is left alone
// takes all of them.
#pragma once

#include <atomic>
#include <filesystem>
#include <future>
#include <string>
#include <vector>

#include "cases/run/members.h"
#include "cases/terminal/progress.h"

namespace updraught {

class MembersBeside {
 public:
  /// Starts them, children of `program`, on those of `cores` that threads_here() leaves; with one core they
  /// wait for finish().
  MembersBeside(std::vector<Member> members, const std::filesystem::path& program, int cores);
  /// Ends those that still run.
  ~MembersBeside();
  MembersBeside(const MembersBeside&) = delete;
  MembersBeside& operator=(const MembersBeside&) = delete;

  /// Threads for what is computed here at present: half of the cores while members run, else all.
  int threads_here() const;

  /// Gives them all cores, waits for them and tells how far they are. Throws Stopped when asked to stop.
  MembersDone finish(Progress& progress, const std::string& what);

 private:
  MembersDone run(const MembersPlan& plan);

  std::vector<Member> members_;
  int cores_;
  std::atomic<bool> alone_ = false;  ///< nothing is computed here any more
  std::atomic<bool> end_ = false;
  std::atomic<bool> over_ = false;
  std::atomic<int> done_ = 0;
  std::atomic<int> all_ = 1;
  std::future<MembersDone> running_;
};

}  // namespace updraught
