#include "cases/diagnostics.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace updraught {

std::string to_text(const Diagnostic& diagnostic) {
  std::string text = diagnostic.file;
  if (diagnostic.line > 0) text += fmt::format(":{}:{}", diagnostic.line, diagnostic.column);
  text += ": ";
  if (!diagnostic.key.empty()) text += diagnostic.key + ": ";
  text += diagnostic.problem;
  if (!diagnostic.mend.empty()) text += " " + diagnostic.mend;
  return text;
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
