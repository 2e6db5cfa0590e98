#include "cases/terminal/nearest.h"

#include <algorithm>
#include <cctype>

namespace updraught {
namespace {

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return result;
}

bool holds(const std::string& longer, const std::string& shorter) {
  constexpr std::size_t least_letters = 4;
  return shorter.size() >= least_letters && longer.find(shorter) != std::string::npos;
}

}  // namespace

std::size_t edit_distance(std::string_view first, std::string_view second) {
  const std::string a = lower(first);
  const std::string b = lower(second);
  // Three rows of the table are enough: a swap looks two rows back.
  std::vector<std::size_t> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t wrong = a[i - 1] == b[j - 1] ? 0 : 1;
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + wrong});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, above);
    std::swap(above, row);
  }
  return above[b.size()];
}

std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& candidates) {
  // A mistyped file may hold a word as long as the file itself; no known word is that long.
  constexpr std::size_t longest_word = 80;
  if (word.empty() || word.size() > longest_word) return std::nullopt;
  std::optional<std::string> best;
  std::size_t best_slips = std::max<std::size_t>(1, word.size() / 3) + 1;
  for (const std::string& candidate : candidates) {
    const std::size_t slips = edit_distance(word, candidate);
    if (slips < best_slips) {
      best_slips = slips;
      best = candidate;
    }
  }
  if (best) return best;
  const std::string small = lower(word);
  for (const std::string& candidate : candidates) {
    const std::string other = lower(candidate);
    if (holds(other, small) || holds(small, other)) return candidate;
  }
  return std::nullopt;
}

}  // namespace updraught
