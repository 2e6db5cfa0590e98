// The tables of keys in docs/cases.md are written from the rules of the reader: this test holds them equal.
// UPDRAUGHT_WRITE_KEYS=1 build/tests/test_unit --gtest_filter='KeyDocs*' writes them anew.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "cases/reader/keys/keys.h"
#include "cases/reader/read_case.h"
#include "tests/made_cases/key_rules.h"

namespace updraught {
namespace {

const std::string document = std::string(UPDRAUGHT_SOURCE_DIR) + "/docs/cases.md";

std::string text_of(const std::string& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

/// Keys with what they mean; the default's column only where some key has one.
std::string meanings(const KeyRules& rules) {
  bool defaults = false;
  for (const KeyRule& rule : rules) defaults = defaults || !rule.otherwise.empty();
  std::string text =
      defaults ? "| key | meaning | default |\n|---|---|---|\n" : "| key | meaning |\n|---|---|\n";
  for (const KeyRule& rule : rules)
    text += fmt::format("| `{}` | {} |{}\n", rule.name, rule.meaning,
                        defaults ? " " + rule.otherwise + " |" : "");
  return text;
}

/// Every key below a path with what it takes; tables that are alike once.
void list_keys(const KeyRules& rules, const std::string& path, std::map<const KeyRules*, std::string>& told,
               std::string& text) {
  for (const KeyRule& rule : rules) {
    const std::string here = path + rule.name;
    std::string takes = rule.takes();
    for (const auto inner : {rule.keys, rule.entries})
      if (inner != nullptr && told.contains(&inner()))
        takes += fmt::format("; keys as of `{}`", told[&inner()]);
    text += fmt::format("| `{}` | {} |\n", here, takes);
    for (const bool list : {false, true}) {
      const auto inner = list ? rule.entries : rule.keys;
      if (inner == nullptr || told.contains(&inner()) || inner().front().name.empty()) continue;
      told[&inner()] = here + (list ? "[n]" : "");
      list_keys(inner(), here + (list ? "[n]." : "."), told, text);
    }
  }
}

std::string all_keys() {
  std::string text = "| key | takes |\n|---|---|\n";
  std::map<const KeyRules*, std::string> told;
  list_keys(top_keys(), "", told, text);
  return text;
}

/// A document with each of its tables of keys written anew.
std::string written(const std::string& before) {
  const std::map<std::string, std::string> tables{{"bin", meanings(bin_part())},
                                                  {"opening", meanings(opening_keys())},
                                                  {"recipe", meanings(recipe_part())},
                                                  {"laws", meanings(laws_keys())},
                                                  {"outside", meanings(outside_keys())},
                                                  {"computing", meanings(computing_part())},
                                                  {"prescribed", meanings(prescribed_keys())},
                                                  {"all", all_keys()}};
  std::string text = before;
  for (const auto& [name, table] : tables) {
    const std::string mark = "<!-- keys: " + name + " -->\n";
    const std::size_t from = text.find(mark);
    if (from == std::string::npos) throw std::runtime_error("docs/cases.md has no place for: " + name);
    const std::size_t start = from + mark.size(), end = text.find("<!-- end of keys -->", start);
    text.replace(start, end - start, table);
  }
  return text;
}

TEST(KeyDocs, AreWhatTheReaderGoesBy) {
  const std::string now = text_of(document), right = written(now);
  if (std::getenv("UPDRAUGHT_WRITE_KEYS") != nullptr) std::ofstream(document, std::ios::binary) << right;
  std::istringstream there(now), wanted(right);
  for (std::string a, b; std::getline(wanted, b);) {
    std::getline(there, a);
    ASSERT_EQ(a, b) << "UPDRAUGHT_WRITE_KEYS=1 writes the tables anew";
  }
}

/// The rules and their paths, each list of rules once.
void collect(const KeyRules& rules, std::set<const KeyRules*>& seen, std::vector<const KeyRule*>& all) {
  if (!seen.insert(&rules).second) return;
  for (const KeyRule& rule : rules) {
    all.push_back(&rule);
    for (const auto inner : {rule.keys, rule.entries})
      if (inner != nullptr) collect(inner(), seen, all);
  }
}

std::vector<const KeyRule*> all_rules() {
  std::set<const KeyRules*> seen;
  std::vector<const KeyRule*> all;
  collect(top_keys(), seen, all);
  return all;
}

TEST(KeyRules, AreSound) {
  for (const KeyRule* rule : all_rules()) {
    EXPECT_FALSE(rule->takes().empty()) << rule->name;
    if (rule->form == KeyRule::Form::word) {
      EXPECT_FALSE(rule->words.empty()) << rule->name;
    }
    if (rule->form == KeyRule::Form::quantity || rule->form == KeyRule::Form::number) {
      EXPECT_LT(rule->limits.low, rule->limits.high) << rule->name;
      EXPECT_STRNE(rule->limits.told, "") << rule->name;
    }
    if (rule->form == KeyRule::Form::table) {
      EXPECT_NE(rule->keys, nullptr) << rule->name;
    }
  }
  for (const KeyRules* part : {&bin_part(), &recipe_part(), &around_part(), &computing_part()})
    for (const KeyRule& rule : *part)
      EXPECT_FALSE(rule.meaning.empty() || rule.otherwise.empty()) << rule.name;
}

TEST(KeyRules, TheListOfMadeCasesHasEachKey) {
  std::set<std::string> made, known;
  for (const made_cases::KeyRule& rule : made_cases::key_rules()) made.insert(rule.key);
  for (const KeyRule* rule : all_rules())
    if (!rule->name.empty()) known.insert(rule->name);
  EXPECT_EQ(made, known);
  std::set<std::string> top;
  for (const made_cases::KeyRule* rule : made_cases::rules_of(made_cases::Kind::top)) top.insert(rule->key);
  const std::vector<std::string> names = names_of(top_keys());
  EXPECT_EQ(top, std::set<std::string>(names.begin(), names.end()));
}

TEST(KeyRules, TheStarterShowsEachKeyButThoseForFew) {
  const std::set<std::string> for_few{"prescribed", "air", "laws", "woodchip_share", "activity", "told_day"};
  const std::string starter = text_of(std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/starter.toml");
  for (const std::string& name : names_of(top_keys())) {
    const bool shown = starter.find("\n# " + name + " =") != std::string::npos ||
                       starter.find("\n" + name + " ") != std::string::npos ||
                       starter.find("\n#   " + name + " =") != std::string::npos ||
                       starter.starts_with(name + " ");
    EXPECT_NE(shown, for_few.contains(name)) << name;
  }
  // And each line that a person may take the mark from is one that the reader knows.
  std::istringstream lines(starter);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t end = line.find(" = ");
    if (!line.starts_with("# ") || end == std::string::npos || line.find(' ', 2) != end) continue;
    EXPECT_NE(find_rule(top_keys(), line.substr(2, end - 2)), nullptr) << line;
  }
}

}  // namespace
}  // namespace updraught
