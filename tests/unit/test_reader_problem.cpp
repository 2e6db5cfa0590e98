// What the keys of a case become in the Problem.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include "cases/reader/read_case.h"
#include "solver/bed/plates.h"
#include "tests/unit/reader_helpers.h"

namespace updraught {
namespace {

using reader_tests::prescribed_case;
using reader_tests::read_sound;
using reader_tests::sound_case;
using reader_tests::with_added;
using reader_tests::with_line;

Overrides quick() {
  return {{"detail", "quick", ""}};
}

Overrides chips(double share) {
  return {{"woodchip_share", case_text(share), ""}};
}

TEST(ReaderProblem, TheSoundCase) {
  const ReadCase c = read_sound(sound_case());
  const Problem& p = c.problem;
  EXPECT_EQ(c.name, "box");
  EXPECT_EQ(c.text, sound_case());
  EXPECT_EQ(p.title, "Will the middle get air?");
  EXPECT_EQ(p.mode, Mode::whole);
  EXPECT_EQ(p.cells.nx, 32);
  EXPECT_EQ(p.cells.nz, 36);
  EXPECT_EQ(p.bin.width, 0.9);
  EXPECT_EQ(p.bin.height, 1.0);
  EXPECT_DOUBLE_EQ(p.sides[2].resistance, 0.018 / 0.13);
  EXPECT_DOUBLE_EQ(p.sides[2].thickness(), 0.018);
  EXPECT_EQ(p.base.kind, Base::Kind::raised);
  EXPECT_EQ(p.base.inlet_area, 0.0);
  ASSERT_EQ(p.openings.size(), 2u);
  EXPECT_EQ(p.openings[0].name, "base mesh");
  EXPECT_EQ(p.openings[0].open_share, 0.2);
  EXPECT_EQ(p.openings[0].diameter, 0.006);
  EXPECT_EQ(p.openings[1].name, "lid gap");
  EXPECT_EQ(p.openings[1].size, 0.005);
  EXPECT_FALSE(p.openings[1].plate);
  ASSERT_EQ(p.batches.size(), 1u);
  EXPECT_EQ(p.batches[0].depth, 0.6);
  ASSERT_EQ(p.batches[0].portions.size(), 2u);
  EXPECT_DOUBLE_EQ(p.batches[0].portions[0].mass, 0.03 * p.batches[0].portions[0].feedstock.loose_density);
  EXPECT_TRUE(p.batches[0].portions[1].feedstock.chips);
  EXPECT_EQ(p.outside.temperature, 8.0);
  EXPECT_EQ(p.initial.temperature, 8.0);
  EXPECT_DOUBLE_EQ(p.duration, 14 * 86400.0);
  EXPECT_TRUE(p.microbes_live && p.settles && p.wall_lane);
  EXPECT_EQ(c.depth_asked, 0.6);
  EXPECT_EQ(c.bucket, 0.01);
  ASSERT_EQ(c.recipe.size(), 2u);
  EXPECT_EQ(c.recipe[0].buckets, 3.0);
  EXPECT_TRUE(c.recipe[1].chips);
}

// The slowest cooling mode of a disc, (2.404826/r)^2, is that of the box, pi^2 (1/a^2 + 1/b^2); wall and plan
// area come out as the box has them by their scales.
TEST(ReaderProblem, QuickBoxesAreRingsWhoseMiddleCoolsAsTheirs) {
  const ReadCase square = read_sound(with_added("detail = \"quick\""));
  EXPECT_EQ(square.problem.mode, Mode::rings);
  EXPECT_TRUE(square.problem.box_as_rings);
  EXPECT_EQ(square.problem.cells.nx, 24);
  EXPECT_EQ(square.problem.cells.nz, 40);
  constexpr double pi = std::numbers::pi;
  const double radius = 0.5 * square.problem.bin.width;
  EXPECT_NEAR(2.404826 / radius, pi * std::sqrt(2.0) / 0.9, 1e-5);
  EXPECT_NEAR(square.problem.plan_scale * pi * radius * radius, 0.81, 1e-12);
  EXPECT_NEAR(square.problem.plan_scale * square.problem.wall_scale * 2.0 * pi * radius, 3.6, 1e-12);
  const ReadCase oblong = read_sound(
      with_line("bin", "bin = { width = \"0.8 m\", length = \"1.2 m\", height = \"1 m\" }"), quick());
  const double wide = 0.5 * oblong.problem.bin.width;
  EXPECT_NEAR(2.404826 / wide, pi * std::hypot(1.0 / 0.8, 1.0 / 1.2), 1e-5);
  EXPECT_NEAR(oblong.problem.plan_scale * pi * wide * wide, 0.96, 1e-12);
  EXPECT_NEAR(oblong.problem.plan_scale * oblong.problem.wall_scale * 2.0 * pi * wide, 4.0, 1e-12);
}

TEST(ReaderProblem, QuickDetailLaidOverACaseIsRingsWhateverItSays) {
  const std::string whole = with_added("mode = \"whole\"\ncells = [40, 40, 40]");
  EXPECT_EQ(read_sound(whole).problem.cells.nx, 40);
  EXPECT_EQ(read_sound(whole, quick()).problem.mode, Mode::rings);
  EXPECT_EQ(read_sound(whole, quick()).problem.cells.nx, 24);
}

TEST(ReaderProblem, ALopsidedBoxStaysWholeInQuickDetail) {
  const std::string hole =
      "air_in = [ { where = \"side\", side = \"left\", kind = \"hole\", size = \"2 cm\", heights = [\"10 "
      "cm\"] } ]";
  const ReadCase c = read_sound(with_line("air_in", hole), quick());
  EXPECT_EQ(c.problem.mode, Mode::whole);
  EXPECT_EQ(c.problem.cells.nx, 12);
  EXPECT_EQ(c.problem.base.kind, Base::Kind::closed);
  EXPECT_EQ(c.problem.openings[0].side, Side::left);
  EXPECT_FALSE(c.problem.openings[0].all_sides);
}

TEST(ReaderProblem, OverridesReplaceWhatTheFileSays) {
  const Overrides o{{"mode", "rings", ""},
                    {"laws.packing_excess_shift", "-0.1", ""},
                    {"wall_gap", "2 mm", ""},
                    {"days", "3", ""},
                    {"pictures_every", "1 h", ""}};
  const Problem p = read_sound(with_added("days = 10\nwall_gap = \"1 mm\""), o).problem;
  EXPECT_EQ(p.mode, Mode::rings);
  EXPECT_EQ(p.laws.packing_excess_shift, -0.1);
  EXPECT_EQ(p.wall_gap, 0.002);
  EXPECT_EQ(p.duration, 3 * 86400.0);
  EXPECT_EQ(p.picture_every, 3600.0);
}

double chip_share(const ReadCase& c) {
  double chips = 0.0;
  double all = 0.0;
  for (const RecipeLine& line : c.recipe) {
    all += line.buckets;
    if (line.chips) chips += line.buckets;
  }
  return chips / all;
}

TEST(ReaderProblem, WoodchipShareKeepsTheOtherProportions) {
  const std::string two = with_line("fill",
                                    "fill = [ { what = \"grass\", buckets = 1 }, { what = \"kitchen waste\", "
                                    "buckets = 3 }, { what = \"woodchip, fine\", buckets = 1 } ]");
  for (const double share : {0.0, 0.3, 0.5, 0.7}) {
    const ReadCase c = read_sound(two, chips(share));
    EXPECT_NEAR(chip_share(c), share, 1e-12);
    EXPECT_NEAR(c.recipe[1].buckets / c.recipe[0].buckets, 3.0, 1e-12);
  }
  const ReadCase none =
      read_sound(with_line("fill", "fill = [ { what = \"grass\", buckets = 1 } ]"), chips(0.4));
  EXPECT_NEAR(chip_share(none), 0.4, 1e-12);
  EXPECT_EQ(none.recipe.back().what, "woodchip, coarse");
}

TEST(ReaderProblem, ABaseLayerOfChipsKeepsOutOfTheShare) {
  const std::string layers =
      "layers = [ { depth = \"8 cm\", fill = [ { what = \"woodchip, coarse\", buckets = 1 } ] },\n"
      "  { depth = \"50 cm\", activity = 0.3, name = \"mix\", fill = [ { what = \"grass\", buckets = 1 } ] } "
      "]";
  std::string text = with_line("depth", "");
  text.replace(text.find("fill ="), text.find("\n", text.find("fill =")) - text.find("fill ="), layers);
  const ReadCase c = read_sound(text, chips(0.5));
  ASSERT_EQ(c.problem.batches.size(), 2u);
  EXPECT_EQ(c.problem.batches[0].portions.size(), 1u);
  EXPECT_EQ(c.problem.batches[0].depth, 0.08);
  EXPECT_EQ(c.problem.batches[1].name, "mix");
  EXPECT_EQ(c.problem.batches[1].activity, 0.3);
  EXPECT_NEAR(chip_share(c), 0.5, 1e-12);
}

TEST(ReaderProblem, OwnFeedstocks) {
  const ReadCase c =
      read_sound(with_line("fill",
                           "feedstocks = { \"our scraps\" = { like = \"kitchen waste\", moisture = "
                           "\"80 %\", loose_density = \"480 kg/m3\" } }\n"
                           "fill = [ { what = \"our scraps\", mass = \"5 kg\" } ]"));
  const Feedstock& f = c.problem.batches[0].portions[0].feedstock;
  EXPECT_EQ(f.moisture, 0.8);
  EXPECT_EQ(f.loose_density, 480.0);
  EXPECT_EQ(c.problem.batches[0].portions[0].mass, 5.0);
}

TEST(ReaderProblem, OwnFeedstocksAreWhatTheyAreLikeWhateverTheyAreCalled) {
  const auto nature_of = [](const std::string& name, const std::string& like) {
    const ReadCase c =
        read_sound(with_line("fill", fmt::format("feedstocks = {{ \"{0}\" = {{ like = \"{1}\" }} }}\n"
                                                 "fill = [ {{ what = \"{0}\", buckets = 5 }} ]",
                                                 name, like)));
    return c.problem.batches[0].portions[0].feedstock.nature;
  };
  const Nature restaurant = nature_of("restaurant", "cooked food");
  EXPECT_TRUE(restaurant.food && restaurant.cooked);
  EXPECT_FALSE(restaurant.manure || restaurant.weedkiller);
  const Nature bedding = nature_of("from the stable", "horse manure");
  EXPECT_TRUE(bedding.manure && bedding.weedkiller);
  const Nature cuttings = nature_of("fish market hay", "grass");
  EXPECT_FALSE(cuttings.food || cuttings.cooked || cuttings.manure || cuttings.weedkiller);
}

const char* const lopsided_walls =
    "sides = { left = [ { of = \"timber\", thick = \"15 cm\" }, { of = \"my board\", like = \"insulation "
    "board\", "
    "thick = \"5 cm\" } ] }\nlid = [ { of = \"plywood\", thick = \"12 mm\" } ]";

TEST(ReaderProblem, EachWallKeepsItsOwnLayers) {
  const Problem p = read_sound(with_added(lopsided_walls)).problem;
  EXPECT_DOUBLE_EQ(p.sides[0].thickness(), 0.2);
  EXPECT_DOUBLE_EQ(p.sides[1].thickness(), 0.018);
  EXPECT_DOUBLE_EQ(p.lid_heat.thickness(), 0.012);
  ASSERT_EQ(p.sides[0].layers.size(), 2u);
  EXPECT_EQ(p.sides[0].layers[0].kind, BoardKind::wood);
  EXPECT_EQ(p.sides[0].layers[1].material, "my board");
  EXPECT_EQ(p.sides[0].layers[1].kind, BoardKind::foam);
  EXPECT_DOUBLE_EQ(p.sides[0].resistance, 0.15 / 0.13 + 0.05 / 0.036);
}

TEST(ReaderProblem, AHoleHasTheBoardOfItsOwnWall) {
  const std::string holes =
      "air_in = [ { where = \"side\", kind = \"holes\", size = \"12 mm\", count = 8, heights = [\"10 cm\"] } "
      "]";
  const Problem p = read_sound(with_line("air_in", holes) + lopsided_walls).problem;
  EXPECT_DOUBLE_EQ(plate_of(p, p.openings[0], Side::left), 0.2);
  EXPECT_DOUBLE_EQ(plate_of(p, p.openings[0], Side::right), 0.018);
  const Problem own =
      read_sound(with_line("air_in", holes.substr(0, holes.size() - 4) + ", plate = \"3 mm\" } ]") +
                 lopsided_walls)
          .problem;
  EXPECT_DOUBLE_EQ(plate_of(own, own.openings[0], Side::left), 0.003);
}

TEST(ReaderProblem, PrescribedBeds) {
  const std::string more =
      "air = { kind = \"constant\", density = \"1.1 kg/m3\", viscosity = \"2e-5 Pa s\", heat_capacity = \"1 "
      "kJ/kgK\", expansion = \"0.003 1/K\", at = \"20 degC\" }\n"
      "initial = { bottom = \"20 degC\", top = \"10 degC\", ripple = \"0.1 K\", rolls = 2 }\n"
      "walls = \"insulated\"\nfloor = { flux = \"3 W/m2\" }\n"
      "spacing = \"even\"\ncells = [7, 9]\n";
  const Problem p = read_sound(prescribed_case() + more).problem;
  EXPECT_EQ(p.depth, 1.0);
  EXPECT_FALSE(p.microbes_live || p.settles);
  EXPECT_EQ(p.prescribed.permeability->at(0.3), 1e-8);
  EXPECT_EQ(*p.prescribed.inertia, 0.0);
  EXPECT_EQ(*p.prescribed.porosity, 0.4);
  EXPECT_EQ(p.constant_air->density, 1.1);
  EXPECT_EQ(p.constant_air->at, 20.0);
  EXPECT_EQ(p.initial.kind, Initial::Kind::linear);
  EXPECT_EQ(p.initial.ripple, 0.1);
  EXPECT_EQ(p.initial.rolls, 2.0);
  EXPECT_EQ(p.floor.kind, HeatBoundary::Kind::flux);
  EXPECT_EQ(p.floor.flux, 3.0);
  EXPECT_EQ(p.sides[0].kind, HeatBoundary::Kind::insulated);
  EXPECT_EQ(p.lid.kind, Lid::Kind::none);
  EXPECT_TRUE(p.openings.empty());
  EXPECT_TRUE(p.cells.uniform);
  EXPECT_EQ(p.cells.nx, 7);
  EXPECT_EQ(p.cells.nz, 9);
}

TEST(ReaderProblem, WithoutALidTheTopIsOpen) {
  const Problem p = read_sound(with_line("air_out", "lid = \"none\"")).problem;
  ASSERT_EQ(p.openings.size(), 2u);
  EXPECT_EQ(p.openings[1].where, Opening::Where::top);
  EXPECT_EQ(p.openings[1].kind, Opening::Kind::open);
}

TEST(ReaderProblem, Surroundings) {
  const Problem daily =
      read_sound(
          with_line("outside",
                    "outside = { daily = { low = \"4 degC\", high = \"12 degC\" }, humidity = \"80 %\", "
                    "altitude = \"1000 m\", ground = \"9 degC\", start_hour = \"8 h\" }"))
          .problem;
  EXPECT_EQ(daily.outside.temperature, 8.0);
  EXPECT_EQ(daily.outside.daily_swing, 4.0);
  EXPECT_EQ(daily.outside.humidity, 0.8);
  EXPECT_NEAR(daily.outside.pressure, 89875.0, 10.0);  // ISO 2533, table: 898.76 hPa
  EXPECT_EQ(daily.outside.start_hour, 8.0);
  const Problem table =
      read_sound(
          with_line(
              "outside",
              "outside = { table = { time = [\"0 d\", \"2 d\"], temperature = [\"8 degC\", \"50 degF\"] } }"))
          .problem;
  EXPECT_EQ(table.outside.table_time, (std::vector<double>{0.0, 172800.0}));
  EXPECT_NEAR(table.outside.table_temperature[1], 10.0, 1e-9);
}

/// The numbers of a problem that the starter's keys touch.
std::string fingerprint(const Problem& p) {
  std::string out = fmt::format("{} {} {} {} {} {} {} {}", int(p.mode), p.cells.nx, p.cells.ny, p.cells.nz,
                                p.cells.uniform, int(p.base.kind), p.base.height, p.base.inlet_area);
  for (const HeatBoundary* b : {&p.sides[0], &p.sides[1], &p.floor, &p.lid_heat})
    out += fmt::format(" {} {} {}", int(b->kind), b->resistance, b->to_outside);
  out += fmt::format(" {} {} {} {} {} {} {}", p.wall_gap, p.wall_lane, p.wall_friction, p.lateral_ratio,
                     p.outer_film, int(p.lid.kind), p.lid.drip_back);
  for (const Batch& b : p.batches) {
    out += fmt::format(" {:.12g} {}", b.activity, b.depth);
    for (const Portion& part : b.portions)
      out += fmt::format(" {} {} {}", part.feedstock.name, part.mass, part.feedstock.moisture);
  }
  out += fmt::format(" {} {} {} {} {} {} {} {}", p.initial.temperature, p.duration, p.until_settled,
                     p.picture_every, p.longest_step, p.microbes_live, p.settles, int(p.diffusion));
  for (const Event& event : p.events) out += fmt::format(" {} {}", int(event.kind), event.time);
  return out + fmt::format(" {}", p.hold_temperature.value_or(-1.0));
}

std::string file_text(const std::string& name) {
  std::ifstream stream(std::string(UPDRAUGHT_SOURCE_DIR "/") + name);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

TEST(ReaderProblem, TheStartersCommentsShowTheDefaults) {
  const std::string text = file_text("cases/starter.toml");
  const std::string plain = fingerprint(read_sound(text).problem);
  std::istringstream lines(text);
  int tried = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("# ", 0) != 0 || line.find(" = ") == std::string::npos) continue;
    const std::string key = line.substr(2, line.find(' ', 2) - 2);
    if (key.empty() || key.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") != std::string::npos) continue;
    if (line.substr(2).rfind(key + " = ", 0) != 0) continue;
    ++tried;
    const std::string now = fingerprint(read_sound(text + line.substr(2) + "\n").problem);
    // These seven have no default to show: they are examples of what could be.
    const bool example = key == "sides" || key == "feedstocks" || key == "turned_on" || key == "refills" ||
                         key == "waterings" || key == "until" || key == "hold_temperature";
    if (example) continue;
    EXPECT_EQ(now, plain) << line;
  }
  EXPECT_EQ(tried, 26);
}

TEST(ReaderProblem, ReadyAndTextbookCasesAreSound) {
  int count = 0;
  for (const char* folder : {"/cases", "/cases/textbook"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(UPDRAUGHT_SOURCE_DIR) + folder)) {
      if (entry.path().extension() != ".toml" || entry.path().stem() == "feedstocks") continue;
      const ReadOutcome outcome = read_case_file(entry.path());
      EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
      ++count;
    }
  }
  EXPECT_GE(count, 30);
}

/// Ra = k g rho0^2 beta dT H cp/(mu lambda) of a case with H = 1 m.
double rayleigh(const Problem& p, double difference) {
  const ConstantAir& a = *p.constant_air;
  return p.prescribed.permeability->at(0.0) * 9.80665 * a.density * a.density * a.expansion * difference *
         a.heat_capacity / (a.viscosity * *p.prescribed.conductivity);
}

TEST(ReaderProblem, TextbookCasesHaveTheNumbersTheyState) {
  const auto textbook = [](const std::string& name) {
    const ReadOutcome outcome =
        read_case_file(std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/textbook/" + name + ".toml");
    EXPECT_TRUE(outcome.read) << to_text(outcome.mistakes);
    return outcome.read->problem;
  };
  const double pi = std::numbers::pi;
  EXPECT_NEAR(rayleigh(textbook("onset-closed-above"), 10.0), 1.01 * 4.0 * pi * pi, 1e-5);
  EXPECT_NEAR(rayleigh(textbook("onset-open-top-below"), 10.0), 0.99 * 27.0976, 1e-8);
  const Problem flux = textbook("onset-flux-below-above");
  EXPECT_NEAR(rayleigh(flux, flux.floor.flux / *flux.prescribed.conductivity), 1.01 * 17.6537, 1e-8);
  EXPECT_NEAR(rayleigh(textbook("onset-square-open-above"), 10.0), 1.01 * 29.210, 1e-8);
  EXPECT_NEAR(rayleigh(textbook("side-heated-1000"), 10.0), 1000.0, 1e-7);
  EXPECT_NEAR(rayleigh(textbook("heated-below-50"), 10.0), 50.0, 1e-8);
  const Problem column = textbook("danckwerts-pe10-da1");
  const double speed = 1e-8 * column.openings[0].pressure / column.constant_air->viscosity;
  EXPECT_NEAR(speed / *column.prescribed.diffusivity, 10.0, 1e-9);
  EXPECT_NEAR(*column.prescribed.porosity * column.prescribed.uptake->rate / speed, 1.0, 1e-9);
}

}  // namespace
}  // namespace updraught
