#include "cases/library/feedstock_library.h"

#include <toml++/toml.h>

#include <cctype>
#include <cmath>
#include <filesystem>

#include "cases/terminal/nearest.h"

namespace updraught {
namespace {

using For = FeedstockKey::For;
using Values = std::map<std::string, Ranged>;

constexpr double day = 86400.0;
constexpr const char* pool_names[] = {"easy", "middling", "hard"};

std::vector<FeedstockKey> make_keys() {
  std::vector<FeedstockKey> keys = {
      {"moisture", "1", 1.0, 0.0, 1.0, For::all},
      {"volatile_solids", "1", 1.0, 0.0, 1.0, For::all},
      {"carbon", "1", 1.0, 0.0, 0.8, For::all},
      {"nitrogen", "1", 1.0, 0.0, 0.3, For::all},
      {"available_carbon", "1", 1.0, 0.0, 1.0, For::all},
      {"loose_density", "kg/m3", 1.0, 5.0, 2000.0, For::soft},
      {"piece_size", "mm", 1e-3, 1e-4, 0.5, For::all},
      {"ergun_size", "mm", 1e-3, 1e-5, 0.1, For::soft},
      {"ergun_share", "1", 1.0, 0.005, 1.0, For::chips},
      {"water_capacity", "kg/kg", 1.0, 0.0, 30.0, For::all},
      {"basic_density", "kg/m3", 1.0, 100.0, 1200.0, For::chips},
      {"inner_air", "1", 1.0, 0.0, 1.0, For::soft},
      {"loose_porosity", "1", 1.0, 0.05, 0.98, For::chips},
      {"least_porosity", "1", 1.0, 0.0, 0.9, For::all},
      {"softness_stress", "kPa", 1000.0, 10.0, 1e6, For::all},
      {"rotted_stiffness", "1", 1.0, 0.01, 1.0, For::soft},
      {"mixing", "1", 1.0, 0.0, 1.0, For::soft},
      {"mixing_rotted", "1", 1.0, 0.0, 1.0, For::soft},
      {"activity", "1", 1.0, 1e-4, 0.99, For::all},
      {"heat_loving_activity", "1", 1.0, 1e-4, 0.99, For::all},
  };
  for (const char* pool : pool_names) {
    const std::string name(pool);
    keys.push_back({name + "_share", "1", 1.0, 0.0, 1.0, For::all});
    keys.push_back({name + "_rate", "1/day", 1.0 / day, 0.0, 5.0 / day, For::all});
    keys.push_back({name + "_demand", "kg/kg", 1.0, 0.0, 4.0, For::all});
  }
  return keys;
}

const FeedstockKey* find_key(std::string_view name) {
  for (const FeedstockKey& key : feedstock_keys())
    if (key.name == name) return &key;
  return nullptr;
}

std::string in_quotes(std::string_view word) {
  std::string result("\"");
  result += word;
  result += '"';
  return result;
}

[[noreturn]] void fail(const std::string& file, const toml::node* node, const std::string& what) {
  const auto line = node ? node->source().begin.line : 0;
  throw LibraryError(file + ":" + std::to_string(line) + ": " + what);
}

double number(const std::string& file, const toml::table& table, const char* key) {
  const toml::node* node = table.get(key);
  if (!node || !node->is_number()) fail(file, &table, in_quotes(key) + " must be a number");
  return node->value<double>().value();
}

std::string text(const std::string& file, const toml::table& table, const char* key) {
  const toml::node* node = table.get(key);
  if (!node || !node->is_string()) fail(file, &table, in_quotes(key) + " must be a text in quotes");
  return node->value<std::string>().value();
}

Ranged read_ranged(const std::string& file, const FeedstockKey& key, const toml::table& table,
                   const toml::table& sources) {
  for (const auto& [name, node] : table)
    if (name != "value" && name != "low" && name != "high" && name != "mark" && name != "source")
      fail(file, &node, in_quotes(name.str()) + " is not known here");
  Ranged r;
  r.value = number(file, table, "value") * key.to_si;
  r.low = number(file, table, "low") * key.to_si;
  r.high = number(file, table, "high") * key.to_si;
  r.mark = text(file, table, "mark");
  const std::string source = text(file, table, "source");
  if (r.mark != "R" && r.mark != "M" && r.mark != "E" && r.mark != "C")
    fail(file, &table, "mark must be R, M, E or C");
  if (!(r.low <= r.value && r.value <= r.high))
    fail(file, &table, key.name + " does not lie between its low and high");
  if (r.low < key.least || r.high > key.most)
    fail(file, &table, key.name + " leaves what is physically possible");
  r.source = text(file, sources, source.c_str());
  return r;
}

/// Reads the ranged values of a table into `values`, over those that are there.
void read_values(const std::string& file, const toml::table& table, const toml::table& sources,
                 Values& values) {
  for (const auto& [name, node] : table) {
    if (name == "name" || name == "class" || name == "aliases" || name == "is" || name == "note") continue;
    const FeedstockKey* key = find_key(name.str());
    if (!key) fail(file, &node, in_quotes(name.str()) + " is not a key of a feedstock");
    const toml::table* inner = node.as_table();
    if (!inner) fail(file, &node, key->name + " must be { value, low, high, mark, source }");
    values[key->name] = read_ranged(file, *key, *inner, sources);
  }
}

/// Lays the marks of `is = ["food", "cooked"]` over `nature`.
void read_nature(const std::string& file, const toml::table& table, Nature& nature) {
  const toml::node* node = table.get("is");
  if (!node) return;
  if (!node->is_array()) fail(file, node, "\"is\" must be a list of words");
  for (const toml::node& entry : *node->as_array()) {
    const std::string word = entry.value_or(std::string());
    bool* mark = word == "food"         ? &nature.food
                 : word == "cooked"     ? &nature.cooked
                 : word == "manure"     ? &nature.manure
                 : word == "weedkiller" ? &nature.weedkiller
                 : word == "sludge"     ? &nature.sludge
                                        : nullptr;
    if (!mark)
      fail(file, &entry, in_quotes(word) + " is not one of food, cooked, manure, weedkiller, sludge");
    *mark = true;
  }
}

bool needs(const LibraryEntry& entry, const FeedstockKey& key) {
  return key.kind == For::all || (key.kind == For::chips) == entry.chips;
}

void require_values(const std::string& file, const toml::table& table, const LibraryEntry& entry) {
  const auto moisture = entry.values.find("moisture");
  if (moisture == entry.values.end()) fail(file, &table, entry.name + " lacks moisture");
  if (moisture->second.value >= 1.0) return;  // pure water has no solids to describe
  for (const FeedstockKey& key : feedstock_keys()) {
    const bool there = entry.values.contains(key.name);
    if (there && !needs(entry, key)) fail(file, &table, key.name + " does not belong to " + entry.name);
    if (needs(entry, key) && !there) fail(file, &table, entry.name + " lacks " + key.name);
  }
  double shares = 0.0;
  for (const char* pool : pool_names) shares += entry.values.at(std::string(pool) + "_share").value;
  if (std::abs(shares - 1.0) > 1e-9) fail(file, &table, "the pools of " + entry.name + " do not add up to 1");
}

LibraryEntry read_entry(const std::string& file, const toml::table& table, const toml::table& root,
                        const toml::table& sources) {
  LibraryEntry entry;
  entry.name = text(file, table, "name");
  if (const toml::table* every = root["every"].as_table()) read_values(file, *every, sources, entry.values);
  if (table.contains("class")) {
    entry.kind = text(file, table, "class");
    const toml::table* shared = root["class"][entry.kind].as_table();
    if (!shared) fail(file, &table, "there is no class " + in_quotes(entry.kind));
    read_values(file, *shared, sources, entry.values);
    read_nature(file, *shared, entry.nature);
  }
  read_values(file, table, sources, entry.values);
  read_nature(file, table, entry.nature);
  if (table.contains("note")) entry.note = text(file, table, "note");
  if (const toml::array* aliases = table["aliases"].as_array())
    for (const toml::node& alias : *aliases) entry.aliases.push_back(alias.value_or(std::string()));
  entry.chips = entry.values.contains("basic_density");
  require_values(file, table, entry);
  entry.activity = entry.values.at("activity").value;
  entry.heat_loving_activity = entry.values.at("heat_loving_activity").value;
  entry.feedstock = to_feedstock(entry);
  return entry;
}

/// The letters and digits that count when names are compared, words parted by one space.
std::string plain(std::string_view name) {
  std::string result;
  for (const char c : name) {
    const auto letter = static_cast<unsigned char>(c);
    if (std::isalnum(letter) || letter >= 0x80)
      result += static_cast<char>(std::tolower(letter));
    else if (!result.empty() && result.back() != ' ')
      result += ' ';
  }
  if (!result.empty() && result.back() == ' ') result.pop_back();
  return result;
}

/// Values by key, the overrides first.
class Chosen {
 public:
  Chosen(const LibraryEntry& entry, const std::map<std::string, double>& overrides)
      : entry_(entry), overrides_(overrides) {}

  bool overridden(const std::string& key) const { return overrides_.contains(key); }

  double operator()(const std::string& key) const {
    if (const auto found = overrides_.find(key); found != overrides_.end()) return found->second;
    const auto found = entry_.values.find(key);
    return found == entry_.values.end() ? 0.0 : found->second.value;
  }

 private:
  const LibraryEntry& entry_;
  const std::map<std::string, double>& overrides_;
};

void check_overrides(const LibraryEntry& entry, const std::map<std::string, double>& overrides) {
  for (const auto& [name, value] : overrides) {
    const FeedstockKey* key = find_key(name);
    if (!key) throw std::invalid_argument(in_quotes(name) + " is not a key of a feedstock");
    if (!(value >= key->least && value <= key->most))
      throw std::invalid_argument(name + " of " + entry.name + " leaves what is physically possible");
    if (key->kind == For::chips && !entry.chips)
      throw std::invalid_argument(name + " belongs to woodchip, " + entry.name + " is none");
    if (entry.chips &&
        (name == "mixing" || name == "mixing_rotted" || name == "rotted_stiffness" || name == "inner_air"))
      throw std::invalid_argument(name + " belongs to the soft matter, " + entry.name + " is woodchip");
  }
  if (entry.chips && overrides.contains("loose_density") && overrides.contains("loose_porosity"))
    throw std::invalid_argument("give either loose_density or loose_porosity of " + entry.name +
                                ", not both");
  if (overrides.contains("ergun_size") && overrides.contains("ergun_share"))
    throw std::invalid_argument("give either ergun_size or ergun_share of " + entry.name + ", not both");
}

/// Chips: loose density, porosity, basic density and moisture hang together; so do Ergun size and length.
void complete_chips(const Chosen& chosen, Feedstock& f) {
  const double solid = f.basic_density / (1.0 - f.moisture);  // wet mass per particle volume
  if (chosen.overridden("loose_density"))
    f.loose_porosity = 1.0 - f.loose_density / solid;
  else
    f.loose_density = solid * (1.0 - f.loose_porosity);
  if (f.loose_porosity <= f.least_porosity)
    throw std::invalid_argument(
        f.name + " is loosely packed as tightly as under load: check loose_density and moisture");
  if (!chosen.overridden("ergun_size")) f.ergun_size = chosen("ergun_share") * f.piece_size;
}

}  // namespace

const std::vector<FeedstockKey>& feedstock_keys() {
  static const std::vector<FeedstockKey> keys = make_keys();
  return keys;
}

Feedstock to_feedstock(const LibraryEntry& entry, const std::map<std::string, double>& overrides) {
  check_overrides(entry, overrides);
  const Chosen chosen(entry, overrides);
  Feedstock f;
  f.name = entry.name;
  f.chips = entry.chips;
  f.nature = entry.nature;
  f.moisture = chosen("moisture");
  f.volatile_solids = chosen("volatile_solids");
  f.carbon = chosen("carbon");
  f.nitrogen = chosen("nitrogen");
  f.available_carbon = chosen("available_carbon");
  f.loose_density = chosen("loose_density");
  f.piece_size = chosen("piece_size");
  f.ergun_size = chosen("ergun_size");
  f.water_capacity = chosen("water_capacity");
  f.basic_density = chosen("basic_density");
  f.inner_air = chosen("inner_air");
  f.loose_porosity = chosen("loose_porosity");
  f.least_porosity = chosen("least_porosity");
  f.softness_stress = chosen("softness_stress");
  if (!f.chips) f.rotted_stiffness = chosen("rotted_stiffness");
  f.mixing = chosen("mixing");
  f.mixing_rotted = chosen("mixing_rotted");
  double shares = 0.0;
  for (std::size_t i = 0; i < f.pools.size(); ++i) {
    const std::string pool(pool_names[i]);
    shares += chosen(pool + "_share");
    f.pools[i] = {chosen(pool + "_share"), chosen(pool + "_rate"), chosen(pool + "_demand")};
  }
  if (shares > 1.0 + 1e-9) throw std::invalid_argument("the pools of " + f.name + " add up to more than 1");
  if (f.chips && f.moisture < 1.0) complete_chips(chosen, f);
  return f;
}

const LibraryEntry* FeedstockLibrary::find(std::string_view name) const {
  const std::string wanted = plain(name);
  for (const LibraryEntry& entry : entries) {
    if (plain(entry.name) == wanted) return &entry;
    for (const std::string& alias : entry.aliases)
      if (plain(alias) == wanted) return &entry;
  }
  return nullptr;
}

std::optional<std::string> FeedstockLibrary::nearest_name(std::string_view name) const {
  std::vector<std::string> known;
  for (const LibraryEntry& entry : entries) known.push_back(entry.name);
  for (const LibraryEntry& entry : entries)
    known.insert(known.end(), entry.aliases.begin(), entry.aliases.end());
  return nearest(plain(name), known);
}

FeedstockLibrary load_feedstock_library(const std::string& path) {
  const std::string file = std::filesystem::path(path).filename().string();
  if (!std::filesystem::is_regular_file(path)) throw LibraryError("there is no feedstock library at " + path);
  toml::table root;
  try {
    root = toml::parse_file(path);
  } catch (const toml::parse_error& error) {
    throw LibraryError(file + ":" + std::to_string(error.source().begin.line) + ": " +
                       std::string(error.description()));
  }
  const toml::table* sources = root["sources"].as_table();
  const toml::array* list = root["feedstock"].as_array();
  if (!sources || !list) fail(file, &root, "the library needs [sources] and [[feedstock]]");
  FeedstockLibrary library;
  for (const toml::node& node : *list) {
    const toml::table* table = node.as_table();
    if (!table) fail(file, &node, "each feedstock is a table");
    LibraryEntry entry = read_entry(file, *table, root, *sources);
    if (library.find(entry.name)) fail(file, table, "the name " + in_quotes(entry.name) + " stands twice");
    for (const std::string& alias : entry.aliases)
      if (library.find(alias)) fail(file, table, "the alias " + in_quotes(alias) + " stands twice");
    library.entries.push_back(std::move(entry));
  }
  return library;
}

}  // namespace updraught
