// Where a command writes: one folder, never over what is there without being told, never over what it did not
// write, and nothing outside it.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "post/files/whole_files.h"

namespace updraught {

/// Results or other files are in the way; `what()` says where and what to do.
struct InTheWay : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The folder that was asked for, or `name` in the working directory.
std::filesystem::path results_folder(const std::filesystem::path& asked, const std::string& name);

/// A folder of results while one command writes them. All is written into `unfinished` inside it; earlier
/// results stay untouched until put_in_place() moves them aside and the new ones in, by renaming. What may be
/// moved aside stands in a list that each command leaves with its results (written_list): no other file is
/// ever touched. The folder is held for this process while the object lives, so a second run into it is
/// refused; a killed process holds nothing.
class ResultsFolder {
 public:
  /// Makes and holds the folder. Throws InTheWay when it is a file, holds files of others only, is written
  /// into by another run, or, without `force`, holds results or what an interrupted run left; StoreError when
  /// the system refuses.
  ResultsFolder(const std::filesystem::path& folder, bool force);
  /// Removes what it made and left empty.
  ~ResultsFolder();
  ResultsFolder(const ResultsFolder&) = delete;
  ResultsFolder& operator=(const ResultsFolder&) = delete;

  /// Where to write; exists.
  const std::filesystem::path& work() const { return work_; }
  /// Where the results stand: the folder once they are in place, before that work().
  const std::filesystem::path& shown() const { return placed_ ? folder_ : work_; }
  /// Earlier results stand in the folder.
  bool replaces() const { return !earlier_.empty(); }
  /// What an interrupted run left was moved aside, and goes with put_in_place().
  bool replaces_interrupted() const;
  const std::filesystem::path& aside() const { return aside_; }
  bool placed() const { return placed_; }
  /// Something was written into work() and is still there.
  bool left_something() const;

  /// Moves earlier results out and the new ones in, then removes the earlier ones. Throws InTheWay when a
  /// file of somebody else has the name of a new one, StoreError when the system refuses; what was there is
  /// then there again, and the new results stand in work().
  void put_in_place();

 private:
  ResultsFolder() = default;
  void exchange() const;
  void refuse_others(bool force) const;
  void set_aside_interrupted() const;
  void require_no_strangers(const std::filesystem::path& inside) const;

  std::filesystem::path folder_;
  std::filesystem::path work_;
  std::filesystem::path aside_;
  std::vector<std::filesystem::path> made_;     ///< folders made on the way here, the outermost first
  std::vector<std::filesystem::path> earlier_;  ///< files of earlier results, relative to the folder
  std::unique_ptr<FolderLock> lock_;
  bool placed_ = false;
};

/// Runs a command that writes into a folder, with plain messages; where its results did not come into place,
/// says where they stand.
int with_results_folder(ResultsFolder& place, const std::function<int()>& command);

/// Puts results in place. Those that are not whole (stopped, or something could not be written) replace no
/// earlier ones, nor what an interrupted run left; that, and what goes wrong, becomes a sentence among the
/// troubles.
void settle(ResultsFolder& place, bool whole, std::vector<std::string>& troubles);

/// Name of the list of the files that a command wrote, in its folder: a heading, then one path a line,
/// relative to the folder.
inline constexpr const char* written_list = "updraught-files.txt";

/// Folders of the program's own inside a folder of results: of what is being written, and of what is
/// replaced.
inline constexpr const char* work_folder = "unfinished";
inline constexpr const char* aside_folder = "replaced";

/// The files in a folder that its list names: those that are there, whose path stays inside the folder and
/// does not lead through a link. Empty without a list.
std::vector<std::filesystem::path> listed_files(const std::filesystem::path& folder);

}  // namespace updraught
