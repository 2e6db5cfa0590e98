// What every command takes from the command line, and how it ends.
#pragma once

#include <filesystem>

namespace updraught {

/// Exit codes of all commands.
enum ExitCode : int {
  exit_done = 0,
  exit_cannot_compute = 1,  ///< the case has mistakes or cannot be computed, or was stopped before its end
  exit_wrong_use = 2,       ///< wrong command line, unreadable file, results in the way
};

/// Options that every computing command takes.
struct CommonOptions {
  bool json = false;          ///< one JSON object on standard output, nothing else there
  std::filesystem::path out;  ///< folder for results; empty: the command's default, in the working directory
  int threads = 0;            ///< 0: all cores
  bool quiet = false;         ///< no progress
  bool verbose = false;       ///< also what only engineers ask for
  bool force = false;         ///< results in the way are replaced
  std::filesystem::path program;  ///< how this program was called, for child processes
};

}  // namespace updraught
