// Files that appear whole or not at all: written under another name, made safe on the disk, then renamed.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace updraught {

/// A file could not be written or read; `what()` says which and why in plain words.
struct StoreError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// What went wrong with a file, in plain words, from an errno value.
std::string plain_reason(int error);

/// The name under which `target` is written until it is whole.
std::filesystem::path unfinished(const std::filesystem::path& target);

/// Throws StoreError unless `folder` is a folder.
void require_folder(const std::filesystem::path& folder);

/// Makes `folder` inside an existing folder unless it is there. Throws StoreError.
void make_folder(const std::filesystem::path& folder);

/// Makes the bytes of unfinished(target) safe on the disk and renames it to `target`, replacing what was
/// there in one stroke. Throws StoreError; `target` is then what it was, and the unfinished file is gone.
void put_in_place(const std::filesystem::path& target);

/// Writes a text file by way of unfinished(target). Throws StoreError; `target` is then what it was.
void write_text_file(const std::filesystem::path& target, std::string_view text);

/// Another process holds the folder.
struct FolderHeld : StoreError {
  using StoreError::StoreError;
};

/// Keeps a folder for this process while it lives, so that two runs never write into one folder at the same
/// time. A killed process leaves no trace of it. Throws FolderHeld when another process holds the folder,
/// StoreError when it cannot be opened.
class FolderLock {
 public:
  explicit FolderLock(const std::filesystem::path& folder);
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;

 private:
  int handle_ = -1;
};

}  // namespace updraught
