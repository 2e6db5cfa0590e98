// Ways in and out for air: air_in and air_out. The two lists have the same form; which way the air goes is
// computed.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "cases/reader/keys/keys.h"
#include "cases/reader/parts/parsed_case.h"

namespace updraught {

namespace {

using Where = Opening::Where;
using Kind = Opening::Kind;

constexpr std::size_t most_openings = 100;  // in each list
constexpr Limits hole_limits{0.0005, 1.0, "a hole is between 0.5 mm and 1 m wide"};
constexpr Limits mesh_limits{1e-4, 0.2, "meshes are between 0.1 mm and 20 cm wide"};
constexpr Limits slit_limits{0.0001, 0.5, "a slit is between 0.1 mm and 50 cm wide"};

/// Kinds that exist at a place.
std::vector<std::string> kinds_at(Where where) {
  switch (where) {
    case Where::side:
      return {"hole", "holes", "slots"};
    case Where::base:
      return {"open", "mesh", "slots", "hole", "holes"};
    case Where::lid:
      return {"gap", "mesh", "slots", "hole", "holes"};
    case Where::top:
      return {"open", "mesh"};
  }
  return {};
}

/// The words of a key stand in the order of what they mean.
template <class Word>
Word indexed(std::string_view key, const std::string& word) {
  const std::vector<std::string>& words = find_rule(opening_keys(), key)->words;
  return static_cast<Word>(std::find(words.begin(), words.end(), word) - words.begin());
}

bool round_hole(const Opening& opening) {
  return opening.kind == Kind::hole || opening.kind == Kind::holes;
}
bool slit(const Opening& opening) {
  return opening.kind == Kind::slots || opening.kind == Kind::gap;
}
bool patch(const Opening& opening) {
  return opening.kind == Kind::open || opening.kind == Kind::mesh;
}

/// Keys that have a meaning for this opening.
std::vector<std::string> keys_of(const Opening& opening) {
  std::vector<std::string> keys{"where", "kind", "name", "pressure", "loss", "diffuses"};
  const auto add = [&](std::initializer_list<std::string> more) { keys.insert(keys.end(), more); };
  if (opening.kind != Kind::open) add({"blocked", "plate"});
  if (opening.kind == Kind::mesh || round_hole(opening)) add({"open"});
  if (opening.kind != Kind::open) add({"size"});
  if (opening.kind == Kind::holes) add({"count"});
  if (slit(opening)) add({"length"});
  if (opening.where == Where::side) add({"side", "heights"});
  if (opening.kind == Kind::hole) add({"along"});
  if (opening.kind == Kind::hole && opening.where != Where::side) add({"across"});
  if (patch(opening) && opening.where != Where::lid) add({"from", "to", "held_at"});
  return keys;
}

std::string name_of(const std::string& where, const std::string& kind) {
  return kind == "open" ? fmt::format("open {}", where) : fmt::format("{} {}", where, kind);
}

void check_keys(const Table& table, const Opening& opening, const std::string& where,
                const std::string& kind) {
  table.allow();
  const std::vector<std::string> meant = keys_of(opening);
  for (const std::string& key : names_of(opening_keys())) {
    if (!table.has(key) || std::find(meant.begin(), meant.end(), key) != meant.end()) continue;
    table.report(key, fmt::format("This key has no meaning for where = \"{}\", kind = \"{}\".", where, kind),
                 "Leave it out.");
  }
}

void read_side(const Table& table, Opening& opening) {
  const bool lone = opening.kind == Kind::hole;
  const std::string word = table.word("side").value_or(lone ? "right" : "all");
  opening.all_sides = word == "all";
  if (!opening.all_sides) opening.side = indexed<Side>("side", word);
  const auto heights = table.need("heights");
  if (!heights) return;
  const auto entries = heights->list();
  if (!entries) return;
  for (const Value& height : *entries)
    if (const auto read = height.quantity()) opening.heights.push_back(*read);
  if (entries->empty()) heights->report("There is no height in the list.", "Write heights = [\"15 cm\"].");
  if (lone && entries->size() > 1)
    heights->report("One hole has one height.", "Write kind = \"holes\" with a count, or keep one height.");
}

void read_size(const Table& table, Opening& opening) {
  if (round_hole(opening)) {
    const auto size = table.need("size", "size = \"12 mm\"");
    opening.diameter = size ? size->quantity(length_measure(), hole_limits).value_or(0.01) : 0.01;
  } else {
    const auto size = table.need("size", "size = \"5 mm\"");
    opening.size = size ? size->quantity(length_measure(), slit_limits).value_or(0.001) : 0.001;
    if (opening.where == Where::base) table.need("length", "length = \"2 m\", all slots together");
    opening.length = table.quantity_or(0.0, "length");
  }
  if (opening.kind == Kind::holes) {
    const auto count = table.need("count");
    opening.count = count ? count->count().value_or(1) : 1;
  }
}

/// Loss in velocity heads, zeta = 1/Cd^2; 0: none.
void read_loss(const Table& table, Opening& opening) {
  opening.discharge = opening.kind == Kind::open ? 0.0 : 0.6;
  const auto loss = table.value("loss");
  if (!loss) return;
  const auto heads = loss->quantity();
  if (!heads) return;
  if (*heads > 0.0 && *heads < 1.0) {
    loss->report("Less than one velocity head cannot be lost where air jets out.",
                 "Write 0 (none) or at least 1.");
    return;
  }
  opening.discharge = *heads > 0.0 ? 1.0 / std::sqrt(*heads) : 0.0;
}

void read_patch(const Table& table, Opening& opening) {
  opening.patch_from = table.quantity_or(0.0, "from");
  opening.patch_to = table.quantity_or(1.0, "to");
  if (opening.patch_from >= opening.patch_to)
    table.report("to", "The open part ends before it begins.", "Write `from` smaller than `to`.");
  opening.held_at = table.quantity("held_at");
}

std::optional<Opening> read_opening(const Table& table) {
  const auto where = table.need("where");
  const auto kind = table.need("kind");
  const auto place = where ? where->word() : std::nullopt;
  if (!place || !kind) return {};
  Opening opening;
  opening.where = indexed<Where>("where", *place);
  const auto word = kind->word(kinds_at(opening.where));
  if (!word) return {};
  opening.kind = indexed<Kind>("kind", *word);
  check_keys(table, opening, *place, *word);
  opening.name = table.text("name").value_or(name_of(*place, *word));
  if (opening.where == Where::side) read_side(table, opening);
  if (!patch(opening)) read_size(table, opening);
  if (opening.kind == Kind::mesh) {
    const auto size = table.value("size");
    opening.diameter = size ? size->quantity(length_measure(), mesh_limits).value_or(0.006) : 0.006;
  }
  read_loss(table, opening);
  if (patch(opening) && opening.where != Where::lid) read_patch(table, opening);
  opening.open_share = table.quantity_or(opening.kind == Kind::mesh ? 0.5 : 1.0, "open");
  opening.blocked = table.quantity_or(0.0, "blocked");
  opening.plate = table.quantity("plate");
  opening.along = table.quantity_or(0.5, "along");
  opening.across = table.quantity_or(0.5, "across");
  opening.pressure = table.quantity_or(0.0, "pressure");
  opening.diffuses = table.flag_or(true, "diffuses");
  return opening;
}

/// Two openings of one name get a number, so that results can tell them apart.
void make_name_unique(Opening& opening, const std::vector<Opening>& others) {
  const std::string plain = opening.name;
  const auto taken = [&] {
    return std::any_of(others.begin(), others.end(),
                       [&](const Opening& o) { return o.name == opening.name; });
  };
  for (int number = 2; taken(); ++number) opening.name = fmt::format("{} {}", plain, number);
}

}  // namespace

void read_openings(const Table& top, ParsedCase& parsed_case) {
  for (const char* list : {"air_in", "air_out"}) {
    const std::vector<Value> entries = top.list(list);
    if (entries.size() > most_openings) {
      top.report(list, fmt::format("{} openings are more than can be computed.", entries.size()),
                 fmt::format("Put like holes together: kind = \"holes\" with a count; {} openings at most.",
                             most_openings));
      continue;
    }
    for (const Value& entry : entries) {
      const auto table = entry.table();
      auto opening = table ? read_opening(*table) : std::nullopt;
      if (!opening) continue;
      make_name_unique(*opening, parsed_case.problem.openings);
      parsed_case.problem.openings.push_back(std::move(*opening));
      parsed_case.opening_tables.push_back(*table);
    }
  }
  const bool through_base =
      std::any_of(parsed_case.problem.openings.begin(), parsed_case.problem.openings.end(),
                  [](const Opening& o) { return o.where == Where::base; });
  if (!parsed_case.base_given)
    parsed_case.problem.base.kind = through_base ? Base::Kind::raised : Base::Kind::closed;
}

}  // namespace updraught
