// What goes into the bed: bucket, feedstocks, fill or layers, depth.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "cases/reader/parts/parsed_case.h"

namespace updraught {

namespace {

constexpr std::size_t most_layers = 100;

/// Shares that are one mass of another; ergun_share is a length of another.
bool share_of_mass(const std::string& name) {
  return name == "moisture" || name == "volatile_solids" || name == "carbon" || name == "nitrogen" ||
         name == "available_carbon" || (name.ends_with("_share") && name != "ergun_share");
}

/// Measure of a feedstock's key by the unit of the library.
Measure measure_of(const FeedstockKey& key) {
  if (key.unit == "kg/kg") return mass_per_mass_measure();
  if (share_of_mass(key.name)) return {"a share of the mass", "", "20 %", false, true};
  if (key.unit == "kg/m3") return density_measure();
  if (key.unit == "mm") return {"a length", "m", "30 mm"};
  if (key.unit == "kPa") return {"a pressure", "Pa", "2 kPa"};
  if (key.unit == "1/day") return rate_measure();
  return share_measure();
}

std::string told_limits(const FeedstockKey& key) {
  const auto number = [](double value) {
    std::string text = std::to_string(value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
  };
  const std::string unit = key.unit == "1" ? "" : " " + key.unit;
  return "between " + number(key.least / key.to_si) + " and " + number(key.most / key.to_si) + unit;
}

/// Lays the values of a table in the case over an entry; the ranges keep their width relative to the value.
std::map<std::string, double> read_values(const Table& table, LibraryEntry& entry) {
  std::map<std::string, double> given;
  for (const FeedstockKey& key : feedstock_keys()) {
    const auto found = table.value(key.name);
    if (!found) continue;
    const std::string told = told_limits(key);
    const auto value = found->quantity(measure_of(key), {key.least, key.most, told.c_str()});
    if (!value) continue;
    Ranged& ranged = entry.values[key.name];
    const double ratio = ranged.value > 0.0 ? *value / ranged.value : 1.0;
    ranged = {*value, ranged.low * ratio, ranged.high * ratio, "given in the case", "given"};
    if (key.name == "activity")
      entry.activity = *value;
    else if (key.name == "heat_loving_activity")
      entry.heat_loving_activity = *value;
    else
      given[key.name] = *value;
  }
  return given;
}

/// Density of the matter without any air (kg/m3): organic 1600, ash 2500, water 1000 (van Ginkel 1999).
double airless_density(const Feedstock& f) {
  const double dry = 1.0 - f.moisture;
  return 1.0 /
         (f.moisture / 1000.0 + dry * (f.volatile_solids / 1600.0 + (1.0 - f.volatile_solids) / 2500.0));
}

void check_feedstock(const Table& table, const Feedstock& f) {
  if (f.moisture < 1.0 && f.loose_density >= airless_density(f)) {
    const std::string limit = std::to_string(static_cast<int>(airless_density(f)));
    table.report(table.has("loose_density") ? "loose_density" : "moisture",
                 "The material would be denser than the same matter without any air (" + limit + " kg/m3).",
                 "Weigh a loosely filled bucket: kilograms over its litres, times 1000.");
  }
}

const LibraryEntry* base_entry(const Table& table, const std::string& name, const ParsedCase& parsed_case) {
  const auto like = table.text("like");
  if (table.has("like") && !like) return nullptr;
  const std::string wanted = like.value_or(name);
  const LibraryEntry* found = parsed_case.library.find(wanted);
  if (found != nullptr) return found;
  const auto near = parsed_case.library.nearest_name(wanted);
  const std::string guess = near ? "Did you mean \"" + *near + "\"?" : "See `updraught feedstocks`.";
  if (like)
    table.report("like", "There is no feedstock \"" + wanted + "\".", guess);
  else
    table.report("\"" + name + "\" is not built in, so the case must say what it is like.",
                 "Add like = \"vegetable scraps (raw)\" or another built-in one. " + guess);
  return nullptr;
}

void read_own_feedstock(const Table& table, const std::string& name, ParsedCase& parsed_case) {
  table.allow();
  const LibraryEntry* base = base_entry(table, name, parsed_case);
  if (base == nullptr) return;
  LibraryEntry own = *base;
  own.name = name;
  own.aliases.clear();
  const auto given = read_values(table, own);
  try {
    own.feedstock = to_feedstock(own, given);
  } catch (const std::invalid_argument& error) {
    table.report(std::string(error.what()) + ".", "See `updraught feedstocks`.");
    return;
  }
  check_feedstock(table, own.feedstock);
  // Placed first, so that it is found before a built-in material of the same name.
  parsed_case.library.entries.insert(parsed_case.library.entries.begin(), std::move(own));
}

void read_feedstocks(const Table& top, ParsedCase& parsed_case) {
  const auto own = top.table("feedstocks");
  if (!own) return;
  for (const std::string& name : own->keys())
    if (own->value(name)->check_text(name, "name"))
      if (const auto table = own->table(name)) read_own_feedstock(*table, name, parsed_case);
}

const LibraryEntry* read_what(const Table& portion, const ParsedCase& parsed_case) {
  const auto what = portion.need("what");
  const auto name = what ? what->text() : std::nullopt;
  if (!name) return nullptr;
  const LibraryEntry* entry = parsed_case.library.find(*name);
  if (entry != nullptr) return entry;
  const auto near = parsed_case.library.nearest_name(*name);
  what->report("There is no feedstock \"" + *name + "\".",
               near ? "Did you mean \"" + *near + "\"?"
                    : "See `updraught feedstocks`, or describe it under [feedstocks].");
  return nullptr;
}

std::optional<ParsedPortion> read_portion(const Table& table, const ParsedCase& parsed_case) {
  table.allow();
  const LibraryEntry* entry = read_what(table, parsed_case);
  int amounts = 0;
  for (const char* key : {"buckets", "volume", "mass"}) amounts += table.has(key) ? 1 : 0;
  if (amounts != 1) {
    table.report(amounts == 0 ? amount_missing : "The amount is given more than once.",
                 "Give one of buckets = 3, volume = \"30 L\" and mass = \"15 kg\".");
    return {};
  }
  ParsedPortion portion;
  const double buckets = table.quantity_or(0.0, "buckets");
  portion.volume =
      table.has("buckets") ? buckets * table.diagnostics().bucket : table.quantity_or(0.0, "volume");
  portion.mass = table.quantity_or(0.0, "mass");
  if (entry == nullptr) return {};
  portion.what = table.text("what").value_or(entry->name);
  portion.feedstock = entry->feedstock;
  portion.range = range_of(*entry);
  portion.activity = entry->activity;
  portion.heat_loving_activity = entry->heat_loving_activity;
  return portion;
}

double dry_mass(const std::vector<ParsedPortion>& portions) {
  double sum = 0.0;
  for (const ParsedPortion& portion : portions)
    sum += portion.wet_mass() * (1.0 - portion.feedstock.moisture);
  return sum;
}

ParsedBatch read_batch(const Table& table, std::string name, ParsedCase& parsed_case) {
  ParsedBatch batch;
  batch.name = std::move(name);
  const auto fill = table.need("fill");
  if (!fill) return batch;
  batch.portions = read_portions(*fill, parsed_case);
  batch.depth = table.quantity("depth");
  if (table.has("activity")) batch.activity = table.quantity_or(0.02, "activity");
  return batch;
}

void read_layers(const Table& top, ParsedCase& parsed_case) {
  top.forbid({"fill", "depth", "activity"}, "layers");
  const auto found = top.value("layers");
  const auto entries = found->list();
  if (!entries) return;
  if (entries->empty())
    found->report("There is no layer in the list.", "Add { fill = [ ... ], depth = \"10 cm\" }.");
  if (entries->size() > most_layers) {
    found->report(fmt::format("{} layers are more than can be computed.", entries->size()),
                  fmt::format("Put like layers together: {} at most.", most_layers));
    return;
  }
  for (const Value& entry : *entries) {
    const auto layer = entry.table();
    if (!layer) continue;
    layer->allow();
    const std::string name =
        layer->text("name").value_or("layer " + std::to_string(parsed_case.batches.size() + 1));
    parsed_case.batches.push_back(read_batch(*layer, name, parsed_case));
  }
}

}  // namespace

std::vector<ParsedPortion> read_portions(const Value& fill, ParsedCase& parsed_case) {
  std::vector<ParsedPortion> portions;
  const auto entries = fill.list();
  if (!entries) return portions;
  double amount = 0.0;
  for (const Value& entry : *entries) {
    const auto table = entry.table();
    const auto portion = table ? read_portion(*table, parsed_case) : std::nullopt;
    if (!portion) continue;
    amount += portion->wet_mass();
    portions.push_back(*portion);
  }
  // What the wrong entries would have added is not known.
  if (portions.size() != entries->size()) return portions;
  if (amount <= 0.0)
    fill.report("The recipe holds nothing.", "Add { what = \"vegetable scraps (raw)\", buckets = 3 }.");
  else if (dry_mass(portions) <= 0.0)
    fill.report("The recipe holds water alone, no dry matter.",
                "Add { what = \"vegetable scraps (raw)\", buckets = 3 }.");
  return portions;
}

void read_recipe(const Table& top, ParsedCase& parsed_case) {
  top.diagnostics().bucket = top.quantity_or(0.01, "bucket");
  read_feedstocks(top, parsed_case);
  parsed_case.woodchip_share = top.quantity("woodchip_share");
  if (top.has("layers")) {
    read_layers(top, parsed_case);
    return;
  }
  parsed_case.depth = top.quantity("depth");
  if (top.has("fill"))
    parsed_case.batches.push_back(read_batch(top, "mix", parsed_case));
  else if (top.has("activity"))
    top.report("activity", "There is no recipe to which it belongs.", "Add fill = [ ... ] or leave it out.");
}

FactorRange range_of(const LibraryEntry& entry) {
  FactorRange range;
  const auto ergun = entry.values.find(entry.chips ? "ergun_share" : "ergun_size");
  if (ergun != entry.values.end() && ergun->second.value > 0.0) {
    range.ergun_low = ergun->second.low / ergun->second.value;
    range.ergun_high = ergun->second.high / ergun->second.value;
  }
  double low = 0.0;
  double middle = 0.0;
  double high = 0.0;
  for (const std::string pool : {"easy", "middling", "hard"}) {
    const auto rate = entry.values.find(pool + "_rate");
    const auto share = entry.values.find(pool + "_share");
    const auto demand = entry.values.find(pool + "_demand");
    if (rate == entry.values.end() || share == entry.values.end() || demand == entry.values.end()) continue;
    const double weight = share->second.value * demand->second.value;
    low += weight * rate->second.low;
    middle += weight * rate->second.value;
    high += weight * rate->second.high;
  }
  if (middle > 0.0) {
    range.uptake_low = low / middle;
    range.uptake_high = high / middle;
  }
  return range;
}

}  // namespace updraught
