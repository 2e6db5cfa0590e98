// Every command through the program itself: what it prints, what it leaves on the disk, how it ends.
#include <gtest/gtest.h>

#include <cmath>

#include "post/store/store_read.h"
#include "tests/whole/finite_numbers.h"
#include "tests/whole/program.h"

namespace updraught::whole {
namespace {

using nlohmann::json;

const std::vector<std::string> quick{"--detail", "quick", "--json"};

std::vector<std::string> words(std::vector<std::string> first, const std::vector<std::string>& more) {
  first.insert(first.end(), more.begin(), more.end());
  return first;
}

/// A ready-made box that is computed in a second.
std::string small_box(const std::string& name = "allotment-box") {
  return ready_case(name) + "cells = [8, 10]\nmode = \"rings\"\n";
}

void expect_keys(const json& object, const std::vector<std::string>& keys, const std::string& where) {
  for (const std::string& key : keys) EXPECT_TRUE(object.contains(key)) << where << ": " << key;
}

TEST(Run, PrintsOneObjectThatHoldsEveryField) {
  const Folder folder("run_json");
  folder.write("box.toml", ready_case("allotment-box"));
  const Said said = folder.run(words({"run", "box.toml", "--days", "3", "--tries", "8"}, quick));
  ASSERT_EQ(said.code, 0) << said.err;
  const json object = said.json();
  expect_keys(object,
              {"case", "mode", "cells", "wall_seconds", "peak_memory_mb", "settled_height_m", "loose", "days",
               "heat_by_path_w", "steps", "unknowns", "seconds", "openings", "balances", "verdict"},
              "run");
  expect_keys(object["loose"], {"free_air_space", "moisture", "cn", "woodchip_share"}, "loose");
  expect_keys(object["balances"], {"dry_gas", "oxygen", "heat", "water", "dry_mass"}, "balances");
  expect_numbers_or_null(object, "run");
  EXPECT_EQ(object["case"], "box");
  EXPECT_EQ(object["mode"], "rings");
  EXPECT_EQ(object["cells"], 24 * 40);
  EXPECT_GT(object["steps"], 10);
  EXPECT_FALSE(object["seconds"].empty());
  EXPECT_FALSE(object["heat_by_path_w"].empty());
  EXPECT_FALSE(object["verdict"].empty());
  const json& balances = object["balances"];
  for (const char* name : {"dry_gas", "oxygen", "heat", "water", "dry_mass"})
    EXPECT_LE(balances[name].get<double>(), 1e-8) << name;
  // What the control of steps saw: some departure in every run, and not more than it lets pass.
  EXPECT_GT(balances["step_temperature_k"].get<double>(), 0.0);
  EXPECT_LT(balances["step_temperature_k"].get<double>(), 0.07 * 9.0);
  EXPECT_LT(balances["step_oxygen"].get<double>(), 0.002 * 9.0);
  ASSERT_GE(object["openings"].size(), 2u);
  for (const json& opening : object["openings"])
    expect_keys(opening, {"name", "air_in_m3_h", "air_out_m3_h"}, "opening");
}

TEST(Run, EveryHeadlineNumberHasALowAndAHighOfPlausibleBeds) {
  const Folder folder("run_band");
  folder.write("box.toml", ready_case("allotment-box"));
  const json object = folder.run(words({"run", "box.toml", "--days", "3", "--tries", "8"}, quick)).json();
  ASSERT_GE(object["days"].size(), 3u);
  int wide = 0;
  for (const json& day : object["days"]) {
    expect_keys(day,
                {"day", "mean_temperature_c", "hottest_c", "coldest_c", "aired_share", "well_aired_share",
                 "air_in_m3_h", "oxygen_uptake_g_h", "height_m"},
                "day");
    for (const std::string name :
         {"mean_temperature_c", "hottest_c", "aired_share", "air_in_m3_h", "height_m"}) {
      ASSERT_TRUE(day.contains(name + "_low") && day.contains(name + "_high")) << name;
      ASSERT_TRUE(day[name + "_low"].is_number()) << name << " on day " << day["day"];
      EXPECT_LE(day[name + "_low"], day[name + "_high"]) << name << " on day " << day["day"];
      wide += day[name + "_high"] > day[name + "_low"] ? 1 : 0;
    }
    EXPECT_LE(day["well_aired_share"], day["aired_share"]);
    EXPECT_LE(day["coldest_c"], day["hottest_c"]);
  }
  EXPECT_GE(wide, 10);
  EXPECT_EQ(object["plausible"]["beds"], 8);
  EXPECT_EQ(object["plausible"]["seed"], 1);
  EXPECT_LE(object["plausible"]["measures"]["airless_share"]["low"],
            object["plausible"]["measures"]["airless_share"]["high"]);
}

TEST(Run, ResultsInTheWayAreKeptUnlessForced) {
  const Folder folder("run_force");
  folder.write("box.toml", small_box());
  const std::vector<std::string> run{"run", "box.toml", "--days", "0.2", "--no-band", "--json", "--quiet"};
  ASSERT_EQ(folder.run(run).code, 0);
  const fs::path store = folder.path() / "box.results" / "result.h5";
  const std::string before = text_of(store);
  const Said again = folder.run(run);
  EXPECT_EQ(again.code, 2);
  EXPECT_EQ(again.out, "");
  EXPECT_NE(again.err.find("--force"), std::string::npos) << again.err;
  EXPECT_EQ(text_of(store), before);
  EXPECT_EQ(folder.run(words(run, {"--force", "--days", "0.3"})).code, 2) << "an option given twice";
  const Said forced =
      folder.run({"run", "box.toml", "--days", "0.3", "--no-band", "--quiet", "--json", "--force"});
  EXPECT_EQ(forced.code, 0) << forced.err;
  EXPECT_NE(text_of(store), before);
}

TEST(Run, AFolderWithOtherFilesIsLeftAlone) {
  const Folder folder("run_other");
  folder.write("box.toml", small_box());
  fs::create_directories(folder.path() / "mine");
  folder.write("mine/letter.txt", "dear reader");
  const Said said = folder.run({"run", "box.toml", "--out", "mine", "--force", "--no-band"});
  EXPECT_EQ(said.code, 2);
  EXPECT_EQ(text_of(folder.path() / "mine" / "letter.txt"), "dear reader");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder.path() / "mine"), fs::directory_iterator()), 1);
}

TEST(Run, AWrongCaseWritesNothing) {
  const Folder folder("run_wrong");
  folder.write("box.toml", small_box() + "dept = \"1 m\"\n");
  for (const std::string command : {"run", "blend"}) {
    const Said said = folder.run({command, "box.toml", "--out", "here"});
    EXPECT_EQ(said.code, 1) << command;
    EXPECT_EQ(said.out, "") << command;
    EXPECT_NE(said.err.find("dept"), std::string::npos) << command;
  }
  EXPECT_EQ(folder.run({"compare", "box.toml", "box.toml"}).code, 1);
  EXPECT_EQ(folder.names(), std::vector<std::string>{"box.toml"});
}

TEST(Run, WritesOnlyIntoItsFolderAndSaysNothingElseWhenQuiet) {
  const Folder folder("run_quiet");
  folder.write("box.toml", small_box());
  const Said said = folder.run({"run", "box.toml", "--days", "0.3", "--out", "here", "--quiet"});
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(said.err, "");
  EXPECT_NE(said.out.find("Results: here"), std::string::npos);
  EXPECT_EQ(folder.names(), (std::vector<std::string>{"box.toml", "here"}));
  for (const char* name : {"result.h5", "summary.json", "verdict.txt", "series.csv", "days.csv",
                           "thermometers.csv", "view/bed.pvd", "figures"})
    EXPECT_TRUE(fs::exists(folder.path() / "here" / name)) << name;
  for (const auto& entry : fs::recursive_directory_iterator(folder.path() / "here")) {
    const std::string name = entry.path().filename().string();
    EXPECT_EQ(name.find(".part"), std::string::npos) << name;
    EXPECT_EQ(name.find("unfinished"), std::string::npos) << name;
  }
  // The figures that people open first exist in both forms and are no empty files.
  int png = 0, svg = 0;
  for (const auto& entry : fs::directory_iterator(folder.path() / "here" / "figures")) {
    png += entry.path().extension() == ".png" && entry.file_size() > 10000 ? 1 : 0;
    svg += entry.path().extension() == ".svg" && entry.file_size() > 1000 ? 1 : 0;
  }
  EXPECT_GE(png, 3);
  EXPECT_EQ(png, svg);
}

TEST(Run, ProgressGoesToTheErrorStreamInPlainLines) {
  const Folder folder("run_pipe");
  folder.write("box.toml", small_box());
  const Said said = folder.run({"run", "box.toml", "--days", "1", "--no-band", "--no-figures", "--json"});
  ASSERT_EQ(said.code, 0);
  EXPECT_EQ(said.json()["case"], "box");
  EXPECT_NE(said.err.find("box: 50 %"), std::string::npos) << said.err;
  EXPECT_EQ(said.err.find('\r'), std::string::npos);
  EXPECT_EQ(said.err.find('\033'), std::string::npos);
}

/// A computation that lasts long enough to be stopped in the middle.
std::vector<std::string> long_run(const Folder& folder) {
  folder.write("box.toml", ready_case("allotment-box") +
                               "mode = \"rings\"\ncells = [24, 40]\npictures_every = \"2 h\"\n");
  return {"run", "box.toml", "--days", "300", "--out", "here", "--json"};
}

bool has_pictures(const Folder& folder, int wanted) {
  const fs::path parts = folder.path() / "here" / "unfinished" / "result_parts_1";
  std::error_code none_yet;
  int files = 0;
  for (auto entry = fs::directory_iterator(parts, none_yet); entry != fs::directory_iterator(); ++entry)
    ++files;
  return files >= wanted;
}

TEST(Run, AskedToStopItLeavesAResultThatSaysSo) {
  const Folder folder("run_stop");
  const Said said = folder.run_until(
      long_run(folder), [&] { return has_pictures(folder, 6); }, SIGINT);
  EXPECT_EQ(said.code, 1) << said.err;
  EXPECT_NE(said.err.find("Stopped"), std::string::npos);
  const json object = said.json();
  EXPECT_TRUE(object["stopped"].get<bool>());
  const Result result = read_result(folder.path() / "here" / "result.h5");
  EXPECT_TRUE(result.run.stopped);
  EXPECT_GE(result.pictures.size(), 2u);
  EXPECT_LT(result.run.series.back().time, 300.0 * 86400.0);
  EXPECT_LE(result.run.balances.heat, 1e-8);
  EXPECT_FALSE(fs::exists(folder.path() / "here" / "result_parts_1"));
  EXPECT_FALSE(fs::exists(folder.path() / "here" / "unfinished"));
}

TEST(Run, StoppedIsNotDoneWithoutABandEither) {
  const Folder folder("run_stop_alone");
  std::vector<std::string> run = long_run(folder);
  run.insert(run.end(), {"--no-band", "--no-figures"});
  const Said said = folder.run_until(
      run, [&] { return has_pictures(folder, 6); }, SIGTERM);
  EXPECT_EQ(said.code, 1);
  EXPECT_NE(said.err.find("Stopped"), std::string::npos) << said.err;
  EXPECT_TRUE(said.json()["stopped"].get<bool>());
}

TEST(Run, KilledItLeavesAResultThatOpens) {
  const Folder folder("run_kill");
  const Said said = folder.run_until(
      long_run(folder), [&] { return has_pictures(folder, 6); }, SIGKILL);
  EXPECT_EQ(said.signal, SIGKILL);
  const Result result = read_result(folder.path() / "here" / "unfinished" / "result.h5");
  EXPECT_GE(result.pictures.size(), 2u);
  EXPECT_GT(result.run.series.back().time, 3600.0);
  // And the next run replaces it without being hindered by what the killed one left.
  const Said next = folder.run({"run", "box.toml", "--days", "0.2", "--out", "here", "--force", "--no-band",
                                "--no-figures", "--json"});
  EXPECT_EQ(next.code, 0) << next.err;
  EXPECT_FALSE(fs::exists(folder.path() / "here" / "unfinished"));
  EXPECT_FALSE(fs::exists(folder.path() / "here" / "replaced"));
}

TEST(Compare, TellsBothCasesAndWritesThem) {
  const Folder folder("compare");
  folder.write("base.toml", "design = \"the raised floor\"\n" + small_box());
  folder.write("side.toml", small_box("allotment-box-side-holes"));
  const Said said = folder.run({"compare", "base.toml", "side.toml", "--days", "1", "--tries", "4", "--out",
                                "both", "--json", "--quiet"});
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(said.err, "");
  const json object = said.json();
  ASSERT_EQ(object["cases"].size(), 2u);
  EXPECT_EQ(object["cases"][0]["case"], "base");
  EXPECT_EQ(object["cases"][1]["case"], "side");
  expect_numbers_or_null(object, "compare");
  for (const json& one : object["cases"]) {
    EXPECT_TRUE(one["days"].back()["aired_share_low"].is_number());
    EXPECT_EQ(one["plausible"]["beds"], 4);
  }
  EXPECT_NE(object["verdict"].dump().find("the raised floor"), std::string::npos) << object["verdict"];
  for (const char* name : {"comparison.json", "table.txt", "verdict.txt", "compare.png", "compare.svg",
                           "base/result.h5", "side/result.h5", "base/view/bed.pvd", "side/view/bed.pvd"})
    EXPECT_TRUE(fs::exists(folder.path() / "both" / name)) << name;
  EXPECT_EQ(folder.names(), (std::vector<std::string>{"base.toml", "both", "side.toml"}));
}

TEST(Blend, GivesARangeAndItsFiles) {
  const Folder folder("blend");
  // Warm from the start, so that air alone decides.
  folder.write("box.toml", replaced(small_box(), "temperature = \"28 degC\"", "temperature = \"58 degC\""));
  const Said said = folder.run({"blend", "box.toml", "--from", "20", "--to", "80", "--step", "20", "--tries",
                                "4", "--out", "shares", "--json", "--quiet"});
  ASSERT_EQ(said.code, 0) << said.err;
  EXPECT_EQ(said.err, "");
  const json object = said.json();
  expect_numbers_or_null(object, "blend");
  EXPECT_EQ(object["case"], "box");
  EXPECT_TRUE(object["left_out"].empty());
  ASSERT_GE(object["points"].size(), 4u);
  int works = 0;
  for (const json& point : object["points"]) {
    works += point["works"].get<bool>() ? 1 : 0;
    EXPECT_EQ(point["works"].get<bool>(), point["misses"].empty());
    EXPECT_LE(point["works_in"], 4);
  }
  EXPECT_GT(works, 0);
  EXPECT_LT(works, static_cast<int>(object["points"].size()));
  const json range = object["range"];
  ASSERT_TRUE(range.is_object()) << object.dump(2);
  EXPECT_GE(range["least"], 0.0);
  EXPECT_GT(range["most"], range["least"]);
  EXPECT_LE(range["most"], 0.7);
  ASSERT_EQ(object["plausible_beds"].size(), 4u);
  for (const json& bed : object["plausible_beds"]) EXPECT_TRUE(bed.contains("least") && bed.contains("most"));
  // The starter holds 3 buckets of scraps and 2 of chips.
  EXPECT_NEAR(object["marked"]["woodchip_share"].get<double>(), 0.4, 1e-6);
  EXPECT_EQ(object["marked"]["words"], "the starter's mix, 3 : 2");
  EXPECT_FALSE(object["verdict"].empty());
  for (const char* name : {"blend.json", "blend.csv", "table.txt", "verdict.txt", "blend.png", "blend.svg"})
    EXPECT_TRUE(fs::exists(folder.path() / "shares" / name)) << name;
  EXPECT_EQ(folder.names(), (std::vector<std::string>{"box.toml", "shares"}));
}

TEST(StartAndCheck, WhatStartWritesCheckUnderstands) {
  const Folder folder("start");
  for (const std::string like : {"starter", "allotment-box", "allotment-box-side-holes", "school-round"}) {
    const std::string file = like + "-mine.toml";
    const json written = folder.run({"start", file, "--like", like, "--json"}).json();
    EXPECT_EQ(written["file"], file);
    EXPECT_EQ(text_of(folder.path() / file),
              text_of(fs::path(UPDRAUGHT_SOURCE_DIR "/cases") / (like + ".toml")));
    const Said said = folder.run({"check", file, "--json"});
    EXPECT_EQ(said.code, 0) << like;
    const json checked = said.json();
    EXPECT_TRUE(checked["mistakes"].empty());
    EXPECT_EQ(checked["case"], like + "-mine");
    EXPECT_GT(checked["cells"], 0);
    EXPECT_GT(checked["settled_height_m"], 0.1);
  }
  EXPECT_EQ(folder.names().size(), 4u);
}

TEST(StartAndCheck, CheckListsEveryMistakeWithItsPlace) {
  const Folder folder("check");
  folder.write("box.toml", small_box() + "dept = \"1 m\"\nwall_gap = \"3 kg\"\n");
  const Said said = folder.run({"check", "box.toml", "--json"});
  EXPECT_EQ(said.code, 1);
  const json mistakes = said.json()["mistakes"];
  ASSERT_EQ(mistakes.size(), 2u);
  for (const json& mistake : mistakes) {
    expect_keys(mistake, {"file", "line", "column", "key", "problem", "mend"}, "mistake");
    EXPECT_GT(mistake["line"], 0);
  }
  EXPECT_EQ(mistakes[0]["key"], "dept");
  EXPECT_EQ(mistakes[1]["key"], "wall_gap");
  EXPECT_EQ(folder.run({"check", "nothing.toml", "--json"}).code, 2);
}

TEST(Feedstocks, EveryValueHasItsRangeMarkAndSource) {
  const Folder folder("feedstocks");
  const json list = folder.run({"feedstocks", "--json"}).json()["feedstocks"];
  EXPECT_GE(list.size(), 29u);
  for (const json& entry : list) {
    EXPECT_FALSE(entry["values"].empty()) << entry["name"];
    for (const auto& [key, value] : entry["values"].items()) {
      EXPECT_LE(value["low"], value["value"]) << entry["name"] << " " << key;
      EXPECT_GE(value["high"], value["value"]) << entry["name"] << " " << key;
      EXPECT_FALSE(value["source"].get<std::string>().empty()) << entry["name"] << " " << key;
      EXPECT_NE(std::string("RMEC").find(value["mark"].get<std::string>()), std::string::npos)
          << entry["name"] << " " << key;
    }
    EXPECT_EQ(folder.run({"feedstocks", entry["name"].get<std::string>(), "--json"}).json(), entry);
  }
  EXPECT_EQ(folder.run({"feedstocks", "gravel", "--json"}).code, 2);
}

TEST(CommandLine, EveryCommandExplainsItself) {
  const Folder folder("help");
  for (const std::string command :
       {"mix", "start", "check", "run", "draw", "compare", "blend", "feedstocks"}) {
    const Said said = folder.run({command, "--help"});
    EXPECT_EQ(said.code, 0) << command;
    EXPECT_NE(said.out.find("--json"), std::string::npos) << command;
    EXPECT_EQ(said.err, "") << command;
  }
}

}  // namespace
}  // namespace updraught::whole
