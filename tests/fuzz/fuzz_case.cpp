// Case files: any text, most of them TOML whose keys and values are almost right.
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>
#include <vector>

#include "tests/fuzz/check_case.h"
#include "tests/made_cases/edit_case.h"
#include "tests/made_cases/key_rules.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

using namespace updraught;
using made_cases::Draws;

std::string text_in(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// Hands a text to the fuzzer; 0 when it is too long.
std::size_t hand_back(const std::string& text, std::uint8_t* data, std::size_t most) {
  if (text.size() > most) return 0;
  std::memcpy(data, text.data(), text.size());
  return text.size();
}

/// What the command line lays over a case, told by the text itself so that a text always reads the same.
Overrides overrides_for(const std::string& text) {
  std::uint64_t sum = text.size();
  for (const char letter : text) sum = sum * 31 + static_cast<unsigned char>(letter);
  Draws draws(sum);
  Overrides over;
  if (!draws.once_in(4)) return over;
  static const std::vector<std::string> places{"bin.width",       "air_in[1].size",
                                               "air_out[2].kind", "walls[1].of",
                                               "fill[1].what",    "layers[1].fill[1].buckets",
                                               "lid.drip",        "feedstocks.straw.like",
                                               "cells[3]",        "x[1].y"};
  static const std::vector<std::string> details{"quick", "usual", "careful"},
      modes{"whole", "rings", "slice"};
  if (draws.once_in(2)) put(over, "detail", draws.one_of(details));
  if (draws.once_in(3)) put(over, "mode", draws.one_of(modes));
  if (draws.once_in(2)) put(over, "woodchip_share", case_text(0.01 * static_cast<double>(draws.below(101))));
  if (draws.once_in(4)) put(over, "wall_gap", case_text(0.001 * static_cast<double>(draws.below(100)), "m"));
  if (draws.once_in(4)) put(over, "days", case_text(0.0001 + static_cast<double>(draws.below(3660))));
  if (draws.once_in(4)) put(over, "laws.packing_excess_shift", "0.1");
  if (draws.once_in(2)) {
    const made_cases::KeyRule& rule = draws.one_of(made_cases::key_rules());
    put(over, draws.once_in(2) ? rule.key : draws.one_of(places), draws.one_of(rule.values));
  }
  return over;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text = text_in(data, size);
  fuzz::checked_reading(text, overrides_for(text));
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                               unsigned seed) {
  Draws draws(seed);
  auto tree = draws.once_in(12) ? std::nullopt : made_cases::tree_of(text_in(data, size));
  if (!tree) return LLVMFuzzerMutate(data, size, most);
  for (std::size_t n = 1 + draws.below(4); n > 0; --n) made_cases::change(*tree, draws);
  const std::size_t made = hand_back(made_cases::text_of(*tree), data, most);
  return made > 0 ? made : LLVMFuzzerMutate(data, size, most);
}

extern "C" std::size_t LLVMFuzzerCustomCrossOver(const std::uint8_t* one, std::size_t one_size,
                                                 const std::uint8_t* other, std::size_t other_size,
                                                 std::uint8_t* out, std::size_t most, unsigned seed) {
  auto tree = made_cases::tree_of(text_in(one, one_size));
  const auto giving = made_cases::tree_of(text_in(other, other_size));
  if (!tree || !giving) return 0;
  Draws draws(seed);
  made_cases::graft(*tree, *giving, draws);
  return hand_back(made_cases::text_of(*tree), out, most);
}
