// How the wind presses on openings (theory 5.11).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "cases/reader/read_case.h"
#include "solver/air/wind.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"
#include "tests/unit/settled_flow.h"

namespace updraught {
namespace {

using step_tests::even_gas;
using step_tests::outside_density;
using step_tests::outside_dry;
using step_tests::problem_of;
using step_tests::Ready;
using step_tests::settled_flow;
using step_tests::viscosity;

/// A prescribed bed of 1 m x 1 m x 0.6 m under a lid of its own height, closed but for these lines.
std::string closed_bed(const std::string& permeability, const std::string& lines) {
  return "bin = { shape = \"box\", width = \"1 m\", length = \"1 m\", height = \"0.6 m\" }\n"
         "base = { kind = \"closed\" }\nlid = \"on the bed\"\ndepth = \"0.6 m\"\nhold_temperature = \"10 "
         "degC\"\n"
         "prescribed = { permeability = \"" +
         permeability +
         "\", porosity = 0.4, density = \"600 kg/m3\", conductivity = \"0.4 W/mK\", heat_capacity = \"3000 "
         "J/kgK\", diffusivity = \"5e-6 m2/s\" }\n" +
         lines;
}

std::string blown(const std::string& speed, const std::string& from) {
  return "outside = { temperature = \"10 degC\", wind = \"" + speed + "\", wind_from = \"" + from + "\" }\n";
}

const std::string slice = "mode = \"slice\"\ncells = [12, 12]\n";
const std::string whole = "mode = \"whole\"\ncells = [8, 8, 8]\n";

/// The same opening in each of these sides; `more` may differ by side.
template <class More>
std::string on_sides(const std::vector<std::string>& sides, const std::string& opening, More more) {
  std::string list = "air_in = [ ";
  for (const std::string& side : sides)
    list += "{ where = \"side\", side = \"" + side + "\", " + opening + more(side) + " }, ";
  return list.substr(0, list.size() - 2) + " ]\n";
}

std::string on_sides(const std::vector<std::string>& sides, const std::string& opening) {
  return on_sides(sides, opening, [](const std::string&) { return std::string(); });
}

const std::string holes = "kind = \"holes\", size = \"20 mm\", count = 4, heights = [\"20 cm\"]";

/// The wind's share in each path over v^2/2, by the side in which the opening lies.
std::vector<double> coefficients(const std::string& text, int openings) {
  Ready ready(problem_of(text));
  std::vector<double> found(at(openings), NAN);
  const double speed = ready.bed.setup->problem.outside.wind;
  for (const AirPath& path : air_paths(ready.bed, ready.work.frame.now))
    found[at(path.opening)] = path.wind / (0.5 * speed * speed);
  return found;
}

TEST(Wind, PressesOnTheSideThatItMeetsAndPullsOnTheOthers) {
  const std::vector<std::string> sides{"left", "right", "front", "back"};
  const std::string bed = closed_bed("1e-8 m2", whole + on_sides(sides, holes));
  const auto from = [&](const std::string& side) { return coefficients(bed + blown("3 m/s", side), 4); };
  EXPECT_EQ(from("left"), (std::vector<double>{0.7, -0.2, -0.5, -0.5}));
  EXPECT_EQ(from("right"), (std::vector<double>{-0.2, 0.7, -0.5, -0.5}));
  EXPECT_EQ(from("front"), (std::vector<double>{-0.5, -0.5, 0.7, -0.2}));
  EXPECT_EQ(from("back"), (std::vector<double>{-0.5, -0.5, -0.2, 0.7}));
}

Problem windy(BinShape::Kind kind, Mode mode) {
  Problem problem;
  problem.bin.kind = kind;
  problem.mode = mode;
  problem.outside.wind = 2.0;  // so that v^2/2 is 2
  return problem;
}

TEST(Wind, IsItsMeanAroundWhereSidesAreNotTold) {
  EXPECT_NEAR(wind_around(windy(BinShape::Kind::box, Mode::whole)), 2.0 * -0.125, 1e-15);
  EXPECT_NEAR(wind_around(windy(BinShape::Kind::box, Mode::rings)), 2.0 * -0.125, 1e-15);
  EXPECT_NEAR(wind_on_wall(windy(BinShape::Kind::box, Mode::rings), Side::right), 2.0 * -0.125, 1e-15);
  // A piece of a long heap has two sides.
  EXPECT_NEAR(wind_around(windy(BinShape::Kind::box, Mode::slice)), 2.0 * 0.25, 1e-15);
  Problem round = windy(BinShape::Kind::round, Mode::rings);
  round.bin.height = round.bin.width = 0.8;
  EXPECT_NEAR(wind_around(round), 2.0 * -0.5, 1e-12);
  round.bin.height = 1.6;
  EXPECT_LT(wind_around(round), 2.0 * -0.5);
  EXPECT_NEAR(wind_on_wall(round, Side::right), wind_around(round), 1e-15);
  EXPECT_NEAR(wind_on_top(round), 2.0 * -0.6, 1e-15);
}

TEST(Wind, OnACylinderIsThatOfTheStandard) {
  EXPECT_NEAR(cylinder_coefficient(0.0, 1.0), 0.85, 1e-12);
  EXPECT_EQ(cylinder_coefficient(0.0, 3.0), cylinder_coefficient(0.0, 1.0));
  EXPECT_LT(cylinder_coefficient(1.4, 3.0), cylinder_coefficient(1.4, 1.0));
  EXPECT_EQ(cylinder_coefficient(1.4, 9.0), cylinder_coefficient(1.4, 4.0));
}

TEST(Wind, OfNoSpeedLeavesTheSameBits) {
  const std::string bed = closed_bed("1e-8 m2", whole + on_sides({"left", "back"}, holes));
  const Ready still(problem_of(bed + "outside = { temperature = \"10 degC\" }\n"));
  const Ready named(problem_of(bed + blown("0 m/s", "back")));
  const auto flow_of = [](const Ready& ready) {
    return settled_flow(ready, even_gas(ready, 0.1), air_paths(ready.bed, ready.work.frame.now));
  };
  const Flow a = flow_of(still), b = flow_of(named);
  EXPECT_EQ(a.pressure, b.pressure);
  EXPECT_EQ(a.net, b.net);
  EXPECT_EQ(a.faces.x, b.faces.x);
  EXPECT_EQ(a.faces.z, b.faces.z);
}

TEST(Wind, ActsAsTheSamePressureImposedSideBySide) {
  const std::vector<std::string> sides{"left", "right", "front", "back"};
  const double head = 0.5 * outside_density * 9.0;
  const Ready wind(
      problem_of(closed_bed("1e-8 m2", whole + on_sides(sides, holes) + blown("3 m/s", "front"))));
  const auto pressure = [&](const std::string& side) {
    const double share = side == "front" ? 0.7 : side == "back" ? -0.2 : -0.5;
    return ", pressure = \"" + std::to_string(share * head) + " Pa\"";
  };
  const Ready imposed(problem_of(closed_bed("1e-8 m2", whole + on_sides(sides, holes, pressure))));
  const auto flow_of = [](const Ready& ready) {
    return settled_flow(ready, even_gas(ready, 0.0), air_paths(ready.bed, ready.work.frame.now));
  };
  const Flow a = flow_of(wind), b = flow_of(imposed);
  ASSERT_EQ(a.net.size(), b.net.size());
  const double largest = std::abs(*std::max_element(
      a.net.begin(), a.net.end(), [](double one, double other) { return std::abs(one) < std::abs(other); }));
  EXPECT_GT(largest, 0.0);
  for (std::size_t n = 0; n < a.net.size(); ++n) EXPECT_NEAR(a.net[n], b.net[n], 1e-6 * largest) << n;
}

/// Air in through the openings of a bed (m3/s).
double entering(const Ready& ready) {
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const Flow flow = settled_flow(ready, even_gas(ready, 0.0), paths);
  double in = 0.0;
  for (double net : flow.net) in -= std::min(net, 0.0);
  return in / outside_dry;
}

TEST(Wind, BlowsThroughTwoSlotsInSeries) {
  // So wide are the pores that the bed resists next to nothing.
  const std::string slots = "kind = \"slots\", size = \"10 mm\", plate = \"0 mm\", heights = [\"30 cm\"]";
  const Ready ready(problem_of(
      closed_bed("1e-3 m2", slice + on_sides({"left", "right"}, slots) + blown("2 m/s", "right"))));
  const double area = 0.01 * ready.bed.grid.y.back();
  const double drop = (0.7 + 0.2) * 0.5 * outside_density * 4.0;
  const double laminar = 2.0 * viscosity * 32.0 / (std::numbers::pi * 1e-4) / ready.bed.grid.y.back();
  const double orifice = 2.0 * outside_density / (2.0 * 0.36 * area * area);
  const double expected = 2.0 * drop / (laminar + std::sqrt(laminar * laminar + 4.0 * orifice * drop));
  EXPECT_NEAR(entering(ready), expected, 1e-3 * expected);
}

TEST(Wind, PullsAirUpThroughAnOpenBedByDarcysLaw) {
  const std::string open =
      "bin = { shape = \"box\", width = \"1 m\", length = \"1 m\", height = \"0.6 m\" }\ndepth = \"0.6 m\"\n"
      "hold_temperature = \"10 degC\"\nprescribed = { permeability = \"1e-8 m2\", porosity = 0.4, density = "
      "\"600 kg/m3\", conductivity = \"0.4 W/mK\", heat_capacity = \"3000 J/kgK\", diffusivity = \"5e-6 "
      "m2/s\" }\nbase = { kind = \"raised\", inlet = \"open\" }\nlid = \"none\"\n"
      "air_in = [ { where = \"base\", kind = \"open\" } ]\nair_out = [ { where = \"top\", kind = \"open\" } "
      "]\n";
  const Ready ready(problem_of(open + whole + blown("2 m/s", "left")));
  const double expected = 1e-8 / viscosity * (0.6 - 0.125) * 0.5 * outside_density * 4.0 / 0.6;
  EXPECT_NEAR(entering(ready), expected, 1e-6 * expected);
}

TEST(Wind, FromASideThatIsNotThereIsToldOnce) {
  using reader_tests::with_line;
  const auto mistake = [](const std::string& outside, const std::string& more) {
    const ReadOutcome outcome = read_case_text(with_line("outside", outside) + more, "box.toml");
    return outcome.mistakes.size() == 1 ? outcome.mistakes[0].problem : to_text(outcome.mistakes);
  };
  EXPECT_EQ(mistake("outside = { wind = \"1 m/s\", wind_from = \"back\" }", slice),
            "A slice has a left and a right side only.");
  EXPECT_EQ(mistake("outside = { wind_from = \"back\" }", ""),
            "Where the wind comes from matters only with a wind.");
  EXPECT_EQ(mistake("outside = { wind = \"1 m/s\", wind_from = \"above\" }", "").substr(0, 7), "\"above\"");
}

}  // namespace
}  // namespace updraught
