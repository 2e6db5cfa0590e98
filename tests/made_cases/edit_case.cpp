#include "tests/made_cases/edit_case.h"

#include <charconv>
#include <cstdlib>
#include <sstream>
#include <vector>

namespace updraught::made_cases {

namespace {

struct TableAt {
  toml::table* table;
  Kind kind;
};

/// Finds all tables and lists below a node; `within` is what tables in it are.
void collect(toml::node& node, Kind within, std::vector<TableAt>& tables, std::vector<toml::array*>& lists) {
  if (toml::array* list = node.as_array()) {
    lists.push_back(list);
    for (toml::node& entry : *list) collect(entry, within, tables, lists);
  }
  toml::table* table = node.as_table();
  if (table == nullptr) return;
  tables.push_back({table, within});
  for (auto&& [key, value] : *table)
    collect(value, kind_within(within, key.str(), value.is_array()), tables, lists);
}

struct Parts {
  std::vector<TableAt> tables;
  std::vector<toml::array*> lists;
};

Parts parts_of(toml::table& tree) {
  Parts parts;
  collect(tree, Kind::top, parts.tables, parts.lists);
  return parts;
}

void put(toml::table& table, const std::string& key, const toml::node& value) {
  value.visit([&](const auto& one) { table.insert_or_assign(key, one); });
}

/// Sets a key to a value as it stands in a case; what is no TOML is a text.
void put_text(toml::table& table, const std::string& key, const std::string& value) {
  if (const auto read = tree_of("v = " + value))
    put(table, key, *read->get("v"));
  else
    table.insert_or_assign(key, value);
}

std::string some_key(const toml::table& table, Draws& draws) {
  auto at = table.begin();
  for (std::size_t n = draws.below(table.size()); n > 0; --n) ++at;
  return std::string(at->first.str());
}

/// A table of the kind; null when there is none.
toml::table* find_table(toml::table& tree, Kind kind, Draws& draws) {
  std::vector<toml::table*> found;
  for (const TableAt& one : parts_of(tree).tables)
    if (one.kind == kind) found.push_back(one.table);
  return found.empty() ? nullptr : draws.one_of(found);
}

/// Puts a table of the kind into the tree, by way of a key whose values hold such tables.
bool make_table(toml::table& tree, Kind kind, Draws& draws, int deep) {
  if (deep == 0) return false;
  std::vector<const KeyRule*> ways;
  for (const KeyRule& rule : key_rules())
    if (rule.within == kind) ways.push_back(&rule);
  if (ways.empty()) return false;
  const KeyRule& way = *draws.one_of(ways);
  if (find_table(tree, way.table, draws) == nullptr && !make_table(tree, way.table, draws, deep - 1))
    return false;
  put_text(*find_table(tree, way.table, draws), way.key, draws.one_of(way.values));
  return find_table(tree, kind, draws) != nullptr;
}

void set_allowed(Parts& parts, Draws& draws) {
  const TableAt& at = draws.one_of(parts.tables);
  const auto rules = rules_of(at.kind);
  if (rules.empty()) return;
  const KeyRule& rule = *draws.one_of(rules);
  put_text(*at.table, rule.key, draws.one_of(rule.values));
}

void set_odd(Parts& parts, Draws& draws) {
  const TableAt& at = draws.one_of(parts.tables);
  const auto rules = rules_of(at.kind);
  std::string key =
      at.table->empty() || (draws.once_in(3) && !rules.empty()) ? "" : some_key(*at.table, draws);
  if (key.empty()) key = rules.empty() ? "x" : draws.one_of(rules)->key;
  put_text(*at.table, key, draws.one_of(odd_values()));
}

/// A key as a hurried hand would write it, or one that belongs elsewhere.
void set_misspelt(Parts& parts, Draws& draws) {
  static const std::vector<std::string> strange{"", "\x1b[2J", "\u009b", "a.b", "\"", "%s", "\u202e", "\n"};
  const TableAt& at = draws.one_of(parts.tables);
  const KeyRule& rule = draws.one_of(key_rules());
  std::string key = rule.key;
  if (draws.once_in(2)) key.erase(draws.below(key.size()), 1);
  if (draws.once_in(8)) key = draws.one_of(strange);
  put_text(*at.table, key, draws.one_of(rule.values));
}

void drop(Parts& parts, Draws& draws) {
  toml::table& table = *draws.one_of(parts.tables).table;
  if (!table.empty()) table.erase(some_key(table, draws));
}

void change_list(Parts& parts, Draws& draws) {
  if (parts.lists.empty()) return;
  toml::array& list = *draws.one_of(parts.lists);
  if (list.empty()) return;
  const std::size_t at = draws.below(list.size());
  if (draws.once_in(2)) {
    list.erase(list.begin() + static_cast<std::ptrdiff_t>(at));
    return;
  }
  // Some lists may hold a hundred entries and no more.
  const std::size_t times = draws.once_in(20) ? 101 : 1;
  for (std::size_t n = 0; n < times; ++n) list[at].visit([&](const auto& one) { list.push_back(one); });
}

/// Another number in a text such as "18 mm", or in place of a number.
void scale(Parts& parts, Draws& draws) {
  static const std::vector<double> factors{0.5, 0.9, 0.999, 1.001, 1.1, 2.0, 10.0, 0.1, 1000.0, -1.0, 0.0};
  toml::table& table = *draws.one_of(parts.tables).table;
  if (table.empty()) return;
  const std::string key = some_key(table, draws);
  const double factor = draws.one_of(factors);
  if (const auto typed = table[key].value_exact<std::string>()) {
    char* rest = nullptr;
    const double number = std::strtod(typed->c_str(), &rest);
    if (rest == typed->c_str()) return;
    std::ostringstream scaled;
    scaled << number * factor << rest;
    table.insert_or_assign(key, scaled.str());
  } else if (const auto number = table[key].value_exact<double>()) {
    table.insert_or_assign(key, *number * factor);
  }
}

/// A value where another one belongs.
void copy_elsewhere(toml::table& tree, Draws& draws) {
  toml::table source(tree);
  const Parts from = parts_of(source), to = parts_of(tree);
  const toml::table& given = *draws.one_of(from.tables).table;
  toml::table& taking = *draws.one_of(to.tables).table;
  if (given.empty() || taking.empty()) return;
  put(taking, some_key(taking, draws), *given.get(some_key(given, draws)));
}

}  // namespace

std::optional<toml::table> tree_of(const std::string& text) {
  try {
    return toml::parse(text);
  } catch (const toml::parse_error&) {
    return {};
  }
}

std::string text_of(const toml::table& tree) {
  std::ostringstream text;
  text << tree << '\n';
  return text.str();
}

bool set_key(toml::table& tree, const KeyRule& rule, const std::string& value, Draws& draws) {
  constexpr int deepest = 3;
  if (find_table(tree, rule.table, draws) == nullptr && !make_table(tree, rule.table, draws, deepest))
    return false;
  put_text(*find_table(tree, rule.table, draws), rule.key, value);
  return true;
}

void change(toml::table& tree, Draws& draws) {
  Parts parts = parts_of(tree);
  const std::size_t kind = draws.below(20);
  if (kind < 8) return set_allowed(parts, draws);
  if (kind < 10) return drop(parts, draws);
  if (kind < 13) return set_odd(parts, draws);
  if (kind < 15) return scale(parts, draws);
  if (kind < 17) return change_list(parts, draws);
  if (kind < 18) return set_misspelt(parts, draws);
  if (kind < 19) return copy_elsewhere(tree, draws);
  const KeyRule& rule = draws.one_of(key_rules());
  set_key(tree, rule, draws.one_of(rule.values), draws);
}

void graft(toml::table& tree, const toml::table& other, Draws& draws) {
  if (other.empty()) return;
  const std::string key = some_key(other, draws);
  put(tree, key, *other.get(key));
}

}  // namespace updraught::made_cases
