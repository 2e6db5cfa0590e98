// An HDF5 file that is being written and appears whole or not at all.
#pragma once

#include <H5Cpp.h>

#include <filesystem>
#include <functional>
#include <memory>

namespace updraught {

/// A new HDF5 file under the name unfinished(target), until commit() puts it in place. Dropped without
/// commit(), it leaves no trace.
///
/// The bytes go through a small file driver of our own. When the disk is full the common driver lets the
/// library's close fail, and the half-closed file then brings the whole program down at its end; this one
/// notes the first error, lets the library finish, and commit() or check() report it.
class OutputFile {
 public:
  /// Throws StoreError when the file cannot be made.
  explicit OutputFile(const std::filesystem::path& target);
  ~OutputFile();
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;

  H5::Group& root() { return file_; }

  /// Throws StoreError when bytes could not be written so far.
  void check() const;
  /// Closes the file, makes it safe on the disk and puts it in place. Throws StoreError; the target is then
  /// as before.
  void commit();

 private:
  void close();
  void discard() const;

  std::filesystem::path target_;
  std::unique_ptr<int> fault_;  ///< errno of the first failed write, or 0; its address is known to the driver
  H5::H5File file_;
  bool open_ = false;
};

/// Makes a new HDF5 file with what `body` puts into it. Throws StoreError; `target` is then as before.
void write_hdf5(const std::filesystem::path& target, const std::function<void(OutputFile&)>& body);

}  // namespace updraught
