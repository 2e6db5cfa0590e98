// The Problem in the store: every member of every struct in it comes back.
#include <gtest/gtest.h>

#include "post/store/store_read.h"
#include "post/store/store_write.h"
#include "tests/unit/compare_results.h"

namespace updraught {
namespace {

using namespace made_up;

/// Puts a value of its own into every member, one into every optional member and two into every list.
class Scramble {
 public:
  template <class Value>
  void fill(Value& value) {
    if constexpr (layout::Listed<Value>) {
      layout::members(value, [this](const char*, const char*, auto& member) { fill(member); });
    } else if constexpr (std::is_same_v<Value, bool>) {
      value = !value;
    } else if constexpr (std::is_enum_v<Value>) {
      value = static_cast<Value>(next_++ % static_cast<int>(layout::words(Value{}).size()));
    } else if constexpr (std::is_same_v<Value, std::string>) {
      value = "word " + std::to_string(next_++);
    } else if constexpr (requires { value.emplace(); }) {
      fill(value.emplace());
    } else if constexpr (requires { value.begin(); }) {
      if constexpr (requires { value.resize(2); }) value.resize(2);
      for (auto& one : value) fill(one);
    } else {
      value = static_cast<Value>(1 + next_++) * static_cast<Value>(1.0 / 3.0 + 1.0);
    }
  }

 private:
  int next_ = 0;
};

Problem after_store(const Problem& problem) {
  const Folder folder;
  const Grid g = grid();
  StoreFacts known = facts(g);
  known.problem = problem;
  StoreWriter writer(folder.path(), known);
  const Picture p = picture(g, 0.0);
  writer.write_time(state(g, 0.0), g, &p, row(0.0));
  writer.finish(ended(2));
  return read_result(folder / "result.h5").problem;
}

TEST(StoreProblem, EveryMemberComesBack) {
  Problem problem;
  Scramble().fill(problem);
  EXPECT_EQ(problem.batches.at(1).portions.at(1).feedstock.pools[2].demand,
            after_store(problem).batches.at(1).portions.at(1).feedstock.pools[2].demand);
  EXPECT_EQ(digest(after_store(problem)), digest(problem));
}

TEST(StoreProblem, WhatIsEmptyStaysEmpty) {
  const Problem plain;
  const Problem back = after_store(plain);
  EXPECT_EQ(digest(back), digest(plain));
  EXPECT_FALSE(back.constant_air || back.prescribed.heat || back.planted_leak || back.hold_temperature);
}

/// A struct with a member more than its list would not compile; so much is asked here of what tells them.
struct Three {
  double first = 0.0;
  std::vector<double> second;
  std::optional<double> third;
};
static_assert(layout::AllMembers<Three, double, std::vector<double>, std::optional<double>>);
static_assert(!layout::AllMembers<Three, double, std::vector<double>>, "the optional one is missing");
static_assert(!layout::AllMembers<Three, double>, "two are missing");
static_assert(!layout::AllMembers<Three, std::vector<double>, double, std::optional<double>>, "the order");

}  // namespace
}  // namespace updraught
