// Renaming several files as one: all of them, or none.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace updraught {

/// Files and folders that were moved; all go back unless keep() was called.
class Moves {
 public:
  Moves() = default;
  ~Moves();
  Moves(const Moves&) = delete;
  Moves& operator=(const Moves&) = delete;

  /// Renames a file or folder within one file system. Throws StoreError when the system refuses or the new
  /// name is taken.
  void move(const std::filesystem::path& from, const std::filesystem::path& to);
  /// Moves everything in a folder into another one, but for one name at its top: folders that are not there
  /// yet as a whole, into others what they hold. Throws StoreError.
  void move_all(const std::filesystem::path& from, const std::filesystem::path& to,
                const std::string& but = {});
  /// What was moved stays moved.
  void keep() { moved_.clear(); }

 private:
  std::vector<std::pair<std::filesystem::path, std::filesystem::path>> moved_;
};

/// Removes the folders, inside `folder`, in which these files (relative to it) were, where they are empty
/// now.
void remove_empty_folders(const std::filesystem::path& folder,
                          const std::vector<std::filesystem::path>& files);

}  // namespace updraught
