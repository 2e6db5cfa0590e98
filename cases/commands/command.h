// What the command line hands to each command. A command prints, writes its files and returns the exit code.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cases/reader/read_case.h"

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

struct MixOptions {
  CommonOptions common;
  std::string recipe;
  std::string bucket = "10 L";
  std::string depth = "0.8 m";
};
struct StartOptions {
  CommonOptions common;
  std::filesystem::path file;
  std::string like;  ///< name of a ready case; empty: the starter
};
struct CheckOptions {
  CommonOptions common;
  std::filesystem::path case_file;
  bool steps = false;  ///< also compute it twice, to see whether halved steps in time move the answer
};
struct RunOptions {
  CommonOptions common;
  std::filesystem::path case_file;
  Overrides overrides;   ///< from --detail, --days, --woodchip, --wall-gap
  std::string member;    ///< a setting in numbers (see members.h): print its summary, write nothing
  std::string setting;   ///< "", "adverse", "middle", "favourable": one setting alone, without a band
  bool no_band = false;  ///< leave out low and high (no further runs)
  bool no_figures = false;
};
struct CompareOptions {
  CommonOptions common;
  std::vector<std::filesystem::path> case_files;  ///< two or more
  Overrides overrides;
};
struct BlendOptions {
  CommonOptions common;
  std::filesystem::path case_file;
  Overrides overrides;
  double from = 0.0;  ///< woodchip share by buckets (0..1)
  double to = 0.8;
  double step = 0.1;
};
struct FeedstocksOptions {
  CommonOptions common;
  std::string name;  ///< empty: all
};

int mix_command(const MixOptions& options);
int start_command(const StartOptions& options);
int check_command(const CheckOptions& options);
int run_command(const RunOptions& options);
int compare_command(const CompareOptions& options);
int blend_command(const BlendOptions& options);
int feedstocks_command(const FeedstocksOptions& options);

}  // namespace updraught
