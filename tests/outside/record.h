// Checks against values from outside the project. Each asserts, prints one line, and adds one line to the
// file named by UPDRAUGHT_CHECKS_FILE (if set), from which docs/checks.md is written. The test suite's name
// is the section.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

namespace updraught::outside {

/// How closely a computed value must meet the published one.
struct Hold {
  enum class Kind { relative, absolute, show } kind;
  double amount;

  static Hold relative(double share) { return {Kind::relative, share}; }
  static Hold absolute(double difference) { return {Kind::absolute, difference}; }
  /// A miss of more than the share that is asked for is printed and kept, and does not fail.
  static Hold show(double asked = 0.1) { return {Kind::show, asked}; }
};

inline std::string number(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

inline std::string words(const Hold& hold) {
  if (hold.kind == Hold::Kind::relative) return number(100.0 * hold.amount) + " %";
  if (hold.kind == Hold::Kind::absolute) return number(hold.amount);
  return "show, a miss beyond " + number(100.0 * hold.amount) + " %";
}

/// One line of the record: section, what, computed, published, deviation, hold, source, mark, ok
/// (tab-separated).
inline void write_record(const std::string& what, const std::string& computed, const std::string& published,
                         const std::string& deviation, const std::string& hold, const std::string& source,
                         const std::string& mark, bool ok) {
  const std::string section = testing::UnitTest::GetInstance()->current_test_info()->test_suite_name();
  std::printf("%s: %s: computed %s, published %s, deviation %s, hold %s (%s, %s)%s\n", section.c_str(),
              what.c_str(), computed.c_str(), published.c_str(), deviation.c_str(), hold.c_str(),
              source.c_str(), mark.c_str(), ok ? "" : " MISS");
  const char* const path = std::getenv("UPDRAUGHT_CHECKS_FILE");
  if (!path) return;
  std::ofstream file(path, std::ios::app);
  const std::string line = section + "\t" + what + "\t" + computed + "\t" + published + "\t" + deviation +
                           "\t" + hold + "\t" + source + "\t" + mark + "\t" + (ok ? "yes" : "no") + "\n";
  file << line << std::flush;
  EXPECT_TRUE(file.good()) << "cannot write " << path;
}

/// A published value.
inline void record_check(const std::string& what, double computed, double published, const Hold& hold,
                         const std::string& source, const std::string& mark) {
  const double miss = computed - published;
  const double scale = std::abs(published) > 0.0 ? std::abs(published) : 1.0;
  const double allowed = hold.kind == Hold::Kind::absolute ? hold.amount : hold.amount * scale;
  const bool ok = std::abs(miss) <= allowed;
  const std::string deviation =
      hold.kind == Hold::Kind::absolute ? number(miss) : number(100.0 * miss / scale) + " %";
  write_record(what, number(computed), number(published), deviation, words(hold), source, mark, ok);
  if (hold.kind != Hold::Kind::show) {
    EXPECT_TRUE(ok) << what << ": computed " << computed << ", published " << published;
  }
}

/// A published range. `must` false: shown only.
inline void record_range(const std::string& what, double computed, double low, double high, bool must,
                         const std::string& source, const std::string& mark) {
  const bool ok = computed >= low && computed <= high;
  const double miss = computed < low ? computed - low : computed > high ? computed - high : 0.0;
  write_record(what, number(computed), number(low) + " to " + number(high), number(miss),
               must ? "range" : "show", source, mark, ok);
  if (must) {
    EXPECT_TRUE(ok) << what << ": computed " << computed << ", published " << low << " to " << high;
  }
}

/// A published behaviour: which way something goes. `computed` and `published` say it in words.
inline void record_sign(const std::string& what, bool ok, const std::string& computed,
                        const std::string& published, const std::string& source, const std::string& mark) {
  write_record(what, computed, published, ok ? "none" : "wrong way", "sign", source, mark, ok);
  EXPECT_TRUE(ok) << what << ": " << computed;
}

}  // namespace updraught::outside
