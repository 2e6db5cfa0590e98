// What a case file may hold, table by table: each key with values that are allowed, most of them at or near a
// limit. Cases made by lot are built from these lists.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace updraught::made_cases {

/// Kinds of tables, by what their keys mean.
enum class Kind {
  none,  ///< no table: the values are texts, numbers or lists of these
  top,
  bin,
  sides,
  boundary,
  layer,  ///< of a wall
  lid,
  base,
  opening,
  portion,
  laws,
  batch,
  refill,
  watering,
  feedstocks,  ///< its keys are names
  feedstock,
  outside,
  daily,
  weather_table,
  initial,
  height_table,
  microbes,
  prescribed,
  by_place,
  uptake,
  air
};

/// One key of one kind of table.
struct KeyRule {
  Kind table;
  std::string key;
  Kind within;                      ///< what tables in its value are
  std::vector<std::string> values;  ///< as they stand in a case, each allowed by itself
};

/// All of them.
const std::vector<KeyRule>& key_rules();

/// Those of one kind of table.
std::vector<const KeyRule*> rules_of(Kind table);

/// The kind of the tables in the value of a key, `none` for a key that is not known there.
Kind kind_within(Kind table, std::string_view key, bool in_list);

/// Values that no key takes, or hardly any: of other kinds, beyond all limits, broken.
const std::vector<std::string>& odd_values();

}  // namespace updraught::made_cases
