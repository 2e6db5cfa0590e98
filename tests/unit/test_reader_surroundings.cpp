// What surrounds the bed, how it lies against the wall, and what varies along its width and length.
#include <gtest/gtest.h>

#include "cases/reader/read_case.h"
#include "solver/bed/bed.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::prescribed_case;
using reader_tests::sound_case;
using reader_tests::with_added;
using reader_tests::with_line;

ReadCase read(const std::string& text) {
  ReadOutcome outcome = read_case_text(text, "box.toml");
  EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
  return outcome.read.value_or(ReadCase{});
}

TEST(ReaderSurroundings, TheFilmOutsideIsThatOfTheWind) {
  EXPECT_NEAR(read(sound_case()).problem.outer_film, 9.13, 1e-12);
  const Problem windy =
      read(with_line("outside", "outside = { temperature = \"8 degC\", wind = \"4 m/s\" }")).problem;
  EXPECT_EQ(windy.outside.wind, 4.0);
  EXPECT_NEAR(windy.outer_film, 25.13, 1e-12);
}

TEST(ReaderSurroundings, ABedThatDoesNotTouchTheWallIsNotCarriedByIt) {
  EXPECT_EQ(make_bed(read(sound_case()).problem).setup->friction.coefficient, 0.4);
  EXPECT_EQ(make_bed(read(with_added("wall_gap = \"2 mm\"")).problem).setup->friction.coefficient, 0.0);
  const ReadOutcome both = read_case_text(with_added("wall_gap = \"2 mm\"\nwall_friction = 0.3"), "box.toml");
  ASSERT_EQ(both.mistakes.size(), 1u);
  EXPECT_EQ(both.mistakes[0].key, "wall_friction");
}

TEST(ReaderSurroundings, RollsRunAlongTheLengthToo) {
  const std::string lengthwise =
      "initial = { bottom = \"20 degC\", top = \"20 degC\", ripple = \"1 K\", "
      "rolls_lengthwise = 1 }";
  const Problem p = read(with_added(lengthwise)).problem;
  EXPECT_EQ(p.initial.rolls_lengthwise, 1.0);
  EXPECT_EQ(p.initial.rolls, 0.0);
  const Laid laid = lay_bed(p);
  const State& s = laid.state;
  const Grid& g = laid.bed.grid;
  const auto at = [&](int i, int j) {
    return s.temperature[static_cast<std::size_t>(g.cell(i, j, g.nz / 2))];
  };
  EXPECT_GT(at(0, 0), 20.5);
  EXPECT_EQ(at(0, 0), at(g.nx - 1, 0));
  EXPECT_NEAR(at(0, 0) + at(0, g.ny - 1), 40.0, 1e-9);
  const ReadOutcome rings = read_case_text(with_added("mode = \"rings\"\n" + lengthwise), "box.toml");
  ASSERT_EQ(rings.mistakes.size(), 1u);
  EXPECT_EQ(rings.mistakes[0].key, "initial.rolls_lengthwise");
}

TEST(ReaderSurroundings, HeatMayVaryAlongWidthOrLength) {
  const auto with_heat = [](const std::string& heat) {
    std::string text = prescribed_case();
    return text.insert(text.find("permeability"), "heat = " + heat + ", ");
  };
  const std::string rows = " = [\"0 m\", \"1 m\"], value = [\"0 W/m3\", \"10 W/m3\"] }";
  const Problem p = read(with_heat("{ width" + rows)).problem;
  EXPECT_EQ(p.prescribed.heat_along, Prescribed::Along::width);
  EXPECT_EQ(p.prescribed.heat->at(0.3), 3.0);
  EXPECT_EQ(read(with_heat("{ height" + rows)).problem.prescribed.heat_along, Prescribed::Along::height);
  const ReadOutcome slice = read_case_text(with_heat("{ length" + rows), "box.toml");
  ASSERT_EQ(slice.mistakes.size(), 1u);
  EXPECT_EQ(slice.mistakes[0].key, "prescribed.heat");
}

}  // namespace
}  // namespace updraught
