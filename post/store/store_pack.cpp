#include "post/store/store_pack.h"

#include <fmt/format.h>

#include <system_error>

#include "post/store/store_driver.h"
#include "post/store/store_guard.h"
#include "post/store/store_read.h"
#include "post/store/store_values.h"

namespace updraught {

namespace {

/// Copies one member of a group with all that it points to; the deflated bytes of large lists are taken as
/// they are.
void copy_whole(const H5::Group& from, const std::string& name, H5::Group& to) {
  const H5::PropList how(H5P_OBJECT_COPY);
  H5Pset_copy_object(how.getId(), H5O_COPY_EXPAND_EXT_LINK_FLAG);
  if (H5Ocopy(from.getId(), name.c_str(), to.getId(), name.c_str(), how.getId(), H5P_DEFAULT) < 0)
    throw H5::GroupIException("H5Ocopy", fmt::format("{} cannot be copied", name));
}

/// Copies the states, whose lists were written as they are.
void deflate_states(const H5::Group& from, H5::Group& to) {
  for (const std::string& state : layout::names_in(from)) {
    const H5::Group whole = from.openGroup(state);
    H5::Group packed = to.createGroup(state);
    for (const std::string& name : layout::names_in(whole))
      if (layout::is_plain_list(whole, name))
        layout::deflate(whole, name, packed);
      else
        copy_whole(whole, name, packed);
  }
}

void copy_all(const H5::H5File& from, H5::Group& to) {
  using namespace layout;
  put_attribute(to, "made_by", text_attribute(from, "made_by"));
  put_attribute(to, "layout", number_attribute(from, "layout"));
  put_attribute(to, "complete", number_attribute(from, "complete"));
  put_attribute(to, "parts", std::string());
  for (const std::string& name : names_in(from))
    if (name != "states") copy_whole(from, name, to);
  H5::Group states = to.createGroup("states");
  deflate_states(from.openGroup("states"), states);
}

}  // namespace

void pack_store(const std::filesystem::path& store) {
  require_result(store);
  H5::Exception::dontPrint();
  std::string parts;
  try {
    const H5::H5File from(store.string(), H5F_ACC_RDONLY);
    parts = layout::text_attribute(from, "parts");
    if (parts.empty()) return;
    if (!layout::is_parts_name(parts))
      throw StoreError(fmt::format("{} names a folder of parts that is none", store.string()));
    layout::require_own_links(from.openGroup("/"), store, parts);
    write_hdf5(store, [&](OutputFile& out) { copy_all(from, out.root()); });
  } catch (const H5::Exception& error) {
    throw StoreError(
        fmt::format("{} cannot be packed into one file: {}", store.string(), error.getDetailMsg()));
  }
  std::error_code leftover;  // nothing points to the parts any more; what cannot be removed does no harm
  std::filesystem::remove_all(store.parent_path() / parts, leftover);
}

}  // namespace updraught
