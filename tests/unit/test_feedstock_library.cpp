#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <string>

#include "cases/library/feedstock_library.h"
#include "solver/material/mixture.h"
#include "solver/material/packing.h"

namespace updraught {
namespace {

std::string shipped_path() {
  return std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/feedstocks.toml";
}

const FeedstockLibrary& shipped() {
  static const FeedstockLibrary library = load_feedstock_library(shipped_path());
  return library;
}

/// Text of the shipped library with one piece exchanged, read back from a file.
FeedstockLibrary load_changed(const std::string& from, const std::string& to) {
  std::ifstream in(shipped_path());
  std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  const auto at = text.find(from);
  if (at == std::string::npos) throw std::logic_error("the library does not hold: " + from);
  text.replace(at, from.size(), to);
  const auto path = std::filesystem::temp_directory_path() /
                    ("updraught-library-" + std::to_string(std::hash<std::string>{}(text)) + ".toml");
  std::ofstream(path) << text;
  try {
    FeedstockLibrary library = load_feedstock_library(path.string());
    std::filesystem::remove(path);
    return library;
  } catch (...) {
    std::filesystem::remove(path);
    throw;
  }
}

TEST(Library, HoldsTheMaterialsThatPeopleName) {
  for (const char* name : {"vegetable scraps (raw)",
                           "cooked food",
                           "fruit",
                           "grass clippings",
                           "leaves",
                           "straw",
                           "hay",
                           "garden prunings",
                           "horse manure",
                           "cattle manure",
                           "poultry manure",
                           "cardboard",
                           "paper",
                           "sawdust",
                           "woodchip, coarse",
                           "woodchip, fine",
                           "finished compost",
                           "coffee grounds",
                           "bread",
                           "tea leaves",
                           "fish scraps",
                           "meat scraps",
                           "digestate (solid, separated)",
                           "sewage sludge (dewatered)",
                           "pine bark",
                           "wood shavings",
                           "nut shells",
                           "straw pellets"})
    EXPECT_TRUE(shipped().find(name)) << name;
  EXPECT_EQ(shipped().find("Kitchen-Waste")->name, "vegetable scraps (raw)");
  EXPECT_EQ(shipped().find("chips")->name, "woodchip, coarse");
  EXPECT_FALSE(shipped().find("gravel"));
  EXPECT_EQ(shipped().nearest_name("vegtable scraps"), "vegetable scraps");
}

TEST(Library, EveryMaterialMakesABed) {
  for (const LibraryEntry& entry : shipped().entries) {
    if (entry.feedstock.moisture >= 1.0) continue;
    const Blend b = blend({{entry.feedstock, 1.0}});
    const Packed loose = pack(b, fresh_matter(b), 0.0);
    EXPECT_NEAR(1.0 / loose.volume / entry.feedstock.loose_density, 1.0, 1e-9) << entry.name;
    EXPECT_GT(loose.between, 0.05) << entry.name;
    EXPECT_EQ(particle_volumes(b, fresh_matter(b)).free_water, 0.0) << entry.name;
    EXPECT_LT(pack(b, fresh_matter(b), 5000.0).volume, loose.volume) << entry.name;
  }
}

TEST(Library, LowAndHighMakeBedsToo) {
  for (const LibraryEntry& entry : shipped().entries) {
    if (entry.feedstock.moisture >= 1.0) continue;
    for (const auto& [key, ranged] : entry.values) {
      if (key.ends_with("_share") && key != "ergun_share") continue;  // pools move together
      for (const double value : {ranged.low, ranged.high})
        EXPECT_NO_THROW(blend({{to_feedstock(entry, {{key, value}}), 1.0}})) << entry.name << " " << key;
    }
  }
}

TEST(Library, BarkAndShellsAreChipsAndShavingsAreNoSawdust) {
  EXPECT_TRUE(shipped().find("bark")->chips && shipped().find("walnut shells")->chips);
  EXPECT_EQ(shipped().find("shavings")->name, "wood shavings");
  EXPECT_LT(shipped().find("wood shavings")->feedstock.loose_density,
            0.5 * shipped().find("sawdust")->feedstock.loose_density);
}

TEST(Library, NotesSayWhatTheNumbersLeaveOut) {
  EXPECT_NE(shipped().find("straw pellets")->note.find("swell"), std::string::npos);
  EXPECT_TRUE(shipped().find("straw")->note.empty());
  EXPECT_EQ(load_changed("note = \"Bags", "note = \"Sacks").find("tea")->note.substr(0, 5), "Sacks");
  EXPECT_THROW(load_changed("note = \"Bags of plastic mesh do not rot.\"", "note = 3"), LibraryError);
}

TEST(Library, CarbonToNitrogenOfNewMaterialsIsThatOfTables) {
  const auto ratio = [](const char* name) {
    const Feedstock& f = shipped().find(name)->feedstock;
    return f.carbon / f.nitrogen;
  };
  EXPECT_NEAR(ratio("coffee grounds"), 24.0, 1.0);  // 24:1 read
  EXPECT_NEAR(ratio("fish scraps"), 3.6, 1.4);      // 2.6 to 5.0 (NRAES-54, from memory)
  EXPECT_NEAR(ratio("sewage sludge"), 10.0, 6.0);   // 5 to 16 (NRAES-54, from memory)
  EXPECT_GT(ratio("pine bark"), 131.0);             // softwood bark 131 to 1285 (NRAES-54, from memory)
  EXPECT_LT(ratio("pine bark"), 1285.0);
}

TEST(Library, ConvertsUnitsAndKeepsSources) {
  const LibraryEntry& food = *shipped().find("kitchen waste");
  EXPECT_NEAR(food.feedstock.pools[pool_of::easy].rate * 86400.0, 0.40, 1e-12);
  EXPECT_NEAR(food.feedstock.softness_stress, 6000.0, 1e-9);
  EXPECT_NEAR(food.feedstock.ergun_size, 0.0015, 1e-12);
  EXPECT_FALSE(food.values.at("moisture").source.empty());
  EXPECT_NEAR(shipped().find("finished compost")->activity, 0.3, 1e-12);
  EXPECT_NEAR(shipped().find("grass")->heat_loving_activity, 0.03, 1e-12);
}

TEST(Library, ChipsStayConsistentWhenAValueChanges) {
  const LibraryEntry& entry = *shipped().find("woodchip, coarse");
  const Feedstock dry = to_feedstock(entry, {{"moisture", 0.2}});
  EXPECT_LT(dry.loose_density, entry.feedstock.loose_density);
  const Feedstock weighed = to_feedstock(entry, {{"loose_density", 260.0}});
  EXPECT_NEAR(weighed.loose_porosity, 1.0 - 260.0 * 0.6 / 400.0, 1e-12);
  EXPECT_NEAR(to_feedstock(entry, {{"piece_size", 0.02}}).ergun_size, 0.0016, 1e-12);
}

TEST(Library, RefusesOverridesWithoutSense) {
  const LibraryEntry& chips = *shipped().find("chips");
  const LibraryEntry& straw = *shipped().find("straw");
  EXPECT_THROW(to_feedstock(straw, {{"moistur", 0.2}}), std::invalid_argument);
  EXPECT_THROW(to_feedstock(straw, {{"moisture", 1.2}}), std::invalid_argument);
  EXPECT_THROW(to_feedstock(straw, {{"basic_density", 400.0}}), std::invalid_argument);
  EXPECT_THROW(to_feedstock(straw, {{"easy_share", 0.9}}), std::invalid_argument);
  EXPECT_THROW(to_feedstock(chips, {{"mixing", 0.2}}), std::invalid_argument);
  EXPECT_THROW(to_feedstock(chips, {{"loose_density", 260.0}, {"loose_porosity", 0.6}}),
               std::invalid_argument);
  EXPECT_THROW(to_feedstock(chips, {{"loose_density", 500.0}}), std::invalid_argument);
}

TEST(Library, FaultsAreNamedWithFileAndLine) {
  const auto message = [](const std::string& from, const std::string& to) {
    try {
      load_changed(from, to);
    } catch (const LibraryError& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  const std::string name = "name = \"straw\"\n";
  EXPECT_NE(message(name, name + "moistur = 0.1\n").find("moistur"), std::string::npos);
  EXPECT_NE(message(name, name + "inner_air = 0.1\n").find("value, low, high"), std::string::npos);
  EXPECT_NE(message("name = \"hay\"", "name = \"straw\"").find("stands twice"), std::string::npos);
  EXPECT_NE(message("class = \"grass\"", "class = \"gras\"").find("no class"), std::string::npos);
  EXPECT_NE(message("mark = \"C\"", "mark = \"Q\"").find("mark"), std::string::npos);
  EXPECT_NE(message("easy_share = { value = 0.55", "easy_share = { value = 0.45").find("add up to 1"),
            std::string::npos);
  EXPECT_NE(message("low = 0.4, high = 0.65", "low = 0.6, high = 0.65").find("low and high"),
            std::string::npos);
  EXPECT_NE(
      message(name, name + "basic_density = { value = 400, low = 400, high = 400, mark = \"C\", source = "
                           "\"choice\" }\n")
          .find("does not belong"),
      std::string::npos);
  EXPECT_NE(message("\n[every]", "\n[every").find(".toml:"), std::string::npos);
  EXPECT_THROW(load_feedstock_library("no/such/file.toml"), LibraryError);
}

TEST(Library, UsesEverySourceThatItNames) {
  std::set<std::string> used;
  for (const LibraryEntry& entry : shipped().entries)
    for (const auto& [key, ranged] : entry.values) used.insert(ranged.source);
  std::ifstream in(shipped_path());
  std::string line;
  bool inside = false;
  while (std::getline(in, line)) {
    if (line.starts_with("[")) inside = line == "[sources]";
    const auto quote = line.find('"');
    if (!inside || quote == std::string::npos) continue;
    EXPECT_TRUE(used.contains(line.substr(quote + 1, line.rfind('"') - quote - 1))) << line;
  }
}

}  // namespace
}  // namespace updraught
