// Single values and lists in the groups of a store. Every number carries its unit as an attribute of its
// dataset.
#pragma once

#include <H5Cpp.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "post/result/members.h"
#include "post/result/problem_members.h"
#include "post/store/store_layout.h"

namespace updraught::layout {

/// How long lists are written: deflated, or as they are, which takes more room and a tenth of the time.
enum class Packing { deflated, plain };

// Writing. Numbers are IEEE little-endian; lists above a few thousand entries are chunked, shuffled and
// deflated unless told otherwise. `shape` is the number of entries in each direction, the last one fastest;
// its product is the list's length.

void put(H5::Group& group, const std::string& name, const std::string& unit, double value);
void put(H5::Group& group, const std::string& name, const std::string& unit, int value);
void put(H5::Group& group, const std::string& name, const std::string& unit, bool value);
void put(H5::Group& group, const std::string& name, const std::string& unit, const std::string& value);
void put(H5::Group& group, const std::string& name, const std::string& unit,
         const std::vector<std::string>& value);
void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<double>& value,
         std::vector<hsize_t> shape = {}, Packing packing = Packing::deflated);
void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<float>& value,
         std::vector<hsize_t> shape = {});
void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<int>& value);

/// Would silently become a truth value; pass a std::string.
void put(H5::Group& group, const std::string& name, const std::string& unit, const char* value) = delete;

/// Nothing is written for an empty value.
inline void put(H5::Group& group, const std::string& name, const std::string& unit,
                const std::optional<double>& value) {
  if (value) put(group, name, unit, *value);
}

/// A choice, as its word.
template <class Choice>
requires std::is_enum_v<Choice>
void put(H5::Group& group, const std::string& name, const std::string& unit, Choice value) {
  put(group, name, unit, std::string(words(value).at(static_cast<std::size_t>(value))));
}

/// Name of the n-th member of a numbered group, so that names sort like numbers.
std::string numbered(std::size_t n);

// A struct is a group with its members by the names in its list, several are a group of numbered groups.

template <Listed Struct>
void put(H5::Group& group, const std::string& name, const std::string& unit, const Struct& object);
template <Listed Struct>
void put(H5::Group& group, const std::string& name, const std::string& unit, const std::vector<Struct>& all);
template <Listed Struct, std::size_t count>
void put(H5::Group& group, const std::string& name, const std::string& unit,
         const std::array<Struct, count>& all);
template <Listed Struct>
void put(H5::Group& group, const std::string& name, const std::string& unit,
         const std::optional<Struct>& object);

/// The members of a struct, into a group that is there.
template <Listed Struct>
void put_members(H5::Group& group, const Struct& object) {
  members(object,
          [&](const char* name, const char* unit, const auto& member) { put(group, name, unit, member); });
}

template <Listed Struct>
void put(H5::Group& group, const std::string& name, const std::string& /*unit*/, const Struct& object) {
  H5::Group inside = group.createGroup(name);
  put_members(inside, object);
}

/// What is in a list or an array of structs.
template <class List>
void put_each(H5::Group& group, const std::string& name, const List& all) {
  H5::Group inside = group.createGroup(name);
  for (std::size_t n = 0; n < all.size(); ++n) put(inside, numbered(n), "", all[n]);
}

template <Listed Struct>
void put(H5::Group& group, const std::string& name, const std::string& /*unit*/,
         const std::vector<Struct>& all) {
  put_each(group, name, all);
}

template <Listed Struct, std::size_t count>
void put(H5::Group& group, const std::string& name, const std::string& /*unit*/,
         const std::array<Struct, count>& all) {
  put_each(group, name, all);
}

template <Listed Struct>
void put(H5::Group& group, const std::string& name, const std::string& unit,
         const std::optional<Struct>& object) {
  if (object) put(group, name, unit, *object);
}

/// Copies a list of numbers with its shape and unit, deflated.
void deflate(const H5::Group& from, const std::string& name, H5::Group& to);
/// Is it a list long enough to be worth deflating that is not?
bool is_plain_list(const H5::Group& group, const std::string& name);

void put_attribute(H5::H5Object& object, const std::string& name, const std::string& value);
void put_attribute(H5::H5Object& object, const std::string& name, int value);

// Reading. Throw H5::Exception when there is no such dataset or it cannot be read, StoreError when it does
// not hold what it should.

void get(const H5::Group& group, const std::string& name, double& value);
void get(const H5::Group& group, const std::string& name, int& value);
void get(const H5::Group& group, const std::string& name, bool& value);
void get(const H5::Group& group, const std::string& name, std::string& value);
void get(const H5::Group& group, const std::string& name, std::vector<std::string>& value);
void get(const H5::Group& group, const std::string& name, std::vector<double>& value);
void get(const H5::Group& group, const std::string& name, std::vector<float>& value);
void get(const H5::Group& group, const std::string& name, std::vector<int>& value);
void get(const H5::Group& group, const std::string& name, std::optional<double>& value);

template <class Choice>
requires std::is_enum_v<Choice>
void get(const H5::Group& group, const std::string& name, Choice& value) {
  std::string word;
  get(group, name, word);
  const auto list = words(Choice{});
  const auto found = std::find(list.begin(), list.end(), word);
  if (found == list.end()) throw StoreError(name + " has the unknown value \"" + word + "\"");
  value = static_cast<Choice>(found - list.begin());
}

/// Names of the members of a group, in the order of their characters.
std::vector<std::string> names_in(const H5::Group& group);

template <Listed Struct>
void get(const H5::Group& group, const std::string& name, Struct& object);
template <Listed Struct>
void get(const H5::Group& group, const std::string& name, std::vector<Struct>& all);
template <Listed Struct, std::size_t count>
void get(const H5::Group& group, const std::string& name, std::array<Struct, count>& all);
template <Listed Struct>
void get(const H5::Group& group, const std::string& name, std::optional<Struct>& object);

template <Listed Struct>
void get_members(const H5::Group& group, Struct& object) {
  members(object, [&](const char* name, const char* /*unit*/, auto& member) { get(group, name, member); });
}

template <Listed Struct>
void get(const H5::Group& group, const std::string& name, Struct& object) {
  get_members(group.openGroup(name), object);
}

template <Listed Struct>
void get(const H5::Group& group, const std::string& name, std::vector<Struct>& all) {
  const H5::Group inside = group.openGroup(name);
  all.clear();
  for (const std::string& number : names_in(inside)) get(inside, number, all.emplace_back());
}

template <Listed Struct, std::size_t count>
void get(const H5::Group& group, const std::string& name, std::array<Struct, count>& all) {
  const H5::Group inside = group.openGroup(name);
  for (std::size_t n = 0; n < count; ++n) get(inside, numbered(n), all[n]);
}

template <Listed Struct>
void get(const H5::Group& group, const std::string& name, std::optional<Struct>& object) {
  object.reset();
  if (group.nameExists(name)) get(group, name, object.emplace());
}

std::string text_attribute(const H5::H5Object& object, const std::string& name);
int number_attribute(const H5::H5Object& object, const std::string& name);

}  // namespace updraught::layout
