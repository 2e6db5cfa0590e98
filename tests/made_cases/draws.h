// Numbers that look drawn by lot and are the same on every machine for the same start.
#pragma once

#include <cstddef>
#include <cstdint>

namespace updraught::made_cases {

/// The generator "splitmix64" (Steele, Lea and Flood 2014, from memory): any start will do.
class Draws {
 public:
  explicit Draws(std::uint64_t start) : at_(start) {}

  std::uint64_t next() {
    at_ += 0x9e3779b97f4a7c15ULL;
    std::uint64_t mixed = at_;
    mixed = (mixed ^ (mixed >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    mixed = (mixed ^ (mixed >> 27U)) * 0x94d049bb133111ebULL;
    return mixed ^ (mixed >> 31U);
  }

  /// A number from 0 to `count` - 1; `count` from 1.
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(next() % count); }
  /// True once in so many times.
  bool once_in(std::size_t times) { return below(times) == 0; }
  /// One entry of a list that holds some.
  template <class List>
  const auto& one_of(const List& list) {
    return list[below(list.size())];
  }

 private:
  std::uint64_t at_;
};

}  // namespace updraught::made_cases
