// What a store may make the program open and allocate: a store can come from somebody else.
#pragma once

#include <H5Cpp.h>

#include <filesystem>
#include <string>

namespace updraught::layout {

/// Whether this is a name that a folder of parts can have: no path.
bool is_parts_name(const std::string& name);

/// Throws StoreError unless every external link in the store leads to a file directly in its own folder of
/// parts, which is no link itself and holds no external links. `parts` is the name of that folder beside the
/// store; empty: no external link may be there.
void require_own_links(const H5::Group& root, const std::filesystem::path& store, const std::string& parts);

/// Throws StoreError when a list keeps its values in other files, or says that it is longer than the bytes in
/// its file can hold.
void require_held(const H5::DataSet& set, const std::string& name);

}  // namespace updraught::layout
