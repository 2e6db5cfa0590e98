#include "cases/output/moves.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <system_error>

#include "post/files/whole_files.h"

namespace updraught {

namespace fs = std::filesystem;

Moves::~Moves() {
  std::error_code ignored;  // the first failure is the one to report
  for (auto one = moved_.rbegin(); one != moved_.rend(); ++one) {
    fs::create_directories(one->first.parent_path(), ignored);
    fs::rename(one->second, one->first, ignored);
  }
}

void Moves::move(const fs::path& from, const fs::path& to) {
  std::error_code trouble;
  // Renaming would replace a file without a word.
  if (fs::exists(fs::symlink_status(to, trouble)))
    throw StoreError(fmt::format("cannot write {}: {}", to.string(), plain_reason(EEXIST)));
  fs::rename(from, to, trouble);
  if (trouble)
    throw StoreError(fmt::format("cannot write {}: {}", to.string(), plain_reason(trouble.value())));
  moved_.emplace_back(from, to);
}

void Moves::move_all(const fs::path& from, const fs::path& to, const std::string& but) {
  std::vector<fs::path> names;
  for (const fs::directory_entry& entry : fs::directory_iterator(from))
    if (entry.path().filename() != but) names.push_back(entry.path().filename());
  std::sort(names.begin(), names.end());
  for (const fs::path& name : names) {
    if (fs::is_directory(from / name) && fs::is_directory(to / name)) {
      move_all(from / name, to / name);
    } else {
      move(from / name, to / name);
    }
  }
}

void remove_empty_folders(const fs::path& folder, const std::vector<fs::path>& files) {
  std::vector<fs::path> inner;
  for (const fs::path& file : files)
    for (fs::path at = file.parent_path(); !at.empty(); at = at.parent_path()) inner.push_back(at);
  // The longest paths first: a folder comes before the one that holds it.
  std::sort(inner.begin(), inner.end(),
            [](const fs::path& a, const fs::path& b) { return a.string().size() > b.string().size(); });
  std::error_code holds_more;
  for (const fs::path& one : inner) fs::remove(folder / one, holds_more);
}

}  // namespace updraught
