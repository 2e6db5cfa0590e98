#include "post/files/whole_files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

namespace updraught {

namespace fs = std::filesystem;

namespace {

/// An open file or folder; closed at the end of its scope.
class Handle {
 public:
  Handle(const fs::path& path, int flags) : value_(::open(path.c_str(), flags | O_CLOEXEC, 0666)) {}
  ~Handle() {
    if (value_ >= 0) ::close(value_);
  }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  int value() const { return value_; }

 private:
  int value_;
};

[[noreturn]] void fail_writing(const fs::path& target, int error) {
  std::error_code ignored;  // the first failure is the one to report
  fs::remove(unfinished(target), ignored);
  throw StoreError(fmt::format("cannot write {}: {}", target.string(), plain_reason(error)));
}

fs::path folder_of(const fs::path& file) {
  return file.has_parent_path() ? file.parent_path() : fs::path(".");
}

int write_all(int handle, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = ::write(handle, text.data(), text.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return errno;
    text.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

}  // namespace

std::string plain_reason(int error) {
  switch (error) {
    case ENOSPC:
    case EDQUOT:
      return "the disk is full; make room and run again";
    case EFBIG:
      return "the file grows beyond the size that is allowed";
    case EROFS:
      return "the disk is read-only";
    case EACCES:
    case EPERM:
      return "the folder may not be written to (no permission)";
    case ENOENT:
      return "there is no such folder";
    case ENOTDIR:
      return "a part of the path is a file, not a folder";
    case EEXIST:
      return "there is a file of that name already";
    case EISDIR:
      return "there is a folder of that name";
    case ENAMETOOLONG:
      return "the name is too long";
    default:
      return std::strerror(error);
  }
}

fs::path unfinished(const fs::path& target) {
  fs::path path = target;
  path += ".unfinished";
  return path;
}

void require_folder(const fs::path& folder) {
  std::error_code error;
  const fs::file_status status = fs::status(folder, error);
  if (status.type() == fs::file_type::not_found)
    throw StoreError(fmt::format("there is no folder {}", folder.string()));
  if (error)
    throw StoreError(fmt::format("cannot open {}: {}", folder.string(), plain_reason(error.value())));
  if (status.type() != fs::file_type::directory)
    throw StoreError(fmt::format("{} is a file, not a folder", folder.string()));
}

void make_folder(const fs::path& folder) {
  std::error_code error;
  fs::create_directory(folder, error);
  if (error)
    throw StoreError(
        fmt::format("cannot make the folder {}: {}", folder.string(), plain_reason(error.value())));
  require_folder(folder);
}

void put_in_place(const fs::path& target) {
  {
    const Handle file(unfinished(target), O_RDONLY);
    if (file.value() < 0 || ::fsync(file.value()) != 0) fail_writing(target, errno);
  }
  if (::rename(unfinished(target).c_str(), target.c_str()) != 0) fail_writing(target, errno);
  // The new name itself must be on the disk too; some file systems cannot do this for a folder and need not.
  const Handle folder(folder_of(target), O_RDONLY | O_DIRECTORY);
  if (folder.value() >= 0 && ::fsync(folder.value()) != 0 && errno != EINVAL)
    throw StoreError(fmt::format("cannot write {}: {}", target.string(), plain_reason(errno)));
}

void write_text_file(const fs::path& target, std::string_view text) {
  {
    const Handle file(unfinished(target), O_WRONLY | O_CREAT | O_TRUNC);
    if (file.value() < 0) fail_writing(target, errno);
    if (const int error = write_all(file.value(), text); error != 0) fail_writing(target, error);
  }
  put_in_place(target);
}

FolderLock::FolderLock(const fs::path& folder)
    : handle_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  if (handle_ < 0) throw StoreError(fmt::format("cannot open {}: {}", folder.string(), plain_reason(errno)));
  // File systems without locks (some network ones) let the run go on: only a lock held by another stops it.
  if (::flock(handle_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
    ::close(handle_);
    throw FolderHeld(fmt::format("another run is writing into {}", folder.string()));
  }
}

FolderLock::~FolderLock() {
  ::close(handle_);
}

}  // namespace updraught
