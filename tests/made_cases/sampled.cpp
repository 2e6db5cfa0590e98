#include "tests/made_cases/sampled.h"

#include <array>
#include <set>
#include <utility>
#include <vector>

#include "tests/made_cases/edit_case.h"

namespace updraught::made_cases {

namespace {

/// What is changed: two beds with a recipe, a slice of a heap, and a bed without a recipe.
const std::array<const char*, 4> bases{
    "bin = { width = \"0.9 m\", length = \"0.9 m\", height = \"1 m\" }\nmode = \"rings\"\n"
    "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
    "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.6 } ]\n"
    "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
    "fill = [ { what = \"kitchen waste\", buckets = 3 }, { what = \"woodchip, coarse\", buckets = 2 } ]\n"
    "depth = \"0.7 m\"\noutside = { temperature = \"8 degC\" }\n",
    "bin = { width = \"0.9 m\", length = \"0.7 m\", height = \"1 m\" }\nmode = \"whole\"\n"
    "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\nwall_lane = false\n"
    "lid = \"none\"\nbase = { kind = \"closed\" }\n"
    "fill = [ { what = \"grass clippings\", buckets = 1 }, { what = \"straw\", buckets = 2 } ]\n"
    "depth = \"0.6 m\"\noutside = { temperature = \"12 degC\" }\n",
    "bin = { width = \"2 m\", height = \"1.2 m\" }\nmode = \"slice\"\nlid = \"none\"\n"
    "fill = [ { what = \"horse manure\", buckets = 3 }, { what = \"woodchip, fine\", buckets = 2 } ]\n"
    "depth = \"1 m\"\noutside = { daily = { low = \"4 degC\", high = \"14 degC\" } }\n",
    "bin = { width = \"1 m\", height = \"1 m\" }\nmode = \"slice\"\n"
    "base = { kind = \"closed\" }\nfloor = { held_at = \"30 degC\" }\nlid = { kind = \"none\", held_at = "
    "\"10 degC\" }\n"
    "prescribed = { permeability = \"1e-8 m2\", porosity = 0.4, density = \"600 kg/m3\", "
    "conductivity = \"0.4 W/mK\", heat_capacity = \"3000 J/kgK\", diffusivity = \"5e-6 m2/s\" }\n"};

/// How long and on how many cells is not left to the lot, nor are pictures, which nobody sees here, nor what
/// moves all materials together, which each of them does by itself.
bool may_change(const KeyRule& rule) {
  static const std::set<std::string> fixed{"days",         "cells",    "detail", "pictures_every",
                                           "longest_step", "question", "laws",   "woodchip_share"};
  return rule.table == Kind::top ? !fixed.contains(rule.key) : rule.table != Kind::laws;
}

using Choice = std::pair<const KeyRule*, const std::string*>;

/// Each allowed value of each key that may change.
std::vector<Choice> all_choices() {
  std::vector<Choice> all;
  for (const KeyRule& rule : key_rules())
    if (may_change(rule))
      for (const std::string& value : rule.values) all.emplace_back(&rule, &value);
  return all;
}

void count_cells(toml::table& tree) {
  const std::string mode = tree["mode"].value_or(std::string("rings"));
  tree.insert_or_assign("cells", mode == "whole" ? toml::array{5, 5, 8} : toml::array{8, 12});
}

}  // namespace

Sampled sampled_case(std::uint64_t n) {
  static const std::vector<Choice> choices = all_choices();
  Draws draws(n);
  while (true) {
    toml::table tree = *tree_of(draws.one_of(bases));
    // One key alone in a third of the cases, else two or three together.
    for (std::size_t keys = 1 + draws.below(3); keys > 0; --keys) {
      const auto& [rule, value] = draws.one_of(choices);
      set_key(tree, *rule, *value, draws);
    }
    tree.insert_or_assign("days", static_cast<std::int64_t>(2 + draws.below(4)));
    count_cells(tree);
    const std::string text = text_of(tree);
    ReadOutcome outcome = read_case_text(text, "sampled.toml");
    if (outcome.read) return {text, std::move(*outcome.read)};
  }
}

}  // namespace updraught::made_cases
