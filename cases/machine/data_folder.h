// Where the program's own files lie: feedstocks, the starter and the ready-made cases.
#pragma once

#include <filesystem>

namespace updraught {

/// share/updraught beside the folder of the program where it is installed, else the source tree that it was
/// built from.
std::filesystem::path data_folder();

}  // namespace updraught
