#include "cases/terminal/diagnostics.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace updraught {

std::string printable(std::string_view text) {
  std::string shown;
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (code < 0x20 || code == 0x7f)
      shown += fmt::format("\\x{:02x}", code);
    else
      shown += c;
  }
  return shown;
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
  if (!diagnostic.mend.empty()) text += " " + diagnostic.mend;
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
