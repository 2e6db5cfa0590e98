// Every key that a case may hold changes some result: two cases that differ in that key alone are computed on
// few cells, and what comes out must differ.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "cases/reader/keys/keys.h"
#include "cases/reader/read_case.h"
#include "post/result/summary.h"
#include "post/tables/summary_json.h"
#include "solver/run.h"
#include "tests/whole/key_rows.h"

namespace updraught::whole {
namespace {

using nlohmann::json;

std::string key_of(const std::string& line) {
  return line.substr(0, line.find_first_of(" ="));
}

/// Lays lines over a text: each replaces the line of its key or is added; "- KEY" takes a line away.
std::string laid_over(const std::string& text, const std::string& lines) {
  std::vector<std::string> kept;
  std::istringstream old(text), changes(lines);
  for (std::string line; std::getline(old, line);) kept.push_back(line);
  for (std::string line; std::getline(changes, line);) {
    const bool away = line.starts_with("- ");
    const std::string key = away ? line.substr(2) : key_of(line);
    std::erase_if(kept, [&](const std::string& other) { return key_of(other) == key; });
    if (!away) kept.push_back(line);
  }
  std::string out;
  for (const std::string& line : kept) out += line + "\n";
  return out;
}

/// All that a run tells, without times and memory: the printed summary, title and pictures.
json told(const std::string& text) {
  const ReadOutcome outcome = read_case_text(text, "box.toml");
  if (!outcome.read) throw std::runtime_error(to_text(outcome.mistakes) + "\n" + text);
  json pictures = json::array();
  Observer observer;
  observer.on_picture = [&](const Grid&, const State&, const Picture& picture, const SeriesRow&) {
    json fields{{"time", picture.time}, {"z", picture.z}};
    for (const PictureField& field : picture.fields) fields[field.name] = field.values;
    pictures.push_back(fields);
  };
  Result result;
  result.name = "box";
  result.run = run(outcome.read->problem, observer);
  json object = to_json(summarise(result));
  for (const char* clock : {"wall_seconds", "band_seconds", "peak_memory_mb", "seconds", "balances"})
    object.erase(clock);
  object["title"] = outcome.read->problem.title;
  object["pictures"] = pictures;
  return object;
}

/// True when some number differs by more than rounding, or anything else differs at all.
bool differ(const json& a, const json& b) {
  if (a.is_number() && b.is_number()) {
    const double x = a.get<double>(), y = b.get<double>();
    return std::abs(x - y) > 1e-9 * std::max(std::abs(x), std::abs(y));
  }
  if (a.type() != b.type()) return true;
  if (!a.is_structured()) return a != b;
  if (a.size() != b.size()) return true;
  for (auto one = a.begin(), other = b.begin(); one != a.end(); ++one, ++other)
    if ((a.is_object() && one.key() != other.key()) || differ(*one, *other)) return true;
  return false;
}

TEST(Keys, EveryKeyChangesSomeResult) {
  std::map<std::string, json> known;
  const auto result_of = [&](const std::string& text) -> const json& {
    const auto found = known.find(text);
    return found != known.end() ? found->second : known.emplace(text, told(text)).first->second;
  };
  for (const Row& row : all_rows()) {
    // Words alone: Compare.TellsBothCasesAndWritesThem, Findings.SpeakOfTheDayThatACaseNames.
    if (row.key == "design" || row.key == "told_day") continue;
    const std::string one = laid_over(bases().at(row.base), row.both), other = laid_over(one, row.other);
    try {
      EXPECT_TRUE(differ(result_of(one), result_of(other))) << row.key << " changes nothing:\n" << other;
    } catch (const std::exception& error) {
      ADD_FAILURE() << row.key << ": " << error.what();
    }
  }
}

/// The parts of all keys above, such as "daily" and "low".
std::set<std::string> tried_words() {
  std::set<std::string> words;
  for (const Row& row : all_rows()) {
    std::istringstream parts(row.key.substr(0, row.key.find_first_of(": ")));
    for (std::string part; std::getline(parts, part, '.');) words.insert(part);
  }
  words.insert("name");  // of layers: NamesOfLayersAreTold
  return words;
}

TEST(Keys, NamesOfLayersAreTold) {
  const Folder folder("layer_names");
  folder.write("box.toml", laid_over(bases().at("box"),
                                     "- fill\n- depth\nlayers = [ { name = \"drain\", depth = \"10 cm\", "
                                     "fill = [ { what = \"woodchip, coarse\", buckets = 1 } ] }, { depth = "
                                     "\"50 cm\", fill = [ { what = \"kitchen waste\", buckets = 1 } ] } ]"));
  const Said said = folder.run({"check", "box.toml", "--json"});
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(said.json()["layers"][0]["name"], "drain");
  EXPECT_EQ(said.json()["layers"][1]["name"], "layer 2");
  EXPECT_NE(folder.run({"check", "box.toml"}).out.find("drain, 0.1 m deep"), std::string::npos);
}

TEST(Keys, CheckTellsAreaBucketsAndWhatTheComputationTakes) {
  const Folder folder("check_facts");
  folder.write("box.toml", ready_case("starter"));
  const json told = folder.run({"check", "box.toml", "--json"}).json();
  EXPECT_NEAR(told["free_area_cm2"]["base mesh"], 1620.0, 1e-6);
  EXPECT_NEAR(told["free_area_cm2"]["lid gap"], 180.0, 1e-6);
  EXPECT_NEAR(told["free_area_in_all_cm2"], 1800.0, 1e-6);
  EXPECT_EQ(told["layers"][0]["buckets"], "40 vegetable scraps (raw) and 27 woodchip, coarse");
  EXPECT_GT(told["expected"]["seconds"], 1.0);
  EXPECT_GT(told["expected"]["band_seconds"], 0.1);
  EXPECT_GT(told["expected"]["memory_mb"], 100.0);
  EXPECT_TRUE(told["doubts"].empty());
  const std::string text = folder.run({"check", "box.toml"}).out;
  for (const char* part : {"base mesh, 1620 cm2 free", "1800 cm2 free", "buckets of 10 L to fill in",
                           "time to compute", "MB of memory"})
    EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
}

/// Names of all keys that a table and the tables in it may hold; each list of rules once.
void collect_names(const KeyRules& rules, std::set<const KeyRules*>& seen, std::set<std::string>& names) {
  if (!seen.insert(&rules).second) return;
  for (const KeyRule& rule : rules) {
    if (!rule.name.empty()) names.insert(rule.name);
    for (const auto inner : {rule.keys, rule.entries})
      if (inner != nullptr) collect_names(inner(), seen, names);
  }
}

TEST(Keys, NoKeyOfTheReaderIsLeftOut) {
  const std::set<std::string> tried = tried_words();
  std::set<const KeyRules*> seen;
  std::set<std::string> names;
  collect_names(top_keys(), seen, names);
  EXPECT_GT(seen.size(), 20u);
  EXPECT_GT(names.size(), 100u);
  for (const std::string& name : names) EXPECT_TRUE(tried.contains(name)) << name;
}

}  // namespace
}  // namespace updraught::whole
