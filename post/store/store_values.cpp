#include "post/store/store_values.h"

#include <fmt/format.h>

#include <functional>
#include <numeric>

#include "post/store/store_guard.h"

namespace updraught::layout {

namespace {

/// Lists shorter than this are stored as they are: chunks would cost more than they save.
constexpr hsize_t plain_length = 4096;
/// Entries in a chunk at most; a chunk is a whole number of the slowest direction's slabs where they are that
/// short.
constexpr hsize_t chunk_length = 65536;
/// Higher levels take several times as long for a few percent.
constexpr int deflate_level = 1;

H5::StrType text_type() {
  H5::StrType type(H5::PredType::C_S1, H5T_VARIABLE);
  type.setCset(H5T_CSET_UTF8);
  return type;
}

/// Chunk that keeps the fast directions whole as far as they fit.
std::vector<hsize_t> chunk_of(const std::vector<hsize_t>& shape) {
  std::vector<hsize_t> chunk(shape.size(), 1);
  hsize_t room = chunk_length;
  for (std::size_t d = shape.size(); d-- > 0;) {
    chunk[d] = std::max<hsize_t>(1, std::min(shape[d], room));
    room = std::max<hsize_t>(1, room / chunk[d]);
  }
  return chunk;
}

void put_numbers(H5::Group& group, const std::string& name, const std::string& unit, const void* values,
                 std::size_t length, std::vector<hsize_t> shape, const H5::PredType& in_memory,
                 const H5::PredType& in_file, Packing packing = Packing::deflated) {
  if (shape.empty()) shape = {length};
  const hsize_t product = std::accumulate(shape.begin(), shape.end(), hsize_t{1}, std::multiplies<>());
  if (product != length)
    throw std::invalid_argument(fmt::format("{} does not have the shape it should", name));
  H5::DSetCreatPropList how;
  if (length >= plain_length && packing == Packing::deflated) {
    const std::vector<hsize_t> chunk = chunk_of(shape);
    how.setChunk(static_cast<int>(chunk.size()), chunk.data());
    how.setShuffle();
    how.setDeflate(deflate_level);
  }
  const H5::DataSpace space(static_cast<int>(shape.size()), shape.data());
  H5::DataSet set = group.createDataSet(name, in_file, space, how);
  if (length > 0) set.write(values, in_memory);
  put_attribute(set, "unit", unit);
}

void put_number(H5::Group& group, const std::string& name, const std::string& unit, const void* value,
                const H5::PredType& in_memory, const H5::PredType& in_file) {
  H5::DataSet set = group.createDataSet(name, in_file, H5::DataSpace(H5S_SCALAR));
  set.write(value, in_memory);
  put_attribute(set, "unit", unit);
}

std::size_t length_of(const H5::DataSet& set) {
  return static_cast<std::size_t>(set.getSpace().getSimpleExtentNpoints());
}

H5::DataSet open_numbers(const H5::Group& group, const std::string& name) {
  H5::DataSet set = group.openDataSet(name);
  const H5T_class_t kind = set.getTypeClass();
  if (kind != H5T_FLOAT && kind != H5T_INTEGER) throw StoreError(name + " does not hold numbers");
  require_held(set, name);
  return set;
}

H5::DataSet open_text(const H5::Group& group, const std::string& name) {
  H5::DataSet set = group.openDataSet(name);
  if (set.getTypeClass() != H5T_STRING || !set.getStrType().isVariableStr())
    throw StoreError(name + " does not hold text");
  require_held(set, name);
  return set;
}

template <class Number>
void get_number(const H5::Group& group, const std::string& name, Number& value, const H5::PredType& type) {
  const H5::DataSet set = open_numbers(group, name);
  if (length_of(set) != 1) throw StoreError(name + " does not hold one number");
  set.read(&value, type);
}

template <class Number>
void get_numbers(const H5::Group& group, const std::string& name, std::vector<Number>& values,
                 const H5::PredType& type) {
  const H5::DataSet set = open_numbers(group, name);
  values.resize(length_of(set));
  if (!values.empty()) set.read(values.data(), type);
}

}  // namespace

void put(H5::Group& group, const std::string& name, const std::string& unit, double value) {
  put_number(group, name, unit, &value, H5::PredType::NATIVE_DOUBLE, H5::PredType::IEEE_F64LE);
}

void put(H5::Group& group, const std::string& name, const std::string& unit, int value) {
  put_number(group, name, unit, &value, H5::PredType::NATIVE_INT, H5::PredType::STD_I32LE);
}

void put(H5::Group& group, const std::string& name, const std::string& unit, bool value) {
  put(group, name, unit, value ? 1 : 0);
}

void put(H5::Group& group, const std::string& name, const std::string& /*unit*/, const std::string& value) {
  const H5::StrType type = text_type();
  group.createDataSet(name, type, H5::DataSpace(H5S_SCALAR)).write(value, type);
}

void put(H5::Group& group, const std::string& name, const std::string& /*unit*/,
         const std::vector<std::string>& value) {
  const H5::StrType type = text_type();
  const hsize_t length = value.size();
  H5::DataSet set = group.createDataSet(name, type, H5::DataSpace(1, &length));
  if (value.empty()) return;
  std::vector<const char*> lines;
  lines.reserve(value.size());
  for (const std::string& line : value) lines.push_back(line.c_str());
  set.write(static_cast<const void*>(lines.data()), type);
}

void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<double>& value,
         std::vector<hsize_t> shape, Packing packing) {
  put_numbers(group, name, unit, value.data(), value.size(), std::move(shape), H5::PredType::NATIVE_DOUBLE,
              H5::PredType::IEEE_F64LE, packing);
}

void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<float>& value,
         std::vector<hsize_t> shape) {
  put_numbers(group, name, unit, value.data(), value.size(), std::move(shape), H5::PredType::NATIVE_FLOAT,
              H5::PredType::IEEE_F32LE);
}

void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<int>& value) {
  put_numbers(group, name, unit, value.data(), value.size(), {}, H5::PredType::NATIVE_INT,
              H5::PredType::STD_I32LE);
}

bool is_plain_list(const H5::Group& group, const std::string& name) {
  if (group.childObjType(name) != H5O_TYPE_DATASET) return false;
  const H5::DataSet set = group.openDataSet(name);
  return set.getTypeClass() == H5T_FLOAT && length_of(set) >= plain_length &&
         set.getCreatePlist().getLayout() == H5D_CONTIGUOUS;
}

void deflate(const H5::Group& from, const std::string& name, H5::Group& to) {
  std::vector<double> values;
  get(from, name, values);
  const H5::DataSet set = from.openDataSet(name);
  const H5::DataSpace space = set.getSpace();
  std::vector<hsize_t> shape(static_cast<std::size_t>(space.getSimpleExtentNdims()));
  space.getSimpleExtentDims(shape.data());
  put(to, name, text_attribute(set, "unit"), values, shape);
}

void put_attribute(H5::H5Object& object, const std::string& name, const std::string& value) {
  const H5::StrType type = text_type();
  object.createAttribute(name, type, H5::DataSpace(H5S_SCALAR)).write(type, value);
}

void put_attribute(H5::H5Object& object, const std::string& name, int value) {
  object.createAttribute(name, H5::PredType::STD_I32LE, H5::DataSpace(H5S_SCALAR))
      .write(H5::PredType::NATIVE_INT, &value);
}

void get(const H5::Group& group, const std::string& name, double& value) {
  get_number(group, name, value, H5::PredType::NATIVE_DOUBLE);
}

void get(const H5::Group& group, const std::string& name, int& value) {
  get_number(group, name, value, H5::PredType::NATIVE_INT);
}

void get(const H5::Group& group, const std::string& name, bool& value) {
  int number = 0;
  get(group, name, number);
  value = number != 0;
}

void get(const H5::Group& group, const std::string& name, std::string& value) {
  const H5::DataSet set = open_text(group, name);
  if (length_of(set) != 1) throw StoreError(name + " does not hold one text");
  set.read(value, text_type());
}

void get(const H5::Group& group, const std::string& name, std::vector<std::string>& value) {
  const H5::DataSet set = open_text(group, name);
  std::vector<char*> lines(length_of(set), nullptr);
  value.clear();
  if (lines.empty()) return;
  const H5::StrType type = text_type();
  set.read(static_cast<void*>(lines.data()), type);
  for (const char* line : lines) value.emplace_back(line == nullptr ? "" : line);
  H5Dvlen_reclaim(type.getId(), set.getSpace().getId(), H5P_DEFAULT, static_cast<void*>(lines.data()));
}

void get(const H5::Group& group, const std::string& name, std::vector<double>& value) {
  get_numbers(group, name, value, H5::PredType::NATIVE_DOUBLE);
}

void get(const H5::Group& group, const std::string& name, std::vector<float>& value) {
  get_numbers(group, name, value, H5::PredType::NATIVE_FLOAT);
}

void get(const H5::Group& group, const std::string& name, std::vector<int>& value) {
  get_numbers(group, name, value, H5::PredType::NATIVE_INT);
}

void get(const H5::Group& group, const std::string& name, std::optional<double>& value) {
  value.reset();
  if (!group.nameExists(name)) return;
  double number = 0.0;
  get(group, name, number);
  value = number;
}

namespace {

/// The library writes as many values as there are, however many there is room for.
void require_one(const H5::Attribute& attribute, const std::string& name) {
  if (attribute.getSpace().getSimpleExtentNpoints() != 1) throw StoreError(name + " does not hold one value");
}

}  // namespace

std::string text_attribute(const H5::H5Object& object, const std::string& name) {
  const H5::Attribute attribute = object.openAttribute(name);
  require_one(attribute, name);
  if (attribute.getTypeClass() != H5T_STRING) throw StoreError(name + " does not hold text");
  std::string value;
  attribute.read(attribute.getStrType(), value);
  return value;
}

int number_attribute(const H5::H5Object& object, const std::string& name) {
  int value = 0;
  const H5::Attribute attribute = object.openAttribute(name);
  require_one(attribute, name);
  attribute.read(H5::PredType::NATIVE_INT, &value);
  return value;
}

std::vector<std::string> names_in(const H5::Group& group) {
  std::vector<std::string> names;
  for (hsize_t n = 0; n < group.getNumObjs(); ++n) names.push_back(group.getObjnameByIdx(n));
  std::sort(names.begin(), names.end());
  return names;
}

std::string numbered(std::size_t n) {
  return fmt::format("{:06}", n);
}

}  // namespace updraught::layout
