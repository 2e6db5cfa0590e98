// Members: computations of one case with other inputs, each in a child process of this program with one
// thread. A member takes the text of its case from standard input, prints its summary and writes no file; the
// same words can be run by hand or as parts of a batch job.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "cases/reader/read_case.h"
#include "post/result/intervals.h"

namespace updraught {

/// One computation.
struct Member {
  std::string file;     ///< what its case is called; never opened, since it may have changed meanwhile
  std::string text;     ///< of its case
  Overrides overrides;  ///< laid over it
  std::string name;     ///< for messages, a few words
};

/// How members are computed.
struct MembersPlan {
  std::filesystem::path program;                   ///< file of this program
  std::function<int()> at_once;                    ///< children at a time from now on; may be empty: one
  std::function<void(int done, int all)> on_done;  ///< after each; may be empty
  std::function<bool()> stop;                      ///< true: end all children; may be empty
};

/// Summaries of all members in their order, and the time their computations took.
struct MembersDone {
  std::vector<Summary> summaries;     ///< empty ones of members that could not be done
  std::vector<std::string> failures;  ///< why a member could not be done, a sentence; empty: it was done
  double seconds = 0.0;               ///< summed over the children that were run
  int different = 0;                  ///< members that differ from each other
  int failed = 0;                     ///< of these

  /// Whether `count` members from a place on were all done.
  bool have(std::size_t place, std::size_t count = 1) const;
};

/// "2 of 12 quick computations could not be done: ...", with the first reason; empty when all were done.
std::string failures_in_words(const MembersDone& done);

/// The command line of a member, without the program's name.
std::vector<std::string> member_words(const Member& member);

/// Runs members; equal ones only once. One that fails, is killed or cannot be started is noted, and the
/// others go on. Throws Stopped when asked to stop; no child is left behind then.
MembersDone run_members(const std::vector<Member>& members, const MembersPlan& plan);

/// File of the running program, by the system's name for it where it has one, else from how it was called.
std::filesystem::path program_file(const std::filesystem::path& called);

}  // namespace updraught
