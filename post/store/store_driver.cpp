#include "post/store/store_driver.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <limits>
#include <system_error>

#include "post/files/whole_files.h"
#include "post/store/store_check.h"
#include "post/store/store_layout.h"

namespace updraught {

namespace {

/// What the library hands to our open function.
struct DriverInfo {
  int* fault;
};

/// The library's view of an open file comes first, as it asks for.
struct OpenFile {
  H5FD_t base;
  int handle;
  haddr_t end_used;     ///< end of what the library has allocated
  haddr_t end_written;  ///< end of the file
  int* fault;
};

OpenFile* mine(H5FD_t* file) {
  return reinterpret_cast<OpenFile*>(file);
}
const OpenFile* mine(const H5FD_t* file) {
  return reinterpret_cast<const OpenFile*>(file);
}

H5FD_t* open_file(const char* name, unsigned /*flags*/, hid_t access, haddr_t /*largest*/) {
  const auto* info = static_cast<const DriverInfo*>(H5Pget_driver_info(access));
  if (info == nullptr) return nullptr;
  const int handle = ::open(name, O_RDWR | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (handle < 0) {
    *info->fault = errno;
    return nullptr;
  }
  auto file = std::make_unique<OpenFile>();
  file->handle = handle;
  file->fault = info->fault;
  return reinterpret_cast<H5FD_t*>(file.release());
}

herr_t close_file(H5FD_t* base) {
  const std::unique_ptr<OpenFile> file(mine(base));
  if (::close(file->handle) != 0 && *file->fault == 0) *file->fault = errno;
  return 0;
}

herr_t say_what_it_can(const H5FD_t* /*file*/, unsigned long* flags) {
  *flags = H5FD_FEAT_AGGREGATE_METADATA | H5FD_FEAT_ACCUMULATE_METADATA | H5FD_FEAT_DATA_SIEVE |
           H5FD_FEAT_AGGREGATE_SMALLDATA;
  return 0;
}

haddr_t end_used(const H5FD_t* file, H5FD_mem_t /*type*/) {
  return mine(file)->end_used;
}
haddr_t end_written(const H5FD_t* file, H5FD_mem_t /*type*/) {
  return mine(file)->end_written;
}

herr_t set_end_used(H5FD_t* file, H5FD_mem_t /*type*/, haddr_t end) {
  mine(file)->end_used = end;
  return 0;
}

herr_t read_bytes(H5FD_t* base, H5FD_mem_t /*type*/, hid_t /*transfer*/, haddr_t from, size_t size,
                  void* buffer) {
  auto* to = static_cast<char*>(buffer);
  while (size > 0) {
    const ssize_t count = ::pread(mine(base)->handle, to, size, static_cast<off_t>(from));
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return -1;
    if (count == 0) break;
    to += count;
    from += static_cast<haddr_t>(count);
    size -= static_cast<size_t>(count);
  }
  std::memset(to, 0, size);  // beyond the end all is zero, as with any file driver
  return 0;
}

herr_t write_bytes(H5FD_t* base, H5FD_mem_t /*type*/, hid_t /*transfer*/, haddr_t at, size_t size,
                   const void* buffer) {
  OpenFile& file = *mine(base);
  const auto* from = static_cast<const char*>(buffer);
  while (size > 0 && *file.fault == 0) {
    const ssize_t count = ::pwrite(file.handle, from, size, static_cast<off_t>(at));
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) {
      *file.fault = errno;
      return 0;
    }
    from += count;
    at += static_cast<haddr_t>(count);
    size -= static_cast<size_t>(count);
    if (at > file.end_written) file.end_written = at;
  }
  return 0;
}

herr_t fit_length(H5FD_t* base, hid_t /*transfer*/, hbool_t /*closing*/) {
  OpenFile& file = *mine(base);
  if (file.end_used == file.end_written || *file.fault != 0) return 0;
  if (::ftruncate(file.handle, static_cast<off_t>(file.end_used)) != 0) *file.fault = errno;
  file.end_written = file.end_used;
  return 0;
}

H5FD_class_t describe_driver() {
  H5FD_class_t driver{};
  driver.name = "updraught_output";
  driver.maxaddr = static_cast<haddr_t>(std::numeric_limits<off_t>::max());
  driver.fc_degree = H5F_CLOSE_STRONG;
  driver.fapl_size = sizeof(DriverInfo);
  driver.open = open_file;
  driver.close = close_file;
  driver.query = say_what_it_can;
  driver.get_eoa = end_used;
  driver.set_eoa = set_end_used;
  driver.get_eof = end_written;
  driver.read = read_bytes;
  driver.write = write_bytes;
  driver.truncate = fit_length;
  const H5FD_mem_t one_kind[H5FD_MEM_NTYPES] = H5FD_FLMAP_DICHOTOMY;
  std::memcpy(driver.fl_map, one_kind, sizeof one_kind);
  return driver;
}

}  // namespace

OutputFile::OutputFile(const std::filesystem::path& target)
    : target_(target), fault_(std::make_unique<int>(0)) {
  H5::Exception::dontPrint();
  const H5FD_class_t description = describe_driver();
  const hid_t driver = H5FDregister(&description);
  try {
    const H5::FileAccPropList access;
    const DriverInfo info{fault_.get()};
    H5Pset_driver(access.getId(), driver, &info);
    file_ = H5::H5File(unfinished(target).string(), H5F_ACC_TRUNC, H5::FileCreatPropList::DEFAULT, access);
    open_ = true;
    H5FDunregister(driver);
  } catch (const H5::Exception& error) {
    H5FDunregister(driver);
    check();
    throw StoreError(fmt::format("cannot write {}: {}", target.string(), error.getDetailMsg()));
  }
}

OutputFile::~OutputFile() {
  if (!open_) return;
  try {
    close();
  } catch (const H5::Exception&) {
    open_ = false;  // the file is thrown away anyhow
  }
  discard();
}

void OutputFile::close() {
  if (!open_) return;
  open_ = false;
  file_.close();
}

void OutputFile::check() const {
  if (*fault_ != 0)
    throw StoreError(fmt::format("cannot write {}: {}", target_.string(), plain_reason(*fault_)));
}

void OutputFile::commit() {
  try {
    close();
    if (*fault_ == 0) *fault_ = append_check_sum(unfinished(target_));
    check();
  } catch (const H5::Exception& error) {
    discard();
    check();
    throw StoreError(fmt::format("cannot write {}: {}", target_.string(), error.getDetailMsg()));
  } catch (const StoreError&) {
    discard();
    throw;
  }
  put_in_place(target_);
}

void OutputFile::discard() const {
  std::error_code ignored;  // another failure is being reported, or nobody wants the file
  std::filesystem::remove(unfinished(target_), ignored);
}

void write_hdf5(const std::filesystem::path& target, const std::function<void(OutputFile&)>& body) {
  OutputFile out(target);
  try {
    body(out);
  } catch (const H5::Exception& error) {
    out.check();
    throw StoreError(fmt::format("cannot write {}: {}", target.string(), error.getDetailMsg()));
  }
  out.commit();
}

}  // namespace updraught
