// From a store in parts to one file.
#pragma once

#include <filesystem>

namespace updraught {

/// Turns a store that is an index over part files (one that is being written, or was left by a killed run)
/// into one file of the same content and name, then removes the parts. A store that is one file already stays
/// as it is. Throws StoreError; the store in parts is then still there and whole.
void pack_store(const std::filesystem::path& store);

}  // namespace updraught
