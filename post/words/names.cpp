#include "post/words/names.h"

#include <algorithm>
#include <array>

namespace updraught {

namespace {

constexpr std::array<std::string_view, 6> bare{"", "1", "index", "m2/m2", "m3/m3", "kg/kg"};

bool plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

/// Letters and digits as they are, a per cent sign as a word, all else as one underscore.
std::string safe(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (plain(c))
      out += c;
    else if (c == '%')
      out += "percent";
    else if (!out.empty() && out.back() != '_')
      out += '_';
  }
  while (!out.empty() && out.back() == '_') out.pop_back();
  return out;
}

}  // namespace

std::string with_unit(std::string_view name, std::string_view unit) {
  std::string start = safe(name);
  if (std::find(bare.begin(), bare.end(), unit) != bare.end()) return start;
  std::string end = safe(unit);
  const std::size_t last = end.rfind('_');
  if (last != std::string::npos && start.ends_with(end.substr(last))) end.resize(last);
  return end.empty() ? start : start + "_" + end;
}

}  // namespace updraught
