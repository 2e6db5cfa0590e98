// feedstocks: the built-in materials with values, ranges, marks and sources.
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "cases/commands/command.h"
#include "cases/library/feedstock_library.h"
#include "cases/machine/data_folder.h"
#include "cases/output/printing.h"
#include "post/tables/summary_json.h"
#include "post/words/text_table.h"
#include "post/words/words.h"

namespace updraught {

namespace {

using nlohmann::json;

std::string marks_told() {
  return "Marks: R read in the source; M from memory, not confirmed; E exact or derived; C our choice within "
         "the range, or "
         "common practice.";
}

std::string in_unit(const FeedstockKey& key, double si) {
  const double value = si / key.to_si;
  if (key.unit == "1") return fmt::format("{:.3g}", value);
  return fmt::format("{:.4g} {}", value, key.unit);
}

void print_list(const FeedstockLibrary& library) {
  std::vector<std::vector<std::string>> lines{{"name", "water", "C:N", "loose", "piece", "also called"}};
  for (const LibraryEntry& entry : library.entries) {
    const Feedstock& f = entry.feedstock;
    std::string aliases;
    for (const std::string& alias : entry.aliases) aliases += (aliases.empty() ? "" : ", ") + alias;
    lines.push_back({entry.name, fmt::format("{:.0f} %", 100.0 * f.moisture),
                     f.nitrogen > 0.0 ? fmt::format("{:.0f}", f.carbon / f.nitrogen) : "-",
                     fmt::format("{:.0f} kg/m3", f.loose_density),
                     f.piece_size > 0.0 ? fmt::format("{:.3g} mm", 1000.0 * f.piece_size) : "-", aliases});
  }
  std::printf("%s\nOne material with all values and sources: updraught feedstocks NAME\n",
              text_table(lines).c_str());
}

/// What cautions go by, in the words of the library.
std::vector<std::string> marks_of(const Nature& nature) {
  std::vector<std::string> marks;
  const auto add = [&marks](bool holds, const char* word) {
    if (holds) marks.emplace_back(word);
  };
  add(nature.food, "food");
  add(nature.cooked, "cooked");
  add(nature.manure, "manure");
  add(nature.weedkiller, "weedkiller");
  add(nature.sludge, "sludge");
  return marks;
}

void print_entry(const LibraryEntry& entry) {
  std::printf("%s\n", entry.name.c_str());
  for (const std::string& alias : entry.aliases) std::printf("  also called %s\n", alias.c_str());
  if (!entry.note.empty()) std::printf("\n%s\n", entry.note.c_str());
  const std::vector<std::string> marks = marks_of(entry.nature);
  if (!marks.empty()) std::printf("\nCautions go by: %s.\n", listed(marks).c_str());
  std::vector<std::vector<std::string>> lines{{"key", "value", "low", "high", "mark", "source"}};
  for (const FeedstockKey& key : feedstock_keys()) {
    const auto found = entry.values.find(key.name);
    if (found == entry.values.end()) continue;
    const Ranged& r = found->second;
    lines.push_back(
        {key.name, in_unit(key, r.value), in_unit(key, r.low), in_unit(key, r.high), r.mark, r.source});
  }
  std::printf("\n%s\n%s\n", text_table(lines).c_str(), marks_told().c_str());
}

json entry_json(const LibraryEntry& entry) {
  json values = json::object();
  for (const FeedstockKey& key : feedstock_keys()) {
    const auto found = entry.values.find(key.name);
    if (found == entry.values.end()) continue;
    const Ranged& r = found->second;
    values[key.name] = {{"value", r.value / key.to_si},
                        {"low", r.low / key.to_si},
                        {"high", r.high / key.to_si},
                        {"unit", key.unit},
                        {"mark", r.mark},
                        {"source", r.source}};
  }
  return {{"name", entry.name}, {"aliases", entry.aliases},     {"chips", entry.chips},
          {"note", entry.note}, {"is", marks_of(entry.nature)}, {"values", values}};
}

}  // namespace

int feedstocks_command(const FeedstocksOptions& options) {
  const FeedstockLibrary library = load_feedstock_library(data_folder() / "feedstocks.toml");
  if (options.name.empty()) {
    if (!options.common.json) {
      print_list(library);
      return exit_done;
    }
    json list = json::array();
    for (const LibraryEntry& entry : library.entries) list.push_back(entry_json(entry));
    std::printf("%s\n", json_text({{"feedstocks", list}}).c_str());
    return exit_done;
  }
  const LibraryEntry* entry = library.find(options.name);
  if (entry == nullptr) {
    const auto near = library.nearest_name(options.name);
    print_error(fmt::format(
        "updraught: feedstocks: there is no feedstock \"{}\". {}\n", options.name,
        near ? fmt::format("Did you mean \"{}\"?", *near) : std::string("Without a name all are listed.")));
    return exit_wrong_use;
  }
  if (options.common.json)
    std::printf("%s\n", json_text(entry_json(*entry)).c_str());
  else
    print_entry(*entry);
  return exit_done;
}

}  // namespace updraught
