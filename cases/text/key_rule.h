// What a case may hold: each key once, with what it takes, its limits, and what docs/cases.md says of it. The
// reader, its messages, the document and the tests all take it from here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cases/text/quantity.h"

namespace updraught {

/// Limits of a value in SI units, and how a message tells them.
struct Limits {
  double low;
  double high;
  const char* told;  ///< "a bin is between 10 cm and 20 m wide"
};

struct KeyRule;
using KeyRules = std::vector<KeyRule>;

/// One key of one kind of table.
struct KeyRule {
  enum class Form { quantity, number, count, flag, text, word, table, list, several };
  std::string name;  ///< empty: any name, in tables whose keys are names
  Form form = Form::several;
  Measure measure{"", "", ""};             ///< quantity, number
  Limits limits{0.0, 0.0, ""};             ///< quantity, number, count
  std::vector<std::string> words;          ///< word
  const KeyRules& (*keys)() = nullptr;     ///< of a table that is its value
  const KeyRules& (*entries)() = nullptr;  ///< of tables in a list that is its value
  std::string example;                     ///< what to write where it is missing; empty: it may be left out
  std::string meaning;    ///< as docs/cases.md tells it; empty: it is told where its table is
  std::string otherwise;  ///< the default, as docs/cases.md tells it

  /// The same key with what is told of it.
  KeyRule means(std::string what, std::string default_value) &&;
  /// The same key, which must be there.
  KeyRule needs(std::string written) &&;
  /// What may be written, for people.
  std::string takes() const;
};

namespace key {

KeyRule quantity(std::string name, const Measure& measure, const Limits& limits);
KeyRule number(std::string name, const Limits& limits, const Measure& measure = share_measure());
KeyRule count(std::string name, const Limits& limits);
KeyRule flag(std::string name);
KeyRule text(std::string name);
KeyRule word(std::string name, std::vector<std::string> words);
KeyRule table(std::string name, const KeyRules& (*keys)());
/// A list of tables or, without `entries`, of values.
KeyRule list(std::string name, const KeyRules& (*entries)() = nullptr);
/// A list of values of one measure.
KeyRule list(std::string name, const Measure& measure, const Limits& limits);
/// One value for the whole bed, or a table of values by place.
KeyRule by_place(std::string name, const Measure& measure, const Limits& limits, const KeyRules& (*keys)());
/// What takes several forms; the reader looks which.
KeyRule several(std::string name, const KeyRules& (*keys)() = nullptr,
                const KeyRules& (*entries)() = nullptr);

}  // namespace key

/// The rule of a key; a rule of any name will do. Null when there is none.
const KeyRule* find_rule(const KeyRules& rules, std::string_view name);

/// Names of keys, in their order.
std::vector<std::string> names_of(const KeyRules& rules);

}  // namespace updraught
