// What the command line hands to each command. A command prints, writes its files and returns the exit code.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cases/reader/read_case.h"
#include "cases/run/plausible_beds.h"
#include "cases/terminal/options.h"

namespace updraught {

struct MixOptions {
  CommonOptions common;
  std::string recipe;
  std::string bucket = "10 L";
  std::string depth = "0.8 m";
  std::string loose;         ///< readings of a bucket test, such as "9kg/20L"; empty: not taken
  std::string tapped;        ///< "9kg/15L"
  std::string water_poured;  ///< "8L/20L"
};
struct StartOptions {
  CommonOptions common;
  std::filesystem::path file;
  std::string like;  ///< name of a ready case; empty: the starter
};
struct CheckOptions {
  CommonOptions common;
  std::filesystem::path case_file;
  Overrides overrides;
  bool steps = false;  ///< also compute it twice, to see whether halved steps in time move the answer
};
struct RunOptions {
  CommonOptions common;
  std::filesystem::path case_file;
  Overrides overrides;   ///< from --set, --detail, --days, --mode, --woodchip, --wall-gap
  bool member = false;   ///< take the case from standard input, print its summary, write nothing (members.h)
  int bed = 0;           ///< one plausible bed of the sample alone, by its number; 0: the case as it is
  SampleOptions sample;  ///< the plausible beds behind low and high
  bool no_band = false;  ///< leave out low and high (no further runs)
  bool no_figures = false;
};
struct DrawOptions {
  CommonOptions common;
  std::filesystem::path results;  ///< a folder of results, or the store itself
};
struct CompareOptions {
  CommonOptions common;
  std::vector<std::filesystem::path> case_files;  ///< two or more
  Overrides overrides;
  SampleOptions sample;
  bool chips = false;     ///< look for how many chips each design needs, however long that takes
  bool no_chips = false;  ///< leave that out
};
struct BlendOptions {
  CommonOptions common;
  std::filesystem::path case_file;
  Overrides overrides;
  double from = 0.0;  ///< woodchip share by buckets (0..1)
  double to = 0.8;
  double step = 0.1;
  SampleOptions sample;
};
struct FeedstocksOptions {
  CommonOptions common;
  std::string name;  ///< empty: all
};

int mix_command(const MixOptions& options);
int start_command(const StartOptions& options);
int check_command(const CheckOptions& options);
int run_command(const RunOptions& options);
int draw_command(const DrawOptions& options);
int compare_command(const CompareOptions& options);
int blend_command(const BlendOptions& options);
int feedstocks_command(const FeedstocksOptions& options);

}  // namespace updraught
