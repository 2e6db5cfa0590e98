// For a struct one list of its members, so that what is written, read, compared and interpolated cannot drift
// apart: a struct that gains a member, or whose members change places, no longer compiles until its list has
// them too.
#pragma once

#include <cstddef>
#include <optional>
#include <tuple>
#include <type_traits>
#include <utility>

namespace updraught::layout {

/// A member that every loop over the list visits.
template <class Struct, class Value>
struct Member {
  const char* name;
  const char* unit;  ///< SI or as shown; "1" of bare numbers, "" of words and structs
  Value Struct::*place;
};

/// A member that is in the struct and not in the loops, since whoever needs it deals with it alone.
template <class Struct, class Value>
struct Apart {
  Value Struct::*place;
};

template <class Struct, class Value>
constexpr Member<Struct, Value> member(const char* name, const char* unit, Value Struct::*place) {
  return {name, unit, place};
}

template <class Struct, class Value>
constexpr Apart<Struct, Value> apart(Value Struct::*place) {
  return {place};
}

/// What any member but an optional one can be made from; to ask for one member too many.
struct Anything {
  template <class Value>
  operator Value() const;  // NOLINT(google-explicit-constructor): it must convert by itself
};

/// Whether these types are those of all members of a struct, in their order.
template <class Struct, class... Values>
concept AllMembers = requires {
  Struct{std::declval<Values>()...};
}
&&!requires {
  Struct{std::declval<Values>()..., Anything{}};
}
&&!requires {
  Struct{std::declval<Values>()..., std::nullopt};
};

/// The list of a struct, from its members in their order.
template <class Struct, class... Values, template <class, class> class... Kinds>
constexpr auto all_members(Kinds<Struct, Values>... entries) {
  static_assert(AllMembers<Struct, Values...>, "the list lacks a member of the struct");
  return std::tuple{entries...};
}

/// The list of each struct that has one; specialised in members.h and problem_members.h.
template <class Struct>
inline constexpr std::nullptr_t list_of{};

template <class Struct>
concept Listed = !std::is_same_v<decltype(list_of<std::remove_const_t<Struct>>), const std::nullptr_t>;

/// Calls visit(name, unit, member) for every member in the list that does not stand apart.
template <class Struct, class Visit>
requires Listed<Struct>
void members(Struct& object, const Visit& visit) {
  const auto one =
      [&]<template <class, class> class Kind, class Owner, class Value>(const Kind<Owner, Value>& entry) {
        if constexpr (std::is_same_v<Kind<Owner, Value>, Member<Owner, Value>>)
          visit(entry.name, entry.unit, object.*entry.place);
      };
  std::apply([&](const auto&... entries) { (one(entries), ...); }, list_of<std::remove_const_t<Struct>>);
}

}  // namespace updraught::layout
