// Stores that are almost right: valid HDF5 files whose content was changed.
#pragma once

#include <hdf5.h>

#include <filesystem>
#include <string>
#include <vector>

#include "tests/made_cases/draws.h"

namespace updraught::fuzz {

/// Paths of all groups and lists in a file that hang on plain links, "/" first.
std::vector<std::string> paths_in(const std::filesystem::path& file);

/// Makes one change to an HDF5 file: takes a part away, puts another in its place, changes one of its values,
/// its kind, its shape or its attributes, or leads a name elsewhere.
void change_store(hid_t file, const std::vector<std::string>& paths, made_cases::Draws& draws);

/// Reads all of a store. Ends the target unless it can be read or is refused in words.
void check_store(const std::filesystem::path& store);

}  // namespace updraught::fuzz
