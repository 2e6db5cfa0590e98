// Every kind of mistake in a case: that it is found, where, at which key, and what is said.
#include <gtest/gtest.h>

#include <algorithm>

#include "cases/reader/read_case.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::prescribed_case;
using reader_tests::sound_case;
using reader_tests::with_added;
using reader_tests::with_line;

struct Mistake {
  std::string text;
  int line;
  std::string key;
  std::string problem;  ///< part of what is said
};

void expect_mistake(const Mistake& row) {
  const ReadOutcome outcome = read_case_text(row.text, "box.toml");
  EXPECT_FALSE(outcome.read) << row.key;
  const auto found = std::find_if(outcome.mistakes.begin(), outcome.mistakes.end(), [&](const Diagnostic& d) {
    return d.key == row.key && d.problem.find(row.problem) != std::string::npos && d.line == row.line;
  });
  EXPECT_NE(found, outcome.mistakes.end())
      << "wanted line " << row.line << ", " << row.key << ": " << row.problem << "\ngot:\n"
      << to_text(outcome.mistakes);
  if (found == outcome.mistakes.end()) return;
  EXPECT_FALSE(found->hint.empty()) << row.key;
  EXPECT_GT(found->column, 0);
}

TEST(Mistakes, TheSoundCasesHaveNone) {
  for (const std::string& text : {sound_case(), prescribed_case()}) {
    const ReadOutcome outcome = read_case_text(text, "box.toml");
    EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
    EXPECT_TRUE(outcome.mistakes.empty());
  }
}

TEST(Mistakes, UnknownKeysGetTheNearestKnownOne) {
  expect_mistake({with_added("dept = \"0.6 m\""), 9, "dept", "no key of this name"});
  const auto outcome = read_case_text(with_added("wals = []"), "box.toml");
  ASSERT_EQ(outcome.mistakes.size(), 1u);
  EXPECT_EQ(outcome.mistakes[0].hint, "Did you mean `walls`?");
  expect_mistake({with_line("walls", "walls = [ { of = \"timber\", thik = \"18 mm\" } ]"), 3, "walls[1].thik",
                  "no key of this name"});
  expect_mistake({with_line("air_in", "air_in = [ { where = \"base\", kind = \"mesh\", opn = 0.2 } ]"), 4,
                  "air_in[1].opn", "no key of this name"});
  expect_mistake({with_added("outsid = 1"), 9, "outsid", "no key of this name"});
}

TEST(Mistakes, SizesThatCannotBeReadRefuseNothingElse) {
  const std::string air_in =
      "air_in = [ { where = \"side\", kind = \"holes\", size = \"5 cm\", count = 100, heights = [\"1.2 m\"] "
      "} ]";
  std::string text = with_line("bin", "bin = { shape = \"round\", width = \"3\", height = \"2\" }");
  text.replace(text.find("air_in"), text.find('\n', text.find("air_in")) - text.find("air_in"), air_in);
  text.replace(text.find("depth"), text.find('\n', text.find("depth")) - text.find("depth"),
               "depth = \"1.5 m\"");
  const auto outcome = read_case_text(text, "box.toml");
  ASSERT_EQ(outcome.mistakes.size(), 2u) << to_text(outcome.mistakes);
  EXPECT_EQ(outcome.mistakes[0].key, "bin.width");
  EXPECT_EQ(outcome.mistakes[1].key, "bin.height");
}

TEST(Mistakes, MissingKeys) {
  expect_mistake({with_line("bin", ""), 1, "bin", "missing"});
  expect_mistake({with_line("bin", "bin = { shape = \"box\", width = \"0.9 m\", height = \"1 m\" }"), 2,
                  "bin.length", "missing"});
  expect_mistake({with_line("fill", "fill = [ { buckets = 3 } ]"), 6, "fill[1].what", "missing"});
  expect_mistake({with_line("fill", "fill = [ { what = \"grass\" } ]"), 6, "fill[1]", "amount is missing"});
  expect_mistake(
      {with_line("air_in",
                 "air_in = [ { where = \"side\", kind = \"holes\", size = \"12 mm\", count = 3 } ]"),
       4, "air_in[1].heights", "missing"});
  expect_mistake({with_line("fill", ""), 1, "fill", "Nothing says what is in the bed"});
}

TEST(Mistakes, WrongUnitsAndKinds) {
  expect_mistake({with_line("depth", "depth = \"0.6 kg\""), 7, "depth", "is not a length"});
  expect_mistake({with_line("depth", "depth = \"0.6\""), 7, "depth", "has no unit"});
  expect_mistake({with_line("depth", "depth = 0.6"), 7, "depth", "a number without a unit"});
  expect_mistake({with_line("outside", "outside = { temperature = \"8 bar\" }"), 8, "outside.temperature",
                  "is not a temperature"});
  expect_mistake({with_line("walls", "walls = 3"), 3, "walls", "a table in curly brackets is needed"});
  expect_mistake(
      {with_line("air_in", "air_in = { where = \"base\" }"), 4, "air_in", "a list in square brackets"});
  expect_mistake({with_line("question", "question = 3"), 1, "question", "a text is needed"});
  expect_mistake({with_added("settles = \"yes\""), 9, "settles", "This is a text"});
  expect_mistake({with_added("cells = [3.5, 4]"), 9, "cells[1]", "not a whole number"});
  expect_mistake(
      {with_line("bin",
                 "bin = { shape = \"boks\", width = \"0.9 m\", length = \"0.9 m\", height = \"1 m\" }"),
       2, "bin.shape", "\"boks\" is not known"});
  expect_mistake({with_line("walls", "walls = [ { of = \"timbre\", thick = \"18 mm\" } ]"), 3, "walls[1].of",
                  "not a known wall material"});
  expect_mistake({with_line("fill", "fill = [ { what = \"vegtable scraps\", buckets = 3 } ]"), 6,
                  "fill[1].what", "no feedstock \"vegtable scraps\""});
}

TEST(Mistakes, OutOfRange) {
  expect_mistake({with_line("depth", "depth = \"-0.6 m\""), 7, "depth", "out of range"});
  expect_mistake(
      {with_line("bin", "bin = { shape = \"box\", width = \"90 m\", length = \"0.9 m\", height = \"1 m\" }"),
       2, "bin.width", "out of range"});
  expect_mistake({with_line("air_in", "air_in = [ { where = \"base\", kind = \"mesh\", open = 20 } ]"), 4,
                  "air_in[1].open", "20 is more than the whole"});
  expect_mistake({with_line("fill", "fill = [ { what = \"grass\", buckets = -3 } ]"), 6, "fill[1].buckets",
                  "out of range"});
  expect_mistake({with_line("fill", "fill = [ { what = \"grass\", buckets = nan } ]"), 6, "fill[1].buckets",
                  "out of range"});
  expect_mistake({with_added("days = 0"), 9, "days", "out of range"});
  expect_mistake({with_line("outside", "outside = { temperature = \"800 degC\" }"), 8, "outside.temperature",
                  "out of range"});
}

TEST(Mistakes, TheBinAndItsFill) {
  expect_mistake(
      {with_line("fill", "fill = [ { what = \"grass\", buckets = 0 } ]"), 6, "fill", "holds nothing"});
  expect_mistake({with_line("fill", "fill = []"), 6, "fill", "holds nothing"});
  expect_mistake(
      {with_line("depth", "depth = \"1.2 m\""), 7, "depth", "120 cm deep, the bin is 100 cm high"});
  expect_mistake({with_line("depth", "bucket = \"900 L\""), 6, "fill", "higher than the bin"});
  expect_mistake({with_line("fill", "fill = [ { what = \"grass\", buckets = 3, mass = \"2 kg\" } ]"), 6,
                  "fill[1]", "more than once"});
  expect_mistake({with_added("layers = []"), 6, "fill", "does not go with layers"});
  expect_mistake(
      {with_added("cells = [4, 4, 4]\ndetail = \"quick\""), 10, "detail", "does not go with cells"});
  expect_mistake({with_added("cells = [4, 4]\nmode = \"whole\""), 9, "cells", "three counts"});
  expect_mistake(
      {with_added("feedstocks = { mud = { like = \"cattle manure\", loose_density = \"1900 kg/m3\" } }"), 9,
       "feedstocks.mud.loose_density", "denser than the same matter without any air"});
  expect_mistake({with_added("feedstocks = { mud = { moisture = \"80 %\" } }"), 9, "feedstocks.mud",
                  "must say what it is like"});
  expect_mistake({with_added("feedstocks = { mud = { like = \"straw\", easy_share = 0.9 } }"), 9,
                  "feedstocks.mud", "add up to more than 1"});
}

TEST(Mistakes, WholeNumbersOfAnySizeGetTheirRange) {
  for (const std::string number : {"9007199254740993", "3000000000", "-9007199254740993"}) {
    expect_mistake({with_added("days = " + number), 9, "days", "out of range"});
    expect_mistake({with_added("cells = [" + number + ", 4, 4]"), 9, "cells[1]", "out of range"});
    expect_mistake(
        {with_line("air_in",
                   "air_in = [ { where = \"side\", kind = \"holes\", size = \"1 cm\", heights = [\"20 "
                   "cm\"], count = " +
                       number + " } ]"),
         4, "air_in[1].count", "out of range"});
    expect_mistake(
        {with_line("air_in", "air_in = [ { where = \"base\", kind = \"mesh\", blocked = " + number + " } ]"),
         4, "air_in[1].blocked", "out of range"});
  }
  const ReadOutcome outcome = read_case_text(with_added("days = 99999999999999999999"), "box.toml");
  ASSERT_EQ(outcome.mistakes.size(), 1u);
  EXPECT_EQ(outcome.mistakes[0].line, 9);
  EXPECT_EQ(outcome.mistakes[0].hint, "Days go up to 3660, counts of holes and buckets up to 100000.");
}

TEST(Mistakes, EveryWrongEntryOfAListIsTold) {
  const std::string fill =
      "fill = [ { what = \"gras\", buckets = 3 }, { what = \"straw\", buckets = \"many\" }, { what = "
      "\"strw\", "
      "buckets = 1 } ]";
  expect_mistake({with_line("fill", fill), 6, "fill[1].what", "no feedstock"});
  expect_mistake({with_line("fill", fill), 6, "fill[2].buckets", "does not begin with a number"});
  expect_mistake({with_line("fill", fill), 6, "fill[3].what", "no feedstock"});
  const std::string holes =
      "air_in = [ { where = \"side\", kind = \"holes\", size = \"1 cm\", count = 3, heights = [\"x\", \"20 "
      "cm\", "
      "\"3 kg\"] } ]";
  const ReadOutcome outcome = read_case_text(with_line("air_in", holes), "box.toml");
  std::vector<std::string> keys;
  for (const Diagnostic& mistake : outcome.mistakes) keys.push_back(mistake.key);
  EXPECT_EQ(keys, (std::vector<std::string>{"air_in[1].heights[1]", "air_in[1].heights[3]"}));
  expect_mistake({with_added("cells = [\"a\", 4, \"b\"]"), 9, "cells[1]", "not a whole number"});
  expect_mistake({with_added("cells = [\"a\", 4, \"b\"]"), 9, "cells[3]", "not a whole number"});
}

TEST(Mistakes, AFillThatCannotBeLaid) {
  expect_mistake(
      {with_line("fill", "fill = [ { what = \"water\", buckets = 3 } ]"), 6, "fill", "water alone"});
  const Overrides share{{"woodchip_share", "0.5", "--woodchip 50"}};
  const ReadOutcome chips = read_case_text(
      with_line("fill", "fill = [ { what = \"woodchip, coarse\", buckets = 3 } ]"), "box.toml", share);
  ASSERT_EQ(chips.mistakes.size(), 1u);
  EXPECT_EQ(chips.mistakes[0].file, "--woodchip 50");
  EXPECT_NE(chips.mistakes[0].problem.find("nothing but woodchip"), std::string::npos);
}

std::string layers(int count) {
  std::string text = "layers = [";
  for (int n = 0; n < count; ++n)
    text += std::string(n > 0 ? ", " : " ") + "{ depth = \"" + (n < 2 ? "20" : "1") +
            " cm\", fill = [ { what = \"straw\", buckets = 1 } ] }";
  return text + " ]";
}

/// The sound case with layers instead of its fill.
std::string layered(int count, const std::string& more = "") {
  std::string text = with_line("fill", layers(count)) + more;
  return text.erase(text.find("depth = \"0.6 m\"\n"), 16);
}

TEST(Mistakes, ManyLayersAreReadInEveryDetail) {
  for (const int count : {11, 12, 13, 18, 50}) {
    for (const char* detail : {"quick", "usual", "careful"}) {
      const ReadOutcome outcome = read_case_text(layered(count), "box.toml", {{"detail", detail, ""}});
      EXPECT_TRUE(outcome.read) << count << " layers:\n" << to_text(outcome.mistakes);
    }
  }
  expect_mistake({layered(101), 6, "layers", "more than can be computed"});
  expect_mistake(
      {layered(12, "cells = [8, 8, 20]\n"), 8, "cells", "12 layers of material do not fit into 20"});
}

// In a bed that is shut, or open in part, more air came out than went in and oxygen came from nowhere.
TEST(Mistakes, AGivenSpeedWithoutAWayForAllTheAir) {
  const std::string speed = "prescribed = { air_speed = \"1 mm/s\" }";
  const auto through = [&](const std::string& base, const std::string& lid) {
    return with_line("air_in", "air_in = [ " + base + " ]") + "lid = " + lid + "\n" + speed;
  };
  const std::string open = "{ where = \"base\", kind = \"open\" }";
  const auto without_gap = [](std::string text) { return text.replace(text.find("air_out"), 7, "#      "); };
  EXPECT_TRUE(read_case_text(without_gap(through(open, "\"none\"")), "box.toml").read);
  EXPECT_TRUE(read_case_text(with_added(speed), "box.toml").read) << "a gap under the lid lets it out";
  expect_mistake(
      {without_gap(through(open, "\"on the bed\"")), 10, "prescribed.air_speed", "all of the top"});
  const std::string half = "{ where = \"base\", kind = \"open\", to = 0.5 }";
  expect_mistake({without_gap(through(half, "\"none\"")), 10, "prescribed.air_speed", "none in the walls"});
}

TEST(Mistakes, LongValuesAreToldByTheirBeginning) {
  const ReadOutcome outcome =
      read_case_text(with_line("depth", "depth = \"" + std::string(5000, '0') + "99 m\""), "box.toml");
  ASSERT_EQ(outcome.mistakes.size(), 1U);
  EXPECT_EQ(outcome.mistakes[0].problem, "\"" + std::string(60, '0') + "...\" is out of range.");
}

TEST(Mistakes, TextsThatCannotBeShown) {
  const auto named = [](const std::string& name) {
    return with_line("air_in", "air_in = [ { where = \"base\", kind = \"mesh\", name = \"" + name + "\" } ]");
  };
  expect_mistake({named(std::string(50000, 'x')), 4, "air_in[1].name", "50000 letters"});
  expect_mistake({named("a\\u001b[31mb"), 4, "air_in[1].name", "cannot be printed"});
  expect_mistake({with_line("question", "question = \"a\\nb\""), 1, "question", "cannot be printed"});
  const std::string name(300, 'x');
  expect_mistake({with_added("feedstocks = { " + name + " = { like = \"grass\" } }"), 9, "feedstocks." + name,
                  "300 letters"});
}

TEST(Mistakes, MoreOpeningsThanCanBeComputed) {
  std::string text = "air_in = [";
  for (int n = 0; n < 101; ++n)
    text += std::string(n > 0 ? ", " : " ") + "{ where = \"base\", kind = \"mesh\" }";
  expect_mistake({with_line("air_in", text + " ]"), 4, "air_in", "101 openings"});
}

TEST(Mistakes, OpeningsThatCannotBe) {
  const auto in = [](const std::string& opening) {
    return with_line("air_in", "air_in = [ { " + opening + " } ]");
  };
  expect_mistake(
      {in("where = \"side\", kind = \"holes\", size = \"12 mm\", count = 9, heights = [\"1.1 m\"]"), 4,
       "air_in[1].heights", "outside the wall"});
  expect_mistake(
      {in("where = \"side\", kind = \"holes\", size = \"12 mm\", count = 9, heights = [\"0.8 m\"]"), 4,
       "air_in[1].heights", "above the bed"});
  expect_mistake({in("where = \"side\", kind = \"holes\", size = \"12 mm\", count = 9, heights = [\"3 mm\"]"),
                  4, "air_in[1].heights", "below the floor"});
  expect_mistake(
      {in("where = \"side\", kind = \"holes\", size = \"12 mm\", count = 900, heights = [\"30 cm\"]"), 4,
       "air_in[1].count", "do not fit"});
  expect_mistake(
      {in("where = \"side\", kind = \"hole\", size = \"12 mm\", heights = [\"30 cm\"], along = 0.001"), 4,
       "air_in[1].along", "outside the wall"});
  expect_mistake({in("where = \"top\", kind = \"open\""), 4, "air_in[1].where", "under a lid"});
  expect_mistake(
      {in("where = \"side\", kind = \"gap\", size = \"5 mm\""), 4, "air_in[1].kind", "not known here"});
  expect_mistake(
      {in("where = \"base\", kind = \"mesh\", count = 4"), 4, "air_in[1].count", "has no meaning"});
  expect_mistake({in("where = \"base\", kind = \"mesh\", loss = 0.5"), 4, "air_in[1].loss", "velocity head"});
  expect_mistake(
      {in("where = \"base\", kind = \"open\", from = 0.6, to = 0.4"), 4, "air_in[1].to", "ends before"});
  expect_mistake(
      {with_added("base = { kind = \"closed\" }"), 4, "air_in[1].where", "closed or lies on the ground"});
  expect_mistake({with_added("lid = \"none\""), 5, "air_out[1].where", "no lid"});
  expect_mistake(
      {with_line("air_in", "base = { kind = \"raised\" }"), 4, "base", "no opening leads from it"});
  expect_mistake(
      {prescribed_case() +
           "air_in = [ { where = \"side\", kind = \"hole\", size = \"1 cm\", heights = [\"0.5 m\"] } ]\n",
       5, "air_in[1].kind", "single hole"});
  expect_mistake({prescribed_case() + "air_in = [ { where = \"side\", side = \"front\", kind = \"slots\", "
                                      "size = \"1 cm\", heights = [\"0.5 m\"] } ]\n",
                  5, "air_in[1].side", "left and a right side only"});
}

TEST(Mistakes, EnvelopeAndModes) {
  const std::string round = "bin = { shape = \"round\", width = \"0.6 m\", height = \"1 m\" }";
  expect_mistake({with_line("bin", round) + "mode = \"whole\"\n", 9, "mode", "computed as rings"});
  expect_mistake(
      {with_line("bin", "bin = { shape = \"round\", width = \"0.6 m\", length = \"1 m\", height = \"1 m\" }"),
       2, "bin.length", "does not go with"});
  expect_mistake({with_added("mode = \"rings\"\nsides = { left = \"insulated\" }"), 10, "sides", "one wall"});
  expect_mistake(
      {with_added("mode = \"slice\"\nsides = { front = \"insulated\" }"), 10, "sides.front", "a slice"});
  expect_mistake({with_line("walls", "walls = { held_at = \"20 degC\", flux = \"1 W/m2\" }"), 3, "walls",
                  "More than one"});
  expect_mistake(
      {with_line("walls", "walls = { held_at = \"20 degC\", to = \"9 degC\" }"), 3, "walls.to", "no film"});
  expect_mistake(
      {with_added("base = { kind = \"raised\", soil = \"2 W/mK\" }"), 9, "base.soil", "does not go with"});
  expect_mistake({with_added("base = { kind = \"raised\", height = \"20 cm\" }"), 9, "base.height",
                  "its height would change nothing"});
  expect_mistake({with_added("base = { kind = \"raised\", height = \"20 cm\", inlet = \"open\" }"), 9,
                  "base.height", "its height would change nothing"});
}

TEST(Mistakes, SurroundingsAndPrescribedProperties) {
  const auto outside = [](const std::string& keys) {
    return with_line("outside", "outside = { " + keys + " }");
  };
  expect_mistake({outside("temperature = \"8 degC\", daily = { low = \"4 degC\", high = \"9 degC\" }"), 8,
                  "outside.temperature", "does not go with daily"});
  expect_mistake(
      {outside("daily = { low = \"9 degC\", high = \"4 degC\" }"), 8, "outside.daily.high", "below the low"});
  expect_mistake(
      {outside("altitude = \"100 m\", pressure = \"1000 hPa\""), 8, "outside.pressure", "does not go with"});
  expect_mistake({outside("table = { time = [\"0 d\", \"1 d\"], temperature = [\"8 degC\"] }"), 8,
                  "outside.table.temperature", "equally long"});
  expect_mistake({outside("table = { time = [\"1 d\", \"0 d\"], temperature = [\"8 degC\", \"9 degC\"] }"), 8,
                  "outside.table.time", "must rise"});
  expect_mistake({with_added("hold_temperature = \"40 degC\"\ninitial = { temperature = \"20 degC\" }"), 9,
                  "hold_temperature", "does not go with initial"});
  expect_mistake({with_added("prescribed = { permeability = \"1e-8 m2\" }\nwall_gap = \"2 mm\""), 10,
                  "wall_gap", "permeability is prescribed"});
  expect_mistake({with_added("prescribed = { permeability = \"1e-8 m2\" }\nwall_lane = true"), 10,
                  "wall_lane", "permeability is prescribed"});
  expect_mistake({with_added("prescribed = { uptake = { law = \"none\" } }\nmicrobes = false"), 10,
                  "microbes", "uptake is prescribed"});
  expect_mistake({with_added("prescribed = { uptake = { law = \"constant\", half = 0.01 } }"), 9,
                  "prescribed.uptake.half", "does not go with"});
  expect_mistake({with_added("prescribed = { density = \"2400 kg/m3\", porosity = 0.4 }"), 9,
                  "prescribed.density", "denser than ash"});
  expect_mistake(
      {prescribed_case() + "settles = true\n", 5, "settles", "no meaning in a bed without a recipe"});
  expect_mistake(
      {"bin = { width = \"1 m\", height = \"1 m\" }\nmode = \"slice\"\nprescribed = { porosity = 0.4 }\n", 3,
       "prescribed.conductivity", "missing"});
}

TEST(Mistakes, AllAreToldAtOnceInTheOrderOfTheFile) {
  const ReadOutcome outcome = read_case_text(
      "bin = { shape = \"box\", width = \"0.9\", length = \"0.9 kg\", height = \"1 m\" }\n"
      "walls = [ { of = \"timbre\", thick = \"18 mm\" } ]\n"
      "fill = [ { what = \"gras\", buckets = 3 } ]\n"
      "dept = \"0.6 m\"\n",
      "box.toml");
  std::vector<std::string> keys;
  for (const Diagnostic& mistake : outcome.mistakes) keys.push_back(mistake.key);
  EXPECT_EQ(keys,
            (std::vector<std::string>{"bin.width", "bin.length", "walls[1].of", "fill[1].what", "dept"}));
}

TEST(Mistakes, ASyntaxErrorComesAlone) {
  const ReadOutcome outcome = read_case_text("dept = \"0.6 m\"\nbin = { shape = \"box\"\n", "box.toml");
  ASSERT_EQ(outcome.mistakes.size(), 1u);
  EXPECT_FALSE(outcome.unreadable);
  EXPECT_EQ(outcome.mistakes[0].line, 2);
  EXPECT_NE(outcome.mistakes[0].problem.find("cannot be read as TOML"), std::string::npos);
}

TEST(Mistakes, AreToldInOneLine) {
  const Diagnostic mistake{"box.toml", 3, 14, "walls[1].of", "It is wrong.", "Mend it."};
  EXPECT_EQ(to_text(mistake), "box.toml:3:14: walls[1].of: It is wrong. Mend it.");
  EXPECT_EQ(to_text({"box.toml", 0, 0, "", "The file is empty.", ""}), "box.toml: The file is empty.");
}

TEST(Mistakes, AreToldWithoutControlCharactersAndWithoutEndlessKeys) {
  EXPECT_EQ(to_text({"b\x1box", 0, 0, "", "\"\x1b[2J\n\" is wrong.", ""}),
            "b\\x1box: \"\\x1b[2J\\x0a\" is wrong.");
  // Control characters of two bytes do the same to a terminal, and bytes that are no letters are none.
  EXPECT_EQ(to_text({"box", 0, 0, "", "\"\u009b2J\xff\u00e4\" is wrong.", ""}),
            "box: \"\\x9b2J\uFFFD\u00e4\" is wrong.");
  EXPECT_EQ(to_text({"box", 0, 0, std::string(5000, 'k'), "No.", ""}),
            "box: " + std::string(120, 'k') + "...: No.");
  EXPECT_EQ(shortened("a\u00e4\u00f6u", 3), "a\u00e4\u00f6...");
}

}  // namespace
}  // namespace updraught
