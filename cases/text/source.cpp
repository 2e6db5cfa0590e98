#include "cases/text/source.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "cases/terminal/nearest.h"
#include "cases/text/key_path.h"

namespace updraught {

namespace {

/// As typed, or its beginning: what is wrong with a very long text shows there.
std::string quoted(std::string_view word) {
  constexpr std::size_t enough = 60;  // letters
  return fmt::format("\"{}\"", shortened(word, enough));
}

std::string listed(const std::vector<std::string>& words, const char* mark) {
  std::string text;
  for (std::size_t w = 0; w < words.size(); ++w) {
    if (w > 0) text += w + 1 == words.size() ? " or " : ", ";
    text += mark + words[w] + mark;
  }
  return text;
}

std::string kind_of(const toml::node& node) {
  if (node.is_string()) return "a text";
  if (node.is_number()) return "a number";
  if (node.is_boolean()) return "true or false";
  if (node.is_array()) return "a list";
  if (node.is_table()) return "a table";
  return "a date";
}

std::string last_part(const std::string& path) {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? path : path.substr(dot + 1);
}

/// How to write a value of another form: "walls = [ ... ]", or "[ ... ]" where it stands in a list.
std::string written_as(const std::string& path, const char* form) {
  return path.ends_with(']') ? std::string(form) : fmt::format("{} = {}", last_part(path), form);
}

std::string suggestion(const std::string& word, const std::vector<std::string>& known, const char* mark) {
  const auto near = nearest(word, known);
  if (near) return fmt::format("Did you mean {}{}{}?", mark, *near, mark);
  return fmt::format("Possible here: {}.", listed(known, mark));
}

}  // namespace

namespace {

bool from_elsewhere(const toml::source_region& source, const std::string& file) {
  return source.path && *source.path != file;
}

Diagnostic told_at(const toml::source_region& source, const std::string& file, const std::string& key,
                   std::string problem, std::string hint) {
  if (from_elsewhere(source, file)) return {*source.path, 0, 0, key, std::move(problem), std::move(hint)};
  const toml::source_position at = source.begin;
  return {file, static_cast<int>(at.line), static_cast<int>(at.column),
          key,  std::move(problem),        std::move(hint)};
}

}  // namespace

void Diagnostics::report(const toml::node& where, const std::string& key, std::string problem,
                         std::string hint) {
  mistakes.push_back(told_at(where.source(), file, key, std::move(problem), std::move(hint)));
}

void Diagnostics::doubt(const toml::node& where, const std::string& key, std::string problem,
                        std::string hint) {
  doubts.push_back(told_at(where.source(), file, key, std::move(problem), std::move(hint)));
}

bool Diagnostics::laid_over(const toml::node& node) const {
  return from_elsewhere(node.source(), file);
}

void Value::report(std::string problem, std::string hint) const {
  diagnostics_->report(*node_, path_, std::move(problem), std::move(hint));
}

std::optional<double> Value::quantity(const Measure& measure, const Limits& limits) const {
  if (std::string_view(measure.unit).empty()) return number(limits, measure);
  const auto typed = node_->value_exact<std::string>();
  if (!typed) {
    report(fmt::format("This is {} without a unit.", kind_of(*node_)),
           fmt::format("Write {} in quotes, such as \"{}\".", measure.name, measure.example));
    return {};
  }
  const bool volume = std::string_view(measure.unit) == "m3";
  const QuantityReading read = read_quantity(*typed, measure, diagnostics_->units,
                                             volume ? std::optional(diagnostics_->bucket) : std::nullopt);
  if (!read.value) {
    report(read.problem, read.hint);
    return {};
  }
  if (*read.value < limits.low || *read.value > limits.high) {
    report(quoted(*typed) + " is out of range.", fmt::format("Known limits: {}.", limits.told));
    return {};
  }
  return read.value;
}

std::optional<double> Value::bare_number(const Measure& measure) const {
  // Asked for as a double, the library hands out nothing for whole numbers that a double cannot hold exactly.
  if (const auto whole = node_->as_integer()) return static_cast<double>(whole->get());
  if (node_->is_number()) return node_->value<double>();
  const auto typed = node_->value_exact<std::string>();
  if (!typed) {
    report(fmt::format("This is {}, a number is needed.", kind_of(*node_)),
           fmt::format("Write it as {} = {}.", last_part(path_), measure.counts ? measure.example : "0.5"));
    return {};
  }
  const QuantityReading read = read_quantity(*typed, measure, diagnostics_->units);
  if (!read.value) report(read.problem, read.hint);
  return read.value;
}

std::optional<double> Value::number(const Limits& limits, const Measure& measure) const {
  const std::optional<double> read = bare_number(measure);
  if (!read) return {};
  // A number that is no number compares with nothing, so it must be caught by what it is not.
  if (!(*read >= limits.low && *read <= limits.high)) {
    const bool per_cents = node_->is_number() && !measure.counts && limits.high <= 1.0 && *read > 1.0 &&
                           *read / 100.0 >= limits.low && *read / 100.0 <= limits.high;
    if (per_cents)
      report(fmt::format("{:g} is more than the whole.", *read),
             fmt::format("Write \"{:g} %\" or {:g}.", *read, *read / 100.0));
    else
      report("The value is out of range.", fmt::format("Known limits: {}.", limits.told));
    return {};
  }
  return read;
}

std::optional<int> Value::count() const {
  if (!node_->is_integer()) {
    report("This is not a whole number.", "Write it without quotes and decimals, such as 12.");
    return {};
  }
  const std::optional<double> read = number(rule_->limits, {"a whole number", "", "12", false, false, true});
  return read ? std::optional(static_cast<int>(*read)) : std::nullopt;
}

std::optional<bool> Value::flag() const {
  const auto read = node_->value_exact<bool>();
  if (!read) report(fmt::format("This is {}.", kind_of(*node_)), "Write true or false, without quotes.");
  return read;
}

std::optional<std::string> Value::text() const {
  auto read = node_->value_exact<std::string>();
  if (!read) {
    report(fmt::format("This is {}, a text is needed.", kind_of(*node_)), "Write it in quotes.");
    return {};
  }
  return check_text(*read, "text") ? read : std::nullopt;
}

bool Value::check_text(const std::string& typed, const char* what) const {
  if (typed.size() > longest_text) {
    report(fmt::format("This {} has {} letters.", what, typed.size()),
           fmt::format("Say it in {} letters at most.", longest_text));
    return false;
  }
  const bool controls = std::any_of(typed.begin(), typed.end(),
                                    [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
  if (controls)
    report(fmt::format("This {} holds a sign that cannot be printed, such as the end of a line.", what),
           "Write it in one line, with letters alone.");
  return !controls;
}

std::optional<std::string> Value::word(const std::vector<std::string>& words) const {
  auto read = text();
  if (!read || std::find(words.begin(), words.end(), *read) != words.end()) return read;
  report(quoted(*read) + " is not known here.", suggestion(*read, words, "\""));
  return {};
}

std::optional<Table> Value::table() const {
  if (const toml::table* inner = node_->as_table()) {
    const auto keys = in_list_ ? rule_->entries : rule_->keys;
    if (keys == nullptr) throw std::logic_error(fmt::format("no rules for the table {}", path_));
    return Table(*inner, path_, keys(), *diagnostics_);
  }
  report(fmt::format("This is {}, a table in curly brackets is needed.", kind_of(*node_)),
         fmt::format("Write it as {}; see docs/cases.md.", written_as(path_, "{ ... }")));
  return {};
}

std::optional<std::vector<Value>> Value::list() const {
  const toml::array* inner = node_->as_array();
  if (inner == nullptr) {
    report(fmt::format("This is {}, a list in square brackets is needed.", kind_of(*node_)),
           fmt::format("Write it as {}.", written_as(path_, "[ ... ]")));
    return {};
  }
  std::vector<Value> values;
  for (std::size_t n = 0; n < inner->size(); ++n)
    values.emplace_back((*inner)[n], fmt::format("{}[{}]", path_, n + 1), *rule_, *diagnostics_, true);
  return values;
}

std::string Table::path_of(std::string_view key) const {
  return path_.empty() ? path_name(key) : fmt::format("{}.{}", path_, path_name(key));
}

void Table::allow(const std::vector<std::string>& known) const {
  for (auto&& [key, node] : *table_) {
    const std::string name(key.str());
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    // A key that was laid over the case has no place of its own; its value has.
    const toml::source_region& source = key.source().path ? key.source() : node.source();
    diagnostics_->mistakes.push_back(told_at(source, diagnostics_->file, path_of(name),
                                             "There is no key of this name here.",
                                             suggestion(name, known, "`")));
  }
}

std::vector<std::string> Table::keys() const {
  std::vector<std::string> names;
  for (auto&& [key, node] : *table_) names.emplace_back(key.str());
  return names;
}

void Table::forbid(const std::vector<std::string>& keys, const std::string& because) const {
  for (const std::string& key : keys)
    if (has(key))
      report(key, fmt::format("This key does not go with {}.", because), "Leave one of the two out.");
}

bool Table::laid_over(std::string_view key) const {
  const toml::node* node = table_->get(key);
  return node != nullptr && diagnostics_->laid_over(*node);
}

const KeyRule& Table::rule(std::string_view key) const {
  const KeyRule* found = find_rule(*rules_, key);
  if (found == nullptr) throw std::logic_error(fmt::format("the key {} has no rule", path_of(key)));
  return *found;
}

std::optional<Value> Table::value(std::string_view key) const {
  const KeyRule& known = rule(key);
  const toml::node* node = table_->get(key);
  if (node == nullptr) return {};
  return Value(*node, path_of(key), known, *diagnostics_);
}

std::optional<Value> Table::need(std::string_view key) const {
  return need(key, fmt::format("{} = {}", key, rule(key).example));
}

std::optional<Value> Table::need(std::string_view key, const std::string& example) const {
  auto found = value(key);
  if (!found) diagnostics_->report(*table_, path_of(key), key_missing, fmt::format("Add {}.", example));
  return found;
}

std::optional<double> Table::quantity(std::string_view key) const {
  const auto found = value(key);
  return found ? found->quantity() : std::nullopt;
}

double Table::quantity_or(double otherwise, std::string_view key) const {
  return quantity(key).value_or(otherwise);
}

bool Table::flag_or(bool otherwise, std::string_view key) const {
  const auto found = value(key);
  return found ? found->flag().value_or(otherwise) : otherwise;
}

std::optional<std::string> Table::word(std::string_view key) const {
  const auto found = value(key);
  return found ? found->word() : std::nullopt;
}

std::optional<std::string> Table::text(std::string_view key) const {
  const auto found = value(key);
  return found ? found->text() : std::nullopt;
}

std::optional<Table> Table::table(std::string_view key) const {
  const auto found = value(key);
  return found ? found->table() : std::nullopt;
}

std::vector<Value> Table::list(std::string_view key) const {
  const auto found = value(key);
  if (!found) return {};
  return found->list().value_or(std::vector<Value>());
}

void Table::report(std::string_view key, std::string problem, std::string hint) const {
  const toml::node* node = table_->get(key);
  diagnostics_->report(node != nullptr ? *node : *table_, path_of(key), std::move(problem), std::move(hint));
}

void Table::doubt(std::string_view key, std::string problem, std::string hint) const {
  const toml::node* node = table_->get(key);
  diagnostics_->doubt(node != nullptr ? *node : *table_, path_of(key), std::move(problem), std::move(hint));
}

void Table::report(std::string problem, std::string hint) const {
  diagnostics_->report(*table_, path_, std::move(problem), std::move(hint));
}

namespace {

std::optional<std::vector<double>> read_column(const Table& table, std::string_view key) {
  const auto found = table.need(key);
  if (!found) return {};
  const auto entries = found->list();
  if (!entries) return {};
  std::vector<double> values;
  for (const Value& entry : *entries)
    if (const auto value = entry.quantity()) values.push_back(*value);
  if (values.size() < entries->size()) return {};
  return values;
}

}  // namespace

std::optional<Columns> read_columns(const Table& table, std::string_view first, std::string_view second) {
  table.allow({std::string(first), std::string(second)});
  const auto a = read_column(table, first);
  const auto b = read_column(table, second);
  if (!a || !b) return {};
  if (a->empty() || a->size() != b->size()) {
    table.report(second, "The two lists must be equally long and not empty.",
                 "Give one entry of each for every row.");
    return {};
  }
  if (!std::is_sorted(a->begin(), a->end())) {
    table.report(first, "The entries must rise.", "Put the rows in order; the same entry twice is a jump.");
    return {};
  }
  return Columns{*a, *b};
}

}  // namespace updraught
