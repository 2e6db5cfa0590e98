#include "tests/fuzz/check_store.h"

#include <array>
#include <cstdint>
#include <functional>
#include <limits>

#include "post/store/store_read.h"
#include "tests/fuzz/check_text.h"

namespace updraught::fuzz {

namespace {

using made_cases::Draws;

herr_t note_path(hid_t /*group*/, const char* name, const H5O_info_t* /*info*/, void* paths) {
  static_cast<std::vector<std::string>*>(paths)->push_back(name);
  return 0;
}

/// Kinds of values that a list may hold.
hid_t some_type(Draws& draws) {
  const std::array<hid_t, 8> types{H5T_NATIVE_DOUBLE, H5T_NATIVE_FLOAT, H5T_NATIVE_INT, H5T_NATIVE_INT64,
                                   H5T_NATIVE_UINT8,  H5T_C_S1,         H5T_IEEE_F64BE, H5T_NATIVE_OPAQUE};
  const hid_t type = H5Tcopy(types[draws.below(types.size())]);
  if (H5Tget_class(type) == H5T_STRING)
    H5Tset_size(type, draws.once_in(2) ? H5T_VARIABLE : 1 + draws.below(9));
  return type;
}

hid_t some_space(Draws& draws) {
  static const std::vector<hsize_t> lengths{0, 1, 2, 3, 4, 5, 6, 12, 60, 180, 1000};
  if (draws.once_in(8)) return H5Screate(H5S_NULL);
  if (draws.once_in(4)) return H5Screate(H5S_SCALAR);
  std::vector<hsize_t> shape;
  for (std::size_t n = 1 + draws.below(3); n > 0; --n) shape.push_back(draws.one_of(lengths));
  return H5Screate_simple(static_cast<int>(shape.size()), shape.data(), nullptr);
}

/// Bytes for values of any kind; as texts of variable length they would be addresses, so those stay
/// unwritten.
std::vector<std::uint64_t> some_bytes(Draws& draws) {
  std::vector<std::uint64_t> words(200);
  const bool small = draws.once_in(2);
  for (std::uint64_t& word : words) word = small ? draws.below(4) : draws.next();
  return words;
}

bool may_be_written(hid_t type, hid_t space) {
  const hssize_t points = H5Sget_simple_extent_npoints(space);
  return H5Tis_variable_str(type) <= 0 && points > 0 &&
         static_cast<std::size_t>(points) * H5Tget_size(type) <= 200 * sizeof(std::uint64_t);
}

void put_list(hid_t file, const std::string& path, Draws& draws) {
  const hid_t type = some_type(draws), space = some_space(draws);
  const hid_t set = H5Dcreate2(file, path.c_str(), type, space, H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT);
  if (set >= 0 && may_be_written(type, space))
    H5Dwrite(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, some_bytes(draws).data());
  if (set >= 0) H5Dclose(set);
  H5Sclose(space);
  H5Tclose(type);
}

/// One number in a list that stays as long as it was.
void change_number(hid_t file, const std::string& path, Draws& draws) {
  static const std::vector<double> numbers{0.0,
                                           -1.0,
                                           1.0,
                                           2.0,
                                           3.0,
                                           1e300,
                                           -1e300,
                                           2147483647.0,
                                           4294967296.0,
                                           1e-320,
                                           std::numeric_limits<double>::quiet_NaN(),
                                           std::numeric_limits<double>::infinity()};
  const hid_t set = H5Dopen2(file, path.c_str(), H5P_DEFAULT);
  if (set < 0) return;
  const hid_t type = H5Dget_type(set), space = H5Dget_space(set);
  const H5T_class_t kind = H5Tget_class(type);
  const hssize_t points = H5Sget_simple_extent_npoints(space);
  if ((kind == H5T_FLOAT || kind == H5T_INTEGER) && points > 0) {
    std::vector<double> values(static_cast<std::size_t>(points));
    H5Dread(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data());
    values[draws.below(values.size())] = draws.one_of(numbers);
    H5Dwrite(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data());
  }
  H5Sclose(space);
  H5Tclose(type);
  H5Dclose(set);
}

void change_attribute(hid_t file, const std::string& path, Draws& draws) {
  static const std::vector<std::string> names{"unit",   "label",    "components", "made_by",
                                              "layout", "complete", "parts"};
  const hid_t object = H5Oopen(file, path.c_str(), H5P_DEFAULT);
  if (object < 0) return;
  const std::string& name = draws.one_of(names);
  if (H5Aexists(object, name.c_str()) > 0) H5Adelete(object, name.c_str());
  if (draws.once_in(2)) {
    const hid_t type = some_type(draws), space = some_space(draws);
    const hid_t attribute = H5Acreate2(object, name.c_str(), type, space, H5P_DEFAULT, H5P_DEFAULT);
    if (attribute >= 0 && may_be_written(type, space)) H5Awrite(attribute, type, some_bytes(draws).data());
    if (attribute >= 0) H5Aclose(attribute);
    H5Sclose(space);
    H5Tclose(type);
  }
  H5Oclose(object);
}

void lead_elsewhere(hid_t file, const std::string& path, const std::string& other, Draws& draws) {
  static const std::vector<std::string> files{
      "result.h5", "../x.h5", "/dev/null", "result_parts_1/facts.h5", "result_parts_1/state_000000.h5", ""};
  if (draws.once_in(3))
    H5Lcreate_hard(file, other.c_str(), file, path.c_str(), H5P_DEFAULT, H5P_DEFAULT);
  else if (draws.once_in(2))
    H5Lcreate_soft(draws.once_in(2) ? other.c_str() : path.c_str(), file, path.c_str(), H5P_DEFAULT,
                   H5P_DEFAULT);
  else
    H5Lcreate_external(draws.one_of(files).c_str(), other.c_str(), file, path.c_str(), H5P_DEFAULT,
                       H5P_DEFAULT);
}

void put_group(hid_t file, const std::string& path) {
  const hid_t group = H5Gcreate2(file, path.c_str(), H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT);
  if (group >= 0) H5Gclose(group);
}

/// Lets a reading be refused in words, and nothing else go wrong.
void allow_refusal(const std::function<void()>& read) {
  try {
    read();
  } catch (const StoreError& error) {
    require_plain(error.what());
  }
}

}  // namespace

std::vector<std::string> paths_in(const std::filesystem::path& file) {
  std::vector<std::string> paths;
  const hid_t open = H5Fopen(file.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT);
  require(open >= 0 && H5Ovisit(open, H5_INDEX_NAME, H5_ITER_INC, note_path, &paths) >= 0,
          "a store made here opens");
  H5Fclose(open);
  return paths;
}

void change_store(hid_t file, const std::vector<std::string>& paths, Draws& draws) {
  const std::string& path = draws.one_of(paths);
  const std::size_t kind = draws.below(8);
  if (kind < 3) return change_number(file, path, draws);
  if (kind < 4) return change_attribute(file, path, draws);
  H5Ldelete(file, path.c_str(), H5P_DEFAULT);
  if (kind == 4) put_group(file, path);
  if (kind == 5) put_list(file, path, draws);
  if (kind == 6) lead_elsewhere(file, path, draws.one_of(paths), draws);
}

void check_store(const std::filesystem::path& store) {
  const bool sound = is_result(store);
  bool read = false;
  allow_refusal([&] {
    const Result result = read_result(store);
    read = true;
    require(result.grid.cells() > 0, "a result that is read has cells");
    for (const Picture& picture : result.pictures) require(picture.z.size() >= 2, "a picture has layers");
  });
  require(sound || !read, "what is no result is not read");
  allow_refusal([&] {
    const std::size_t count = state_times(store).size();
    for (std::size_t n = 0; n <= count; ++n) allow_refusal([&] { read_state(store, n); });
  });
}

}  // namespace updraught::fuzz
