// Comparisons bit for bit, and what failures say, for tests of the store.
#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstring>
#include <functional>

#include "post/result/members.h"
#include "post/result/problem_members.h"
#include "post/store/store_write.h"
#include "tests/unit/made_up_result.h"
#include "tests/unit/plausible.h"

namespace updraught::made_up {

inline bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() &&
         (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
}

inline void expect_same_state(const State& a, const State& b) {
  const auto left = a.fields(), right = b.fields();
  for (std::size_t n = 0; n < left.size(); ++n)
    EXPECT_TRUE(same_bits(*left[n].values, *right[n].values)) << left[n].name;
  EXPECT_EQ(a.clock, b.clock);
}

inline void expect_same_picture(const Picture& a, const Picture& b) {
  EXPECT_EQ(a.time, b.time);
  EXPECT_TRUE(same_bits(a.z, b.z));
  ASSERT_EQ(a.fields.size(), b.fields.size());
  for (std::size_t n = 0; n < a.fields.size(); ++n) {
    EXPECT_EQ(a.fields[n].name, b.fields[n].name);
    EXPECT_EQ(a.fields[n].unit, b.fields[n].unit);
    EXPECT_EQ(a.fields[n].label, b.fields[n].label);
    EXPECT_EQ(a.fields[n].components, b.fields[n].components);
    EXPECT_EQ(a.fields[n].values, b.fields[n].values);
  }
}

/// All numbers and words of a value in one text that differs when one bit of them does.
template <class Value>
std::string digest(const Value& value) {
  std::string text;
  if constexpr (layout::Listed<Value>) {
    layout::members(value, [&](const char* name, const char*, const auto& member) {
      text += std::string(name) + "=" + digest(member) + ";";
    });
  } else if constexpr (std::is_same_v<Value, std::string>) {
    text = value;
  } else if constexpr (requires { value.has_value(); }) {
    text = value ? digest(*value) : "none";
  } else if constexpr (requires { value.begin(); }) {
    for (const auto& one : value) text += digest(one) + ",";
  } else {
    text.assign(reinterpret_cast<const char*>(&value), sizeof value);
  }
  return text;
}

inline void expect_same_series(const std::vector<SeriesRow>& a, const std::vector<SeriesRow>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t n = 0; n < a.size(); ++n) {
    EXPECT_EQ(digest(a[n]), digest(b[n]));
    EXPECT_EQ(a[n].heat_by_path, b[n].heat_by_path);
    ASSERT_EQ(a[n].openings.size(), b[n].openings.size());
    for (std::size_t o = 0; o < a[n].openings.size(); ++o) {
      EXPECT_EQ(a[n].openings[o].name, b[n].openings[o].name);
      EXPECT_EQ(a[n].openings[o].opening, b[n].openings[o].opening);
      EXPECT_EQ(digest(a[n].openings[o]), digest(b[n].openings[o]));
    }
  }
}

inline std::string message_of(const std::function<void()>& act) {
  try {
    act();
  } catch (const StoreError& error) {
    return error.what();
  }
  return "no error";
}

/// Runs `act` in a child process and hands back the message of its StoreError. A crash of the child shows as
/// "died".
inline std::string message_in_child(const std::function<void()>& act) {
  int ends[2];
  if (::pipe(ends) != 0) return "no pipe";
  const pid_t child = ::fork();
  if (child == 0) {
    const std::string message = message_of(act);
    const bool told =
        ::write(ends[1], message.data(), message.size()) == static_cast<ssize_t>(message.size());
    std::exit(told ? 0 : 1);  // by way of the libraries' own ends, where a half-closed file would crash
  }
  ::close(ends[1]);
  std::string message(4096, '\0');
  const ssize_t length = ::read(ends[0], message.data(), message.size());
  message.resize(length > 0 ? static_cast<std::size_t>(length) : 0);
  ::close(ends[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? message : "died: " + message;
}

inline QuickRuns quick() {
  return {12.5, course(0.61), beds({0.1, 1.0 / 3.0, 0.9}), MoreChips{0.4, 0.5, 1.7, 0.6, 0.2}};
}

inline void write_all(const Folder& folder, int times, KeptStates kept = KeptStates::first_and_last) {
  const Grid g = grid();
  StoreWriter writer(folder.path(), facts(g), kept);
  for (int n = 0; n < times; ++n) {
    const Picture p = picture(g, 3600.0 * n + 1.0);
    writer.write_time(state(g, 3600.0 * n), g, &p, row(3600.0 * n));
  }
  const std::vector<DayBands> bands{{{"hottest_c", {58.0, 66.0}}},
                                    {{"hottest_c", {59.0, 67.0}}, {"height_m", {0.6, 0.7}}}};
  Result end = ended(9, bands, {"Most of the bed gets air.", "Still air outside."});
  end.quick = quick();
  writer.finish(end);
}

inline void expect_contains(const std::string& text, const std::string& part) {
  EXPECT_NE(text.find(part), std::string::npos) << text;
}

}  // namespace updraught::made_up
