#include "cases/terminal/diagnostics.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "post/words/plain_text.h"

namespace updraught {

std::string printable(std::string_view text) {
  std::string shown;
  for (std::size_t n = 0; n < text.size(); ++n) {
    auto code = static_cast<unsigned char>(text[n]);
    // U+0080 to U+009F are control characters too, two bytes each.
    const bool second =
        code == 0xc2 && n + 1 < text.size() && (static_cast<unsigned char>(text[n + 1]) & 0xe0u) == 0x80u;
    if (second) code = static_cast<unsigned char>(text[++n]);
    if (second || code < 0x20 || code == 0x7f)
      shown += fmt::format("\\x{:02x}", code);
    else
      shown += text[n];
  }
  return plain_text(shown);
}

std::string shortened(std::string_view text, std::size_t letters) {
  std::size_t end = 0;
  for (std::size_t seen = 0; end < text.size(); ++end) {
    const bool begins_letter = (static_cast<unsigned char>(text[end]) & 0xc0u) != 0x80u;
    if (begins_letter && ++seen > letters) return std::string(text.substr(0, end)) + "...";
  }
  return std::string(text);
}

std::string to_text(const Diagnostic& diagnostic) {
  constexpr std::size_t longest_key = 120;
  std::string text = diagnostic.file;
  if (diagnostic.line > 0) text += fmt::format(":{}:{}", diagnostic.line, diagnostic.column);
  text += ": ";
  if (!diagnostic.key.empty()) text += shortened(diagnostic.key, longest_key) + ": ";
  text += diagnostic.problem;
  if (!diagnostic.hint.empty()) text += " " + diagnostic.hint;
  return printable(text);
}

std::string to_text(const std::vector<Diagnostic>& diagnostics) {
  std::string text;
  for (const Diagnostic& diagnostic : diagnostics) text += to_text(diagnostic) + "\n";
  return text;
}

void sort_by_place(std::vector<Diagnostic>& diagnostics) {
  std::stable_sort(diagnostics.begin(), diagnostics.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
}

}  // namespace updraught
