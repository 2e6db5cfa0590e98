// The text of a case file as tables and values that know where they stand. Reading a key of the wrong kind,
// out of range or unknown adds a mistake to the diagnostics and hands back nothing.
#pragma once

#include <toml++/toml.h>

#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cases/terminal/diagnostics.h"
#include "cases/text/key_rule.h"
#include "cases/text/quantity.h"

namespace updraught {

/// What all part readers share: the mistakes so far and how to read units. A mistake in what was laid over
/// the case is told with the name of the override instead of file and line.
struct Diagnostics {
  explicit Diagnostics(std::string file_name) : file(std::move(file_name)) {}
  void report(const toml::node& where, const std::string& key, std::string problem, std::string hint);
  /// Something that can be computed but is hardly meant.
  void doubt(const toml::node& where, const std::string& key, std::string problem, std::string hint);
  /// Whether a value was laid over the case (overrides.h).
  bool laid_over(const toml::node& node) const;

  std::string file;
  const Units& units = known_units();
  double bucket = 0.01;  ///< m3
  std::vector<Diagnostic> mistakes;
  std::vector<Diagnostic> doubts;
};

/// What is said where a key or an amount is not there, so that one cause is told once.
constexpr const char* key_missing = "This key is missing.";
constexpr const char* amount_missing = "The amount is missing.";

/// Letters of a text that a case may hold: titles and names must fit a figure and a table.
constexpr std::size_t longest_text = 200;

class Table;

/// One value with its path and the rule of its key; an entry of a list has the rule of the list.
class Value {
 public:
  Value(const toml::node& node, std::string path, const KeyRule& rule, Diagnostics& diagnostics,
        bool in_list = false)
      : node_(&node), path_(std::move(path)), rule_(&rule), diagnostics_(&diagnostics), in_list_(in_list) {}

  /// A value with a unit, or a pure number; where what else is said decides of which measure and within which
  /// limits, these.
  std::optional<double> quantity() const { return quantity(rule_->measure, rule_->limits); }
  std::optional<double> quantity(const Measure& measure, const Limits& limits) const;
  std::optional<int> count() const;
  std::optional<bool> flag() const;
  /// A text of one line, not longer than `longest_text`.
  std::optional<std::string> text() const;
  /// Whether a text, or a key that is a name, can be shown; `what` names it in the message.
  bool check_text(const std::string& typed, const char* what) const;
  /// One of the words, of the key or these; the nearest one is named when it is none of them.
  std::optional<std::string> word() const { return word(rule_->words); }
  std::optional<std::string> word(const std::vector<std::string>& words) const;
  std::optional<Table> table() const;
  /// The entries of a list. An empty list is handed back as it is.
  std::optional<std::vector<Value>> list() const;

  bool is_text() const { return node_->is_string(); }
  bool is_list() const { return node_->is_array(); }
  bool is_table() const { return node_->is_table(); }
  bool is_flag() const { return node_->is_boolean(); }
  void report(std::string problem, std::string hint) const;
  const std::string& path() const { return path_; }
  Diagnostics& diagnostics() const { return *diagnostics_; }

 private:
  /// A pure number of a kind.
  std::optional<double> number(const Limits& limits, const Measure& measure) const;
  /// The number in the node, told from a text: "0.2", 0.2 or "20 %".
  std::optional<double> bare_number(const Measure& measure) const;

  const toml::node* node_;
  std::string path_;
  const KeyRule* rule_;
  Diagnostics* diagnostics_;
  bool in_list_;
};

/// One table with its path and the rules of its keys. `allow` must be called once. A key without a rule is an
/// error of the program: std::logic_error.
class Table {
 public:
  Table(const toml::table& table, std::string path, const KeyRules& rules, Diagnostics& diagnostics)
      : table_(&table), path_(std::move(path)), rules_(&rules), diagnostics_(&diagnostics) {}

  /// Reports keys that have no rule, or are not in the list, with the nearest one that may stand here.
  void allow() const { allow(names_of(*rules_)); }
  void allow(const std::vector<std::string>& known) const;
  /// Reports keys of the list that are present although they do not go with `because`.
  void forbid(const std::vector<std::string>& keys, const std::string& because) const;

  bool has(std::string_view key) const { return table_->contains(key); }
  /// Whether the key is there because it was laid over the case.
  bool laid_over(std::string_view key) const;
  /// All keys, in alphabetical order; for tables whose keys are names.
  std::vector<std::string> keys() const;
  std::optional<Value> value(std::string_view key) const;
  /// The value, or a mistake that the key is missing, with what to write; `example` where that is not always
  /// the same.
  std::optional<Value> need(std::string_view key) const;
  std::optional<Value> need(std::string_view key, const std::string& example) const;

  /// A value with a unit or a pure number, as the rule of the key says.
  std::optional<double> quantity(std::string_view key) const;
  double quantity_or(double otherwise, std::string_view key) const;
  bool flag_or(bool otherwise, std::string_view key) const;
  std::optional<std::string> word(std::string_view key) const;
  std::optional<std::string> text(std::string_view key) const;
  std::optional<Table> table(std::string_view key) const;
  std::vector<Value> list(std::string_view key) const;

  /// Reports a mistake at the value of a key, or at the table itself when the key is not there.
  void report(std::string_view key, std::string problem, std::string hint) const;
  void report(std::string problem, std::string hint) const;
  /// The same for what can be computed but is hardly meant.
  void doubt(std::string_view key, std::string problem, std::string hint) const;
  const std::string& path() const { return path_; }
  Diagnostics& diagnostics() const { return *diagnostics_; }

 private:
  std::string path_of(std::string_view key) const;
  const KeyRule& rule(std::string_view key) const;

  const toml::table* table_;
  std::string path_;
  const KeyRules* rules_;
  Diagnostics* diagnostics_;
};

/// Values by time, by height, ...: { first = [...], second = [...] }, equally long, the first never falling.
struct Columns {
  std::vector<double> first;
  std::vector<double> second;
};
std::optional<Columns> read_columns(const Table& table, std::string_view first, std::string_view second);

}  // namespace updraught
