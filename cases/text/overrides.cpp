#include "cases/text/overrides.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cases/text/key_path.h"

namespace updraught {

namespace {

/// A node moved from one place to another; a copy would not know where it comes from.
template <class Place>
void move_into(toml::node& from, const Place& place) {
  from.visit([&](auto& node) { place(std::move(node)); });
}

void assign(toml::node& parent, const KeyStep& step, toml::node& value) {
  if (toml::table* table = parent.as_table())
    return move_into(
        value, [&](auto&& node) { table->insert_or_assign(step.name, std::forward<decltype(node)>(node)); });
  toml::array& list = *parent.as_array();
  const auto at = list.begin() + static_cast<std::ptrdiff_t>(step.entry - 1);
  move_into(value, [&](auto&& node) { list.replace(at, std::forward<decltype(node)>(node)); });
}

/// The value that a text is, with the override's name as its place.
toml::table parsed_value(const Override& one) {
  try {
    toml::table parsed = toml::parse("v = " + one.value, one.called());
    if (parsed.size() == 1) return parsed;
  } catch (const toml::parse_error&) {
    // No TOML: a text without its quotes, as people type it.
  }
  toml::table text = toml::parse("v = ''", one.called());
  *text["v"].as_string() = one.value;
  return text;
}

/// One override on its way down the case.
class Laying {
 public:
  Laying(const Override& one, KeyPath path, Diagnostics& diagnostics)
      : one_(one), path_(std::move(path)), diagnostics_(diagnostics) {}

  void lay(toml::table& top) {
    toml::node* at = &top;
    for (; depth_ < path_.size(); ++depth_) {
      if (!takes(*at)) return;
      if (depth_ + 1 == path_.size()) break;
      at = below(*at);
    }
    toml::table value = parsed_value(one_);
    assign(*at, path_.back(), *value.get("v"));
  }

 private:
  void report(std::string problem, std::string hint) {
    diagnostics_.mistakes.push_back(
        {one_.called(), 0, 0, to_text(path_), std::move(problem), std::move(hint)});
  }

  /// Whether the present step leads on from a node.
  bool takes(const toml::node& node) {
    const KeyStep& step = path_[depth_];
    const toml::array* list = node.as_array();
    if (step.entry == 0 ? node.is_table() : list != nullptr && step.entry <= list->size()) return true;
    const std::string name =
        to_text(KeyPath(path_.begin(), path_.begin() + static_cast<std::ptrdiff_t>(depth_)));
    const std::string whole = fmt::format("set the whole of it: {}=...", name);
    if (list == nullptr)
      report(fmt::format("In this case `{}` is no {}.", name, step.entry > 0 ? "list" : "table"),
             fmt::format("Leave the rest of the path out and {}", whole));
    else if (step.entry == 0 || list->empty())
      report(fmt::format("In this case `{}` is a list of {}.", name, list->size()),
             list->empty() ? fmt::format("Leave the rest of the path out and {}", whole)
                           : fmt::format("Say which entry, such as {}[1], or {}", name, whole));
    else
      report(fmt::format("The list `{}` has no entry {}.", name, step.entry),
             fmt::format("Its last is {}[{}].", name, list->size()));
    return false;
  }

  /// What the present step leads to; a table that is not there is made.
  toml::node* below(toml::node& node) {
    const KeyStep& step = path_[depth_];
    if (step.entry > 0) return node.as_array()->get(step.entry - 1);
    toml::table& table = *node.as_table();
    if (!table.contains(step.name)) {
      const bool list = path_[depth_ + 1].entry > 0;
      toml::table made = toml::parse(list ? "v = []" : "v = {}", one_.called());
      assign(table, step, *made.get("v"));
    }
    return table.get(step.name);
  }

  const Override& one_;
  KeyPath path_;
  Diagnostics& diagnostics_;
  std::size_t depth_ = 0;
};

}  // namespace

std::string Override::called() const {
  return typed.empty() ? fmt::format("--set {}={}", key, value) : typed;
}

std::string case_text(std::string_view text) {
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') quoted += '\\';
    quoted += c;
  }
  return quoted + '"';
}

std::string case_text(double number, std::string_view unit) {
  return unit.empty() ? fmt::format("{}", number) : fmt::format("\"{} {}\"", number, unit);
}

void put(Overrides& overrides, const std::string& key, const std::string& value) {
  drop(overrides, key);
  overrides.push_back({key, value, ""});
}

void put(Overrides& overrides, const Overrides& others) {
  for (const Override& one : others) put(overrides, one.key, one.value);
}

void drop(Overrides& overrides, std::string_view key) {
  std::erase_if(overrides, [&](const Override& one) { return one.key == key; });
}

const Override* find(const Overrides& overrides, std::string_view key) {
  const auto found =
      std::find_if(overrides.begin(), overrides.end(), [&](const Override& one) { return one.key == key; });
  return found == overrides.end() ? nullptr : &*found;
}

void lay_over(toml::table& top, const Overrides& overrides, Diagnostics& diagnostics) {
  std::vector<std::pair<KeyPath, std::string>> laid;
  for (const Override& one : overrides) {
    const auto path = key_path(one.key);
    if (!path) {
      diagnostics.mistakes.push_back({one.called(), 0, 0, "", "This names no key of a case.",
                                      "Write its path as messages do, such as bin.width or air_in[1].size."});
      continue;
    }
    const auto lost = std::find_if(laid.begin(), laid.end(),
                                   [&](const auto& before) { return holds(*path, before.first); });
    if (lost != laid.end())
      diagnostics.mistakes.push_back({one.called(), 0, 0, to_text(*path),
                                      fmt::format("It takes the place of what {} says.", lost->second),
                                      "Leave one of the two out."});
    else
      Laying(one, *path, diagnostics).lay(top);
    laid.emplace_back(*path, one.called());
  }
}

}  // namespace updraught
