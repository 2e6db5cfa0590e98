// The text of a case file as tables and values that know where they stand. Reading a key of the wrong kind,
// out of range or unknown adds a mistake to the desk and hands back nothing.
#pragma once

#include <toml++/toml.h>

#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cases/terminal/diagnostics.h"
#include "cases/text/quantity.h"

namespace updraught {

/// What all part readers share: the mistakes so far and how to read units. A mistake in what was laid over
/// the case is told with the name of the override instead of file and line.
struct Desk {
  explicit Desk(std::string file_name) : file(std::move(file_name)) {}
  void wrong(const toml::node& where, const std::string& key, std::string problem, std::string mend);
  /// Something that can be computed but is hardly meant.
  void doubt(const toml::node& where, const std::string& key, std::string problem, std::string mend);
  /// Whether a value was laid over the case (overrides.h).
  bool laid_over(const toml::node& node) const;

  std::string file;
  const Units& units = known_units();
  double bucket = 0.01;  ///< m3
  std::vector<Diagnostic> mistakes;
  std::vector<Diagnostic> doubts;
};

/// Limits of a value in SI units, and how a message tells them.
struct Limits {
  double low;
  double high;
  const char* told;  ///< "a bin is between 10 cm and 20 m wide"
};

/// What is said where a key or an amount is not there, so that one cause is told once.
constexpr const char* key_missing = "This key is missing.";
constexpr const char* amount_missing = "The amount is missing.";

/// Letters of a text that a case may hold: titles and names must fit a figure and a table.
constexpr std::size_t longest_text = 200;

class Table;

/// One value with its path.
class Value {
 public:
  Value(const toml::node& node, std::string path, Desk& desk)
      : node_(&node), path_(std::move(path)), desk_(&desk) {}

  std::optional<double> quantity(const Measure& measure, const Limits& limits) const;
  /// A pure number of a kind.
  std::optional<double> number(const Limits& limits, const Measure& measure = share_measure()) const;
  std::optional<int> count(const Limits& limits) const;
  std::optional<bool> flag() const;
  /// A text of one line, not longer than `longest_text`.
  std::optional<std::string> text() const;
  /// Whether a text, or a key that is a name, can be shown; `what` names it in the message.
  bool check_text(const std::string& typed, const char* what) const;
  /// One of the words; the nearest one is named when it is none of them.
  std::optional<std::string> word(const std::vector<std::string>& words) const;
  std::optional<Table> table() const;
  /// The entries of a list. An empty list is handed back as it is.
  std::optional<std::vector<Value>> list() const;

  bool is_text() const { return node_->is_string(); }
  bool is_list() const { return node_->is_array(); }
  bool is_table() const { return node_->is_table(); }
  bool is_flag() const { return node_->is_boolean(); }
  void wrong(std::string problem, std::string mend) const;
  const std::string& path() const { return path_; }
  Desk& desk() const { return *desk_; }

 private:
  /// The number in the node, told from a text: "0.2", 0.2 or "20 %".
  std::optional<double> bare_number(const Measure& measure) const;

  const toml::node* node_;
  std::string path_;
  Desk* desk_;
};

/// One table with its path. `allow` must be called once with every key that the table may hold.
class Table {
 public:
  Table(const toml::table& table, std::string path, Desk& desk)
      : table_(&table), path_(std::move(path)), desk_(&desk) {}

  /// Reports keys that are not in the list, with the nearest one that is.
  void allow(const std::vector<std::string>& known) const;
  /// Reports keys of the list that are present although they do not go with `because`.
  void forbid(const std::vector<std::string>& keys, const std::string& because) const;

  bool has(std::string_view key) const { return table_->contains(key); }
  /// Whether the key is there because it was laid over the case.
  bool laid_over(std::string_view key) const;
  /// All keys, in alphabetical order; for tables whose keys are names.
  std::vector<std::string> keys() const;
  std::optional<Value> value(std::string_view key) const;
  /// The value, or a mistake that the key is missing. `example` is what to write.
  std::optional<Value> need(std::string_view key, const std::string& example) const;

  std::optional<double> quantity(std::string_view key, const Measure& measure, const Limits& limits) const;
  double quantity_or(double otherwise, std::string_view key, const Measure& measure,
                     const Limits& limits) const;
  double number_or(double otherwise, std::string_view key, const Limits& limits,
                   const Measure& measure = share_measure()) const;
  bool flag_or(bool otherwise, std::string_view key) const;
  std::optional<std::string> word(std::string_view key, const std::vector<std::string>& words) const;
  std::optional<std::string> text(std::string_view key) const;
  std::optional<Table> table(std::string_view key) const;
  std::vector<Value> list(std::string_view key) const;

  /// Reports a mistake at the value of a key, or at the table itself when the key is not there.
  void wrong(std::string_view key, std::string problem, std::string mend) const;
  void wrong(std::string problem, std::string mend) const;
  /// The same for what can be computed but is hardly meant.
  void doubt(std::string_view key, std::string problem, std::string mend) const;
  const std::string& path() const { return path_; }
  Desk& desk() const { return *desk_; }

 private:
  std::string path_of(std::string_view key) const;

  const toml::table* table_;
  std::string path_;
  Desk* desk_;
};

/// Values by time, by height, ...: { first = [...], second = [...] }, equally long, the first never falling.
struct Columns {
  std::vector<double> first;
  std::vector<double> second;
};
struct ColumnRule {
  std::string_view key;
  Measure measure;
  Limits limits;
};
std::optional<Columns> read_columns(const Table& table, const ColumnRule& first, const ColumnRule& second);

}  // namespace updraught
