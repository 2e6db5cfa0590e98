#include "cases/text/key_path.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace updraught {

namespace {

bool bare(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

/// Takes a name from the front of a text, in quotes or not; empty when there is none.
std::string take_name(std::string_view& text) {
  std::string name;
  if (!text.starts_with('"')) {
    while (!text.empty() && bare(text.front())) {
      name += text.front();
      text.remove_prefix(1);
    }
    return name;
  }
  for (std::size_t n = 1; n < text.size(); ++n) {
    if (text[n] == '"') {
      text.remove_prefix(n + 1);
      return name;
    }
    const bool marked = text[n] == '\\' && n + 1 < text.size() && (text[n + 1] == '"' || text[n + 1] == '\\');
    name += text[marked ? ++n : n];
  }
  return {};
}

/// Takes "[12]" from the front of a text; 0 when it is none.
std::size_t take_entry(std::string_view& text) {
  std::size_t entry = 0;
  const char* end = text.data() + text.size();
  const auto [stop, problem] = std::from_chars(text.data() + 1, end, entry);
  if (problem != std::errc() || stop == end || *stop != ']') return 0;
  text.remove_prefix(static_cast<std::size_t>(stop + 1 - text.data()));
  return entry;
}

}  // namespace

std::optional<KeyPath> key_path(std::string_view text) {
  KeyPath path;
  do {
    if (!path.empty()) text.remove_prefix(1);  // the dot
    std::string name = take_name(text);
    if (name.empty()) return {};
    path.push_back({std::move(name)});
    while (text.starts_with('[')) {
      const std::size_t entry = take_entry(text);
      if (entry == 0) return {};
      path.push_back({"", entry});
    }
  } while (text.starts_with('.'));
  return text.empty() ? std::optional(path) : std::nullopt;
}

std::string path_name(std::string_view name) {
  if (!name.empty() && std::all_of(name.begin(), name.end(), bare)) return std::string(name);
  std::string quoted = "\"";
  for (const char c : name) {
    if (c == '"' || c == '\\') quoted += '\\';
    quoted += c;
  }
  return quoted + '"';
}

std::string to_text(const KeyPath& path) {
  std::string text;
  for (const KeyStep& step : path) {
    if (step.entry > 0)
      text += fmt::format("[{}]", step.entry);
    else
      text += fmt::format("{}{}", text.empty() ? "" : ".", path_name(step.name));
  }
  return text;
}

bool holds(const KeyPath& whole, const KeyPath& part) {
  return whole.size() <= part.size() && std::equal(whole.begin(), whole.end(), part.begin());
}

}  // namespace updraught
