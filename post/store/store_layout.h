// The words of the store: its names, and the version of its layout.
#pragma once

#include "post/files/whole_files.h"

namespace updraught {

/// Name of the store in its folder.
inline constexpr const char* store_file_name = "result.h5";
/// Folders with the parts of a store that is still being written start with this; a number follows.
inline constexpr const char* store_parts_prefix = "result_parts_";
/// Value of the attribute `made_by` of a store.
inline constexpr const char* store_maker = "updraught";
/// Version of the layout; raised whenever a reader of the former one would misread the file.
inline constexpr int store_layout_version = 10;

}  // namespace updraught
