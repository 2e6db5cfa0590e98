// Reads a store back: one that is packed, or one that is still an index over its parts.
#pragma once

#include <filesystem>
#include <vector>

#include "post/result/result.h"
#include "post/store/store_layout.h"

namespace updraught {

/// True when the file is a store of this layout that can be opened.
bool is_result(const std::filesystem::path& path);

/// Throws StoreError with the reason when is_result() would be false: no such file, a folder, no HDF5 file,
/// one of another program, another version's layout, damaged.
void require_result(const std::filesystem::path& path);

/// Reads all but the full states. A store whose run did not come to its end is not `whole` and has
/// `run.stopped` set, no bands and verdict, balances that are not-a-number, and the figures of its run up to
/// the last time on the disk. Throws StoreError.
Result read_result(const std::filesystem::path& path);

/// Times of the full states in the store (s), rising. Throws StoreError.
std::vector<double> state_times(const std::filesystem::path& path);

/// Reads a full state by its place in state_times(), bit for bit. Throws StoreError.
State read_state(const std::filesystem::path& path, std::size_t index);

}  // namespace updraught
