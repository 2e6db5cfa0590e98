#include "post/store/store_guard.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <vector>

#include "post/store/store_layout.h"

namespace updraught::layout {

namespace fs = std::filesystem;

namespace {

/// Deflating makes lists at most 1032 times shorter (published limit of the method).
constexpr double most_deflated = 1032.0;

/// Files that external links name; `foreign` when there are links of kinds that no store has.
struct Links {
  std::set<std::string> files;
  bool foreign = false;
};

herr_t note_link(hid_t group, const char* name, const H5L_info_t* link, void* data) {
  Links& links = *static_cast<Links*>(data);
  if (link->type == H5L_TYPE_HARD || link->type == H5L_TYPE_SOFT) return 0;
  if (link->type != H5L_TYPE_EXTERNAL) {
    links.foreign = true;
    return 0;
  }
  std::vector<char> value(link->u.val_size);
  unsigned flags = 0;
  const char* file = nullptr;
  const char* object = nullptr;
  if (H5Lget_val(group, name, value.data(), value.size(), H5P_DEFAULT) < 0 ||
      H5Lunpack_elink_val(value.data(), value.size(), &flags, &file, &object) < 0)
    return -1;
  links.files.insert(file);
  return 0;
}

Links links_in(const H5::Group& root) {
  Links links;
  if (H5Lvisit(root.getId(), H5_INDEX_NAME, H5_ITER_NATIVE, note_link, &links) < 0)
    throw StoreError("its links cannot be read");
  return links;
}

void require_plain_part(const fs::path& file) {
  std::error_code unknown;  // a file that is not there is told when it is read
  const fs::file_status status = fs::symlink_status(file, unknown);
  if (status.type() == fs::file_type::not_found) return;
  if (status.type() != fs::file_type::regular)
    throw StoreError(fmt::format("its part {} is no plain file", file.filename().string()));
  const H5::H5File part(file.string(), H5F_ACC_RDONLY);
  const Links links = links_in(part.openGroup("/"));
  if (links.foreign || !links.files.empty())
    throw StoreError(fmt::format("its part {} leads to other files", file.filename().string()));
}

}  // namespace

bool is_parts_name(const std::string& name) {
  return name.starts_with(store_parts_prefix) && name.find('/') == std::string::npos;
}

void require_own_links(const H5::Group& root, const fs::path& store, const std::string& parts) {
  const Links links = links_in(root);
  if (links.foreign) throw StoreError("it holds links of an unknown kind");
  const std::string start = parts + "/";
  for (const std::string& file : links.files) {
    const std::string name = file.starts_with(start) ? file.substr(start.size()) : "";
    if (parts.empty() || name.empty() || name.starts_with('.') || name.find('/') != std::string::npos)
      throw StoreError(fmt::format("it leads to the file {} outside its own folder", file));
    require_plain_part(store.parent_path() / parts / name);
  }
}

void require_held(const H5::DataSet& set, const std::string& name) {
  const H5::DSetCreatPropList how = set.getCreatePlist();
  if (how.getLayout() == H5D_VIRTUAL || (how.getLayout() == H5D_CONTIGUOUS && how.getExternalCount() > 0))
    throw StoreError(name + " keeps its values in other files");
  hsize_t file_size = 0;
  const hid_t file = H5Iget_file_id(set.getId());
  const bool sized = H5Fget_filesize(file, &file_size) >= 0;
  H5Fclose(file);
  if (!sized) throw StoreError(name + " cannot be read");
  const double stored = static_cast<double>(std::min<hsize_t>(set.getStorageSize(), file_size));
  const double said = static_cast<double>(set.getSpace().getSimpleExtentNpoints()) *
                      static_cast<double>(set.getDataType().getSize());
  if (said > most_deflated * stored) throw StoreError(name + " is said to be longer than the file can hold");
}

}  // namespace updraught::layout
