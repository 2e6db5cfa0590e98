#include "cases/results_folder.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <system_error>

#include "post/store_layout.h"

namespace updraught {

namespace {

namespace fs = std::filesystem;

// What the commands write; a folder with one of the first four holds results.
constexpr std::array result_marks{"summary.json", "comparison.json", "blend.json", store_file_name};
constexpr std::array other_results{"verdict.txt",      "view",      "figures",  "series.csv", "days.csv",
                                   "thermometers.csv", "table.txt", "blend.csv"};

bool holds_results(const fs::path& folder) {
  return std::any_of(result_marks.begin(), result_marks.end(),
                     [&folder](const char* name) { return fs::exists(folder / name); });
}

[[noreturn]] void refused(const fs::path& place, const std::error_code& trouble) {
  throw std::runtime_error("cannot write into " + place.string() + ": " + trouble.message() + ".");
}

}  // namespace

fs::path results_folder(const fs::path& asked, const std::string& name) {
  return asked.empty() ? fs::path(name) : asked;
}

void require_free(const fs::path& folder, bool force) {
  std::error_code trouble;
  if (!fs::exists(folder, trouble)) return;
  if (!fs::is_directory(folder, trouble)) {
    throw InTheWay(folder.string() + " is a file; name a folder with --out.");
  }
  if (fs::is_empty(folder, trouble)) return;
  if (!holds_results(folder)) {
    throw InTheWay(folder.string() + " holds other files; name another folder with --out.");
  }
  if (!force) {
    throw InTheWay(folder.string() +
                   " holds results already; replace them with --force, or name another folder with --out.");
  }
}

void prepare_folder(const fs::path& folder) {
  std::error_code trouble;
  fs::create_directories(folder, trouble);
  if (trouble) refused(folder, trouble);
  const auto remove = [&](const char* name) {
    fs::remove_all(folder / name, trouble);
    if (trouble) refused(folder, trouble);
  };
  for (const char* name : other_results) remove(name);
  for (const char* name : result_marks) {
    if (std::string(name) != store_file_name) remove(name);
  }
}

void write_text(const fs::path& file, const std::string& text) {
  const fs::path unfinished = file.string() + ".part";
  std::ofstream stream(unfinished, std::ios::binary);
  stream << text;
  stream.close();
  std::error_code trouble;
  if (!stream) {
    fs::remove(unfinished, trouble);
    throw std::runtime_error("cannot write " + file.string() +
                             "; the disk may be full or the folder read-only.");
  }
  fs::rename(unfinished, file, trouble);
  if (trouble) refused(file, trouble);
}

}  // namespace updraught
