// Stores of results. The input tells which store is taken (a whole one, or one that is still an index over
// its parts), whether it is cut or overwritten as a failing disk would, or changed inside, and how.
#include <hdf5.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include "post/store/store_check.h"
#include "tests/fuzz/check_store.h"
#include "tests/fuzz/check_text.h"
#include "tests/unit/made_up_result.h"

namespace {

using namespace updraught;
using made_cases::Draws;
namespace fs = std::filesystem;

/// The line with the check sum at the end of every file (post/store_check).
constexpr std::size_t check_line = 64;

/// One file of a store, without its check sum, and what is in it.
struct Seed {
  std::string bytes;
  std::vector<std::string> paths;
};

/// The files of a store by their names in its folder.
using Seeds = std::map<std::string, Seed>;

/// Where the stores lie that are read.
fs::path scratch() {
  static const fs::path folder = fs::absolute("store_" + std::to_string(getpid()));
  return folder;
}

Seeds made_store(bool whole) {
  const made_up::Folder folder;
  const Grid grid = made_up::grid(3, 2, 2);
  StoreWriter writer(folder.path(), made_up::facts(grid));
  for (const double time : {0.0, 3600.0}) {
    const Picture picture = made_up::picture(grid, time);
    writer.write_time(made_up::state(grid, time), grid, &picture, made_up::row(time));
  }
  if (whole) writer.finish(made_up::ended(3, {{{"height_m", {0.5, 0.6}}}}, {"Air reaches most of it."}));
  Seeds seeds;
  for (const auto& entry : fs::recursive_directory_iterator(folder.path())) {
    if (entry.path().extension() != ".h5") continue;
    std::string bytes = made_up::bytes_of(entry.path());
    bytes.resize(bytes.size() - check_line);
    seeds[fs::relative(entry.path(), folder.path()).string()] = {bytes, fuzz::paths_in(entry.path())};
  }
  return seeds;
}

const Seeds& seeds_of(bool whole) {
  static const Seeds finished = made_store(true), growing = made_store(false);
  return whole ? finished : growing;
}

void write(const fs::path& path, const std::string& bytes) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << bytes;
}

/// What a failing disk does: the check sum must tell, or else the length.
void damage(const fs::path& path, Draws& draws) {
  append_check_sum(path);
  std::string bytes = made_up::bytes_of(path);
  const std::size_t at = draws.below(bytes.size());
  if (draws.once_in(3)) {
    bytes.resize(at);
  } else {
    const std::size_t length = std::min(bytes.size() - at, 1 + draws.below(512));
    for (std::size_t n = at; n < at + length; ++n)
      bytes[n] = draws.once_in(2) ? '\0' : static_cast<char>(draws.next());
  }
  write(path, bytes);
}

void change_inside(const fs::path& path, const Seed& seed, std::size_t times, Draws& draws) {
  const hid_t file = H5Fopen(path.c_str(), H5F_ACC_RDWR, H5P_DEFAULT);
  fuzz::require(file >= 0, "a store made here opens");
  for (std::size_t n = 0; n < times; ++n) fuzz::change_store(file, seed.paths, draws);
  H5Fclose(file);
  if (!draws.once_in(3)) append_check_sum(path);
}

}  // namespace

extern "C" int LLVMFuzzerInitialize(int* /*count*/, char*** /*words*/) {
  H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr);
  // Made here, since what is made safe on a busy disk takes its time, and inputs are timed.
  seeds_of(true);
  seeds_of(false);
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 2) return 0;
  std::uint64_t start = 0;
  std::memcpy(&start, data + 1, std::min(size - 1, sizeof start));
  Draws draws(start);
  const Seeds& seeds = seeds_of((data[0] & 1U) != 0);
  fs::remove_all(scratch());
  for (const auto& [name, seed] : seeds) write(scratch() / name, seed.bytes);
  auto chosen = seeds.begin();
  for (std::size_t n = draws.below(seeds.size()); n > 0; --n) ++chosen;
  const fs::path path = scratch() / chosen->first;
  if ((data[0] & 14U) == 0)
    damage(path, draws);
  else
    change_inside(path, chosen->second, 1 + (data[0] >> 4U) % 8, draws);
  fuzz::check_store(scratch() / store_file_name);
  return 0;
}
