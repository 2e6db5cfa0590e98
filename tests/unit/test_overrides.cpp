// Case text laid over a case by key path: what it may reach, and how its mistakes are told.
#include <gtest/gtest.h>

#include "cases/text/key_path.h"
#include "tests/made_cases/draws.h"
#include "tests/made_cases/key_rules.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::prescribed_case;
using reader_tests::sound_case;
using reader_tests::with_added;
using reader_tests::with_line;

TEST(KeyPath, IsReadAndWrittenTheSame) {
  for (const char* text : {"days", "bin.width", "air_in[1].size", "layers[2].fill[10].what", "cells[3]",
                           "feedstocks.\"our scraps\".moisture", R"(feedstocks."a \" b \\ c.d"[1])"}) {
    const auto path = key_path(text);
    ASSERT_TRUE(path) << text;
    EXPECT_EQ(to_text(*path), text);
  }
  EXPECT_EQ(to_text(*key_path("\"bin\".\"width\"")), "bin.width");
  for (const char* text : {"", ".", "a.", ".a", "a..b", "a[0]", "a[]", "a[1", "a[x]", "[1]", "a b", "\"a",
                           "a[-1]", "a[99999999999999999999]", "a.[1]"})
    EXPECT_FALSE(key_path(text)) << text;
}

ReadCase read(const std::string& text, const Overrides& overrides) {
  ReadOutcome outcome = read_case_text(text, "box.toml", overrides);
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  return outcome.read.value_or(ReadCase{});
}

/// All that is wrong with a case under overrides.
std::string told(const std::string& text, const Overrides& overrides) {
  return to_text(read_case_text(text, "box.toml", overrides).mistakes);
}

TEST(Overrides, ReachEveryPlaceOfACase) {
  const Problem p = read(sound_case(), {{"bin.width", "80 cm", ""},
                                        {"air_out[1].size", "\"12 mm\"", ""},
                                        {"walls[1].thick", "3 cm", ""},
                                        {"outside", "{ temperature = \"3 degC\", wind = \"2 m/s\" }", ""},
                                        {"initial.temperature", "30 degC", ""},
                                        {"wall_lane", "false", ""},
                                        {"cells", "[10, 12, 14]", ""},
                                        {"feedstocks.\"vegetable scraps (raw)\".moisture", "0.8", ""},
                                        {"question", "How warm?", ""}})
                        .problem;
  EXPECT_DOUBLE_EQ(p.bin.width, 0.8);
  EXPECT_DOUBLE_EQ(p.openings[1].size, 0.012);
  EXPECT_DOUBLE_EQ(p.sides[0].thickness(), 0.03);
  EXPECT_EQ(p.outside.temperature, 3.0);
  EXPECT_EQ(p.outside.wind, 2.0);
  EXPECT_EQ(p.initial.temperature, 30.0);
  EXPECT_FALSE(p.wall_lane);
  EXPECT_EQ(p.cells.nz, 14);
  EXPECT_EQ(p.batches[0].portions[0].feedstock.moisture, 0.8);
  EXPECT_EQ(p.title, "How warm?");
}

TEST(Overrides, AreKeptWithTheCaseWhoseTextStaysAsItWas) {
  const ReadCase c = read(sound_case(), {{"days", "7", ""}});
  EXPECT_EQ(c.text, sound_case());
  ASSERT_EQ(c.overrides.size(), 1u);
  EXPECT_EQ(c.problem.duration, 7 * 86400.0);
}

TEST(Overrides, AreNamedWhereTheyAreWrong) {
  const std::string text = sound_case();
  EXPECT_EQ(told(text, {{"air_out[1].size", "12 kg", ""}}),
            "--set air_out[1].size=12 kg: air_out[1].size: \"12 kg\" is not a length. Write a length such as "
            "\"0.9 m\".\n");
  EXPECT_EQ(told(text, {{"dpeth", "1 m", ""}}),
            "--set dpeth=1 m: dpeth: There is no key of this name here. Did you mean `depth`?\n");
  EXPECT_EQ(
      told(text, {{"outside.wnid", "1 m/s", ""}}),
      "--set outside.wnid=1 m/s: outside.wnid: There is no key of this name here. Did you mean `wind`?\n");
  EXPECT_EQ(
      told(text, {{"bin.shape", "round", "--round"}}),
      "box.toml:2:50: bin.length: This key does not go with shape = \"round\". Leave one of the two out.\n");
  EXPECT_EQ(told(text, {{"days", "-1", "--days -1"}}),
            "--days -1: days: The value is out of range. Known limits: more than 0 and up to 3660 days.\n");
  EXPECT_EQ(
      told(text, {{"base.inlet_height", "1 cm", ""}}),
      "--set base.inlet_height=1 cm: base.inlet_height: This key does not go with an open base. Leave one of "
      "the two out.\n");
}

TEST(Overrides, ThatLeadNowhereSayWhatIsThere) {
  const std::string text = sound_case();
  EXPECT_EQ(told(text, {{"air_out[3].size", "1 mm", ""}}),
            "--set air_out[3].size=1 mm: air_out[3].size: The list `air_out` has no entry 3. Its last is "
            "air_out[1].\n");
  EXPECT_EQ(
      told(text, {{"walls.thick", "1 mm", ""}}),
      "--set walls.thick=1 mm: walls.thick: In this case `walls` is a list of 1. Say which entry, such as "
      "walls[1], or set the whole of it: walls=...\n");
  EXPECT_EQ(told(text, {{"depth.x", "1", ""}}),
            "--set depth.x=1: depth.x: In this case `depth` is no table. Leave the rest of the path out and "
            "set the "
            "whole of it: depth=...\n");
  EXPECT_EQ(
      told(text, {{"layers[1].depth", "1 cm", ""}}),
      "--set layers[1].depth=1 cm: layers[1].depth: In this case `layers` is a list of 0. Leave the rest of "
      "the path out and set the whole of it: layers=...\n"
      "--set layers[1].depth=1 cm: layers: There is no layer in the list. Add { fill = [ ... ], depth = \"10 "
      "cm\" }.\n"
      "box.toml:6:8: fill: This key does not go with layers. Leave one of the two out.\n"
      "box.toml:7:9: depth: This key does not go with layers. Leave one of the two out.\n");
  EXPECT_EQ(told(text, {{"a b", "1", ""}}),
            "--set a b=1: This names no key of a case. Write its path as messages do, such as bin.width or "
            "air_in[1].size.\n");
}

TEST(Overrides, OfOneKeyAreToldNotLaidOverOneAnother) {
  EXPECT_EQ(told(sound_case(), {{"detail", "quick", ""}, {"detail", "\"usual\"", "--detail usual"}}),
            "--detail usual: detail: It takes the place of what --set detail=quick says. Leave one of the "
            "two out.\n");
  EXPECT_EQ(
      told(sound_case(), {{"bin.width", "1 m", ""}, {"bin", "{}", ""}}),
      "--set bin={}: bin: It takes the place of what --set bin.width=1 m says. Leave one of the two out.\n");
  EXPECT_EQ(read(sound_case(), {{"bin", "{ width = \"1 m\", length = \"1 m\", height = \"1 m\" }", ""},
                                {"bin.width", "2 m", ""}})
                .problem.bin.width,
            2.0);
}

TEST(Overrides, AllMistakesAreToldAtOnce) {
  const ReadOutcome outcome = read_case_text(with_line("depth", "depth = \"1 kg\""), "box.toml",
                                             {{"bucket", "3 m", ""}, {"bin.widht", "1 m", ""}});
  EXPECT_EQ(outcome.mistakes.size(), 3u) << to_text(outcome.mistakes);
  EXPECT_FALSE(outcome.wrong_overrides) << "the file is wrong too";
  EXPECT_TRUE(read_case_text(sound_case(), "box.toml", {{"bucket", "3 m", ""}}).wrong_overrides);
}

TEST(Overrides, ValuesAreTextsWhereTheyAreNoToml) {
  for (const char* value : {"it's \"warm\"", "1\nquestion = \"twice\"", "a\\b"}) {
    Overrides one{{"question", value, ""}};
    const ReadOutcome outcome = read_case_text(sound_case(), "box.toml", one);
    EXPECT_EQ(outcome.read.has_value(), std::string(value).find('\n') == std::string::npos)
        << to_text(outcome.mistakes);
    if (outcome.read) {
      EXPECT_EQ(outcome.read->problem.title, value);
    }
  }
}

TEST(Overrides, DetailAndCellsReplaceOneAnother) {
  const std::string counted = with_added("cells = [10, 12, 14]");
  EXPECT_EQ(read(counted, {{"detail", "careful", ""}}).problem.cells.nx, 48);
  EXPECT_EQ(read(with_added("detail = \"careful\""), {{"cells", "[10, 12, 14]", ""}}).problem.cells.nx, 10);
  EXPECT_NE(told(counted, {{"detail", "quick", ""}, {"cells", "[9, 9, 9]", ""}}), "");
  EXPECT_NE(told(with_added("cells = [10, 12]"), {{"cells[3]", "4", ""}}), "");
}

TEST(Overrides, AGapMayBeLaidOverAnyCase) {
  EXPECT_EQ(read(with_added("wall_friction = 0.3"), {{"wall_gap", "2 mm", ""}}).problem.wall_gap, 0.002);
  EXPECT_EQ(read(prescribed_case(), {{"wall_gap", "2 mm", ""}}).problem.wall_gap, 0.002);
}

TEST(Overrides, QuickDetailIsLaidOverWhatWasAsked) {
  const Overrides asked{{"cells", "[9, 9, 9]", ""}, {"mode", case_text("whole"), ""}, {"days", "3", ""}};
  const Overrides quick = in_quick_detail(asked);
  ASSERT_EQ(quick.size(), 2u);
  EXPECT_EQ(quick[0].key, "days");
  EXPECT_EQ(quick[1].key, "detail");
}

TEST(CaseText, LosesNoBit) {
  for (const double number : {0.1, 1.0 / 3.0, 2.0, 1e-300, 12345678.9, -0.1}) {
    const toml::table table = toml::parse("v = " + case_text(number));
    EXPECT_EQ(*table["v"].value<double>(), number);
  }
  EXPECT_EQ(case_text(0.002, "m"), "\"0.002 m\"");
  EXPECT_EQ(case_text("a \"b\" \\"), R"("a \"b\" \\")");
}

/// A path that may lead anywhere, with the names that rules know.
std::string some_path(made_cases::Draws& draws) {
  std::string path;
  for (std::size_t steps = 1 + draws.below(3); steps > 0; --steps) {
    path +=
        fmt::format("{}{}", path.empty() ? "" : ".", path_name(draws.one_of(made_cases::key_rules()).key));
    if (draws.once_in(3)) path += fmt::format("[{}]", draws.below(3));
  }
  return path;
}

TEST(Overrides, WhateverIsLaidOverACaseItIsReadOrRefusedWithItsName) {
  made_cases::Draws draws(7);
  int taken = 0;
  for (int n = 0; n < 4000; ++n) {
    const made_cases::KeyRule& rule = draws.one_of(made_cases::key_rules());
    const Override one{draws.once_in(3) ? rule.key : some_path(draws),
                       draws.once_in(4) ? draws.one_of(made_cases::odd_values()) : draws.one_of(rule.values),
                       ""};
    const std::string text = draws.once_in(4) ? prescribed_case() : sound_case();
    const ReadOutcome outcome = read_case_text(text, "box.toml", {one});
    ASSERT_EQ(outcome.read.has_value(), outcome.mistakes.empty()) << one.called();
    taken += outcome.read ? 1 : 0;
    for (const Diagnostic& mistake : outcome.mistakes) {
      EXPECT_FALSE(mistake.problem.empty()) << one.called();
      EXPECT_EQ(mistake.line == 0, mistake.file == one.called()) << to_text(mistake);
    }
  }
  EXPECT_GT(taken, 100);
}

}  // namespace
}  // namespace updraught
