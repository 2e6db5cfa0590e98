// Cases for the tests of the reader: the starter's lines, and the same with one line changed.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>

#include "cases/reader/read_case.h"

namespace updraught::reader_tests {

/// A small sound case, one key a line, so that tests know the line numbers.
inline std::string sound_case() {
  return "question = \"Will the middle get air?\"\n"                                               // 1
         "bin = { shape = \"box\", width = \"0.9 m\", length = \"0.9 m\", height = \"1.0 m\" }\n"  // 2
         "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"                                    // 3
         "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.20 } ]\n"                       // 4
         "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"                    // 5
         "fill = [ { what = \"vegetable scraps (raw)\", buckets = 3 }, { what = \"woodchip, coarse\", "
         "buckets = 2 } ]\n"                          // 6
         "depth = \"0.6 m\"\n"                        // 7
         "outside = { temperature = \"8 degC\" }\n";  // 8
}

/// The sound case with every line that begins with `key` replaced; an empty line takes the key out.
inline std::string with_line(const std::string& key, const std::string& line) {
  std::string text;
  std::string rest = sound_case();
  while (!rest.empty()) {
    const std::size_t end = rest.find('\n');
    const std::string old = rest.substr(0, end);
    text += (old.rfind(fmt::format("{} =", key), 0) == 0 ? line : old) + "\n";
    rest = rest.substr(end + 1);
  }
  return text;
}

/// The sound case with lines added at its end (from line 9 on).
inline std::string with_added(const std::string& lines) {
  return sound_case() + lines + "\n";
}

/// A case that must be right.
inline ReadCase read_sound(const std::string& text, const Overrides& overrides = {}) {
  ReadOutcome outcome = read_case_text(text, "folder/box.toml", overrides);
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes) << text;
  return outcome.read.value_or(ReadCase{});
}

/// A bed without a recipe, everything prescribed.
inline std::string prescribed_case() {
  return "bin = { shape = \"box\", width = \"1 m\", height = \"1 m\" }\n"
         "mode = \"slice\"\n"
         "lid = \"on the bed\"\n"
         "prescribed = { permeability = \"1e-8 m2\", porosity = 0.4, density = \"600 kg/m3\", conductivity = "
         "\"0.4 W/mK\", "
         "heat_capacity = \"3000 J/kgK\", diffusivity = \"5e-6 m2/s\" }\n";
}

}  // namespace updraught::reader_tests
