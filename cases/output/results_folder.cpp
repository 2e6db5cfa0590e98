#include "cases/output/results_folder.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <system_error>
#include <utility>

#include "cases/output/moves.h"
#include "cases/output/printing.h"

namespace updraught {

namespace fs = std::filesystem;

namespace {

constexpr const char* heading = "Written by updraught. --force replaces these files and no others:";

bool there(const fs::path& path) {
  std::error_code unknown;  // what cannot be looked at is found out when it is used
  return fs::exists(fs::symlink_status(path, unknown));
}

bool is_real_folder(const fs::path& path) {
  std::error_code unknown;
  return fs::is_directory(fs::symlink_status(path, unknown));
}

bool has_list(const fs::path& folder) {
  std::string line;
  std::error_code unknown;
  if (!fs::is_regular_file(fs::symlink_status(folder / written_list, unknown))) return false;
  std::ifstream file(folder / written_list, std::ios::binary);
  return std::getline(file, line) && line == heading;
}

// The program's own folders inside a folder of results; an empty one was left before it got its list.
bool is_own(const fs::path& folder) {
  std::error_code unknown;
  return is_real_folder(folder) && (has_list(folder) || fs::is_empty(folder, unknown));
}

// Anything but lists. What cannot be looked at counts: it is not to be taken for nothing.
bool holds_results(const fs::path& folder) {
  if (!is_real_folder(folder)) return false;
  std::error_code trouble;
  for (fs::recursive_directory_iterator at(folder, trouble), end; !trouble && at != end;
       at.increment(trouble)) {
    std::error_code unknown;
    if (at->path().filename() != written_list && !at->is_directory(unknown)) return true;
  }
  return bool(trouble);
}

bool stays_inside(const fs::path& folder, const fs::path& path) {
  if (path.empty() || path.is_absolute()) return false;
  fs::path so_far = folder;
  for (const fs::path& part : path.parent_path()) {
    so_far /= part;
    if (part == ".." || part == "." || !is_real_folder(so_far)) return false;
  }
  return path.filename() != ".." && path.filename() != "." && !path.filename().empty();
}

void write_list(const fs::path& folder, const std::set<fs::path>& files) {
  std::string text = std::string(heading) + "\n";
  for (const fs::path& file : files) text += file.string() + "\n";
  write_text_file(folder / written_list, text);
}

fs::path first_free(const fs::path& folder, const std::string& name) {
  for (int n = 1;; ++n) {
    fs::path path = folder / fmt::format("{}-{}", name, n);
    if (!there(path)) return path;
  }
}

std::vector<fs::path> make_folders(const fs::path& folder) {
  std::vector<fs::path> missing;
  for (fs::path at = folder; !at.empty() && !there(at); at = at.parent_path()) {
    missing.insert(missing.begin(), at);
    if (at == at.parent_path()) break;
  }
  for (const fs::path& one : missing) make_folder(one);
  return missing;
}

}  // namespace

fs::path results_folder(const fs::path& asked, const std::string& name) {
  return asked.empty() ? fs::path(name) : asked;
}

std::vector<fs::path> listed_files(const fs::path& folder) {
  std::vector<fs::path> files;
  if (!has_list(folder)) return files;
  std::ifstream list(folder / written_list, std::ios::binary);
  std::string line;
  std::getline(list, line);
  while (std::getline(list, line))
    if (stays_inside(folder, line) && there(folder / line) && !is_real_folder(folder / line))
      files.emplace_back(line);
  return files;
}

ResultsFolder::ResultsFolder(const fs::path& folder, bool force) : ResultsFolder() {
  std::error_code unknown;
  if (fs::exists(folder, unknown) && !fs::is_directory(folder, unknown))
    throw InTheWay(folder.string() + " is a file; name a folder with --out.");
  folder_ = folder.has_filename() ? folder : folder.parent_path();
  work_ = folder_ / work_folder;
  aside_ = folder_ / aside_folder;
  made_ = make_folders(folder_);
  try {
    lock_ = std::make_unique<FolderLock>(folder_);
  } catch (const FolderHeld&) {
    throw InTheWay("another run is writing into " + folder_.string() +
                   "; wait for its end, or name another folder with --out.");
  }
  refuse_others(force);
  earlier_ = listed_files(folder_);
  set_aside_interrupted();
  make_folder(work_);
  write_list(work_, {});
}

void ResultsFolder::refuse_others(bool force) const {
  std::error_code unknown;
  if (fs::is_empty(folder_, unknown)) return;
  const bool interrupted = is_own(work_) || is_own(aside_);
  if (!has_list(folder_) && !interrupted)
    throw InTheWay(folder_.string() + " holds other files; name another folder with --out.");
  for (const fs::path& own : {work_, aside_})
    if (there(own) && !is_own(own))
      throw InTheWay(own.string() +
                     " is not from this program and in its way; move it, or name another folder "
                     "with --out.");
  if (force) return;
  if (interrupted)
    throw InTheWay(
        fmt::format("{} holds what an interrupted run left; replace it with --force, or name another "
                    "folder with --out.",
                    (is_own(work_) ? work_ : aside_).string()));
  throw InTheWay(folder_.string() +
                 " holds results already; replace them with --force, or name another folder with --out.");
}

// What an interrupted run left goes only when new results are in place.
void ResultsFolder::set_aside_interrupted() const {
  if (!there(work_)) return;
  make_folder(aside_);
  write_list(aside_, {});
  Moves moves;
  moves.move(work_, first_free(aside_, work_folder));
  moves.keep();
}

ResultsFolder::~ResultsFolder() {
  std::error_code ignored;  // a destructor has nobody to tell; what is left does no harm
  if (lock_ && !placed_ && is_own(work_) && !left_something()) fs::remove_all(work_, ignored);
  for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) fs::remove(*folder, ignored);
}

bool ResultsFolder::left_something() const {
  return holds_results(work_);
}

bool ResultsFolder::replaces_interrupted() const {
  return holds_results(aside_);
}

// A name that a file of somebody else has already.
void ResultsFolder::require_no_strangers(const fs::path& inside) const {
  for (const fs::directory_entry& entry : fs::directory_iterator(work_ / inside)) {
    const fs::path path = inside / entry.path().filename();
    if (path == written_list || !there(folder_ / path)) continue;
    if (entry.is_directory() && is_real_folder(folder_ / path)) {
      require_no_strangers(path);
    } else if (std::find(earlier_.begin(), earlier_.end(), path) == earlier_.end()) {
      throw InTheWay(
          (folder_ / path).string() +
          " is not from this program and in the way of the new results; move it away and run again "
          "with --force, or name another folder with --out.");
    }
  }
}

void ResultsFolder::put_in_place() {
  require_no_strangers({});
  exchange();
  placed_ = true;
  std::error_code leftover;  // what cannot be removed does no harm
  fs::remove_all(work_, leftover);
  fs::remove_all(aside_, leftover);
}

void ResultsFolder::exchange() const {
  std::set<fs::path> files;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(work_))
    if (!entry.is_directory()) files.insert(entry.path().lexically_relative(work_));
  files.erase(written_list);
  fs::path old;
  if (!earlier_.empty()) {
    make_folder(aside_);
    write_list(aside_, {});
    old = first_free(aside_, "results");
    // All folders are made before anything moves: on a full disk that is what fails.
    for (const fs::path& file : earlier_) make_folders((old / file).parent_path());
  }
  // Until the new results are in, the list names both, so that none is ever taken for somebody else's.
  std::set<fs::path> both = files;
  both.insert(earlier_.begin(), earlier_.end());
  write_list(folder_, both);
  Moves moves;
  for (const fs::path& file : earlier_) moves.move(folder_ / file, old / file);
  remove_empty_folders(folder_, earlier_);
  moves.move_all(work_, folder_, written_list);
  write_list(folder_, files);
  moves.keep();
}

int with_results_folder(ResultsFolder& place, const std::function<int()>& command) {
  const int code = with_plain_messages(command);
  if (!place.placed() && place.left_something())
    print_error("updraught: what was computed stands in " + place.work().string() + ".\n");
  return code;
}

void settle(ResultsFolder& place, bool whole, std::vector<std::string>& troubles) {
  if (!whole && place.replaces()) {
    troubles.emplace_back("The earlier results stay in place, since the new ones are not whole.");
    return;
  }
  if (!whole && place.replaces_interrupted()) {
    troubles.push_back("What an interrupted run left stays in " + place.aside().string() +
                       ", since the new results are not whole.");
    return;
  }
  try_to(troubles, [&place] { place.put_in_place(); });
}

}  // namespace updraught
