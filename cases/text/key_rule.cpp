#include "cases/text/key_rule.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>

namespace updraught {

namespace {

KeyRule rule(std::string name, KeyRule::Form form) {
  KeyRule out;
  out.name = std::move(name);
  out.form = form;
  return out;
}

std::string within_limits(const std::string& what, const Limits& limits) {
  return std::string_view(limits.told).empty() ? what : fmt::format("{}; {}", what, limits.told);
}

}  // namespace

KeyRule KeyRule::means(std::string what, std::string default_value) && {
  meaning = std::move(what);
  otherwise = std::move(default_value);
  return std::move(*this);
}

KeyRule KeyRule::needs(std::string written) && {
  example = std::move(written);
  return std::move(*this);
}

std::string KeyRule::takes() const {
  const std::string like = std::string_view(measure.unit).empty()
                               ? "a number"
                               : fmt::format("{} (`\"{}\"`)", measure.name, measure.example);
  switch (form) {
    case Form::quantity:
    case Form::number:
      return within_limits(like, limits);
    case Form::count:
      return within_limits("a whole number", limits);
    case Form::flag:
      return "`true`, `false`";
    case Form::text:
      return "a text";
    case Form::word:
      return fmt::format("`\"{}\"`", fmt::join(words, "\"`, `\""));
    case Form::table:
      return "a table";
    case Form::list:
      return *measure.name != '\0' ? within_limits("a list, each " + like, limits) : "a list";
    case Form::several:
      return "several forms";
  }
  return "";
}

namespace key {

KeyRule quantity(std::string name, const Measure& measure, const Limits& limits) {
  KeyRule out = rule(std::move(name), KeyRule::Form::quantity);
  out.measure = measure;
  out.limits = limits;
  return out;
}

KeyRule number(std::string name, const Limits& limits, const Measure& measure) {
  KeyRule out = quantity(std::move(name), measure, limits);
  out.form = KeyRule::Form::number;
  return out;
}

KeyRule count(std::string name, const Limits& limits) {
  KeyRule out = rule(std::move(name), KeyRule::Form::count);
  out.limits = limits;
  return out;
}

KeyRule flag(std::string name) {
  return rule(std::move(name), KeyRule::Form::flag);
}

KeyRule text(std::string name) {
  return rule(std::move(name), KeyRule::Form::text);
}

KeyRule word(std::string name, std::vector<std::string> words) {
  KeyRule out = rule(std::move(name), KeyRule::Form::word);
  out.words = std::move(words);
  return out;
}

KeyRule table(std::string name, const KeyRules& (*keys)()) {
  KeyRule out = rule(std::move(name), KeyRule::Form::table);
  out.keys = keys;
  return out;
}

KeyRule list(std::string name, const KeyRules& (*entries)()) {
  KeyRule out = rule(std::move(name), KeyRule::Form::list);
  out.entries = entries;
  return out;
}

KeyRule list(std::string name, const Measure& measure, const Limits& limits) {
  KeyRule out = quantity(std::move(name), measure, limits);
  out.form = KeyRule::Form::list;
  out.example = fmt::format("[\"{}\", ...]", measure.example);
  return out;
}

KeyRule by_place(std::string name, const Measure& measure, const Limits& limits, const KeyRules& (*keys)()) {
  KeyRule out = quantity(std::move(name), measure, limits);
  out.keys = keys;
  return out;
}

KeyRule several(std::string name, const KeyRules& (*keys)(), const KeyRules& (*entries)()) {
  KeyRule out = rule(std::move(name), KeyRule::Form::several);
  out.keys = keys;
  out.entries = entries;
  return out;
}

}  // namespace key

const KeyRule* find_rule(const KeyRules& rules, std::string_view name) {
  const auto found = std::find_if(rules.begin(), rules.end(),
                                  [&](const KeyRule& one) { return one.name.empty() || one.name == name; });
  return found == rules.end() ? nullptr : &*found;
}

std::vector<std::string> names_of(const KeyRules& rules) {
  std::vector<std::string> names;
  for (const KeyRule& one : rules) names.push_back(one.name);
  return names;
}

}  // namespace updraught
