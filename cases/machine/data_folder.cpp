#include "cases/machine/data_folder.h"

#include <system_error>

namespace updraught {

std::filesystem::path data_folder() {
  std::error_code unknown;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", unknown);
  std::filesystem::path installed = program.parent_path().parent_path() / "share" / "updraught";
  if (!program.empty() && std::filesystem::exists(installed / "feedstocks.toml", unknown)) return installed;
  return UPDRAUGHT_DATA_DIR;
}

}  // namespace updraught
