// Half of a bed that its other half mirrors stands for the whole of it (theory 10.6).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/air/mirror.h"
#include "solver/air/wall_air_paths.h"
#include "solver/run.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using step_tests::problem_of;

/// A box in the wind that breathes through its sides, under a lid and on the ground.
std::string box(const std::string& holes, const std::string& lines = "") {
  return "bin = { shape = \"box\", width = \"0.6 m\", length = \"0.8 m\", height = \"0.7 m\" }\n"
         "mode = \"whole\"\ncells = [9, 10, 7]\ndays = 0.5\n"
         "walls = [ { of = \"timber\", thick = \"20 mm\" } ]\nbase = { kind = \"closed\" }\n"
         "lid = [ { of = \"timber\", thick = \"20 mm\" } ]\n"
         "air_in = [ { where = \"side\", kind = \"holes\", size = \"12 mm\", " +
         holes +
         " } ]\nair_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
         "fill = [ { what = \"kitchen waste\", buckets = 1 }, { what = \"woodchip, coarse\", buckets = 1 } "
         "]\n"
         "depth = \"0.5 m\"\ninitial = { temperature = \"30 degC\" }\n" +
         lines;
}

const char* const rows = "count = 36, heights = [\"10 cm\", \"30 cm\"]";
const char* const from_left = "outside = { temperature = \"10 degC\", wind = \"1 m/s\" }\n";

void expect_alike(const SeriesRow& half, const SeriesRow& whole) {
  const auto near = [&](const char* what, double a, double b) {
    EXPECT_NEAR(a, b, 2e-6 * std::max(std::abs(b), 1e-3)) << what << " at " << whole.time << " s";
  };
  near("mean temperature", half.mean_temperature, whole.mean_temperature);
  near("hottest", half.hottest, whole.hottest);
  near("coldest", half.coldest, whole.coldest);
  near("aired share", half.aired_share, whole.aired_share);
  near("height", half.height, whole.height);
  near("air in", half.air_in, whole.air_in);
  near("oxygen uptake", half.oxygen_uptake, whole.oxygen_uptake);
  near("dry mass", half.dry_mass, whole.dry_mass);
  near("water", half.water, whole.water);
  near("velocity", half.largest_velocity, whole.largest_velocity);
  for (const auto& [path, heat] : whole.heat_by_path) near(path.c_str(), half.heat_by_path.at(path), heat);
  for (std::size_t n = 0; n < whole.openings.size(); ++n) {
    near("opening, in", half.openings[n].air_in, whole.openings[n].air_in);
    near("opening, heat", half.openings[n].heat, whole.openings[n].heat);
  }
}

/// Each value of the half to a share of the largest of the whole.
template <class Value>
void expect_alike(const std::string& name, const std::vector<Value>& half, const std::vector<Value>& whole,
                  double share) {
  ASSERT_EQ(half.size(), whole.size()) << name;
  double largest = 0.0, off = 0.0;
  for (std::size_t n = 0; n < whole.size(); ++n) {
    largest = std::max(largest, std::abs(double(whole[n])));
    off = std::max(off, std::abs(double(half[n]) - double(whole[n])));
  }
  EXPECT_LE(off, share * largest) << name;
}

/// What a computation ends with and what it hands on of its last step.
struct Seen {
  RunResult result;
  Grid grid;
  State state;
  Picture picture;
};

Seen seen(const Problem& problem, Halves halves) {
  Seen out;
  Observer observer;
  observer.on_step = [&](const Grid& grid, const State& state, const SeriesRow&) {
    out.grid = grid;
    out.state = state;
  };
  observer.on_picture = [&](const Grid&, const State&, const Picture& picture, const SeriesRow&) {
    out.picture = picture;
  };
  out.result = run(problem, observer, halves);
  return out;
}

const std::vector<SeriesRow>& rows_of(const Seen& seen) {
  return seen.result.series;
}

/// With four or five holes of a row in each side wall: none, or one, in the very middle.
class Mirror : public testing::TestWithParam<std::string> {};

TEST_P(Mirror, HalfOfABoxTellsWhatTheWholeTells) {
  const Problem problem = problem_of(box(GetParam(), from_left));
  ASSERT_TRUE(mirrors(problem));
  const Seen whole = seen(problem, Halves::never), half = seen(problem, Halves::where_mirrored);
  EXPECT_EQ(half.result.cells, whole.result.cells);
  ASSERT_EQ(rows_of(half).size(), rows_of(whole).size());
  ASSERT_GT(rows_of(whole).size(), 8U);
  for (const std::size_t n : {std::size_t{1}, rows_of(whole).size() / 2, rows_of(whole).size() - 1})
    expect_alike(rows_of(half)[n], rows_of(whole)[n]);
  EXPECT_GT(rows_of(whole).back().air_in, 0.0);
  EXPECT_LT(half.result.balances.heat, 1e-8);
  EXPECT_LT(half.result.balances.oxygen, 1e-8);
}

TEST_P(Mirror, StatesAndPicturesAreThoseOfTheWhole) {
  const Problem problem = problem_of(box(GetParam(), from_left));
  const Seen whole = seen(problem, Halves::never), half = seen(problem, Halves::where_mirrored);
  ASSERT_EQ(half.grid.y.size(), whole.grid.y.size());
  for (std::size_t n = 0; n < whole.grid.y.size(); ++n) EXPECT_NEAR(half.grid.y[n], whole.grid.y[n], 1e-12);
  EXPECT_EQ(half.grid.patches.size(), whole.grid.patches.size());
  const auto theirs = whole.state.fields(), ours = half.state.fields();
  for (std::size_t f = 0; f < theirs.size(); ++f)
    expect_alike(theirs[f].name, *ours[f].values, *theirs[f].values, 2e-6);
  for (std::size_t f = 0; f < whole.picture.fields.size(); ++f)
    if (whole.picture.fields[f].name != "limiting")
      expect_alike(whole.picture.fields[f].name, half.picture.fields[f].values,
                   whole.picture.fields[f].values, 1e-5);
}

INSTANTIATE_TEST_SUITE_P(Rows, Mirror,
                         testing::Values("count = 28, heights = [\"10 cm\", \"30 cm\"]", std::string(rows)));

TEST(Mirror, HolesOfARowFollowTheLengthOfTheWalls) {
  const Problem problem = problem_of(box(rows, from_left));
  EXPECT_EQ(holes_by_wall(problem, problem.openings.front()), (std::array<int, 4>{5, 5, 4, 4}));
}

TEST(Mirror, AsksForTheSameOnBothSidesOfTheMiddle) {
  EXPECT_TRUE(mirrors(problem_of(box(rows))));
  EXPECT_TRUE(mirrors(problem_of(box("side = \"right\", count = 3, heights = [\"10 cm\"]"))));
  EXPECT_FALSE(mirrors(problem_of(box("side = \"front\", count = 3, heights = [\"10 cm\"]"))));
  // Of seven holes round the box the front has one and the back two.
  EXPECT_FALSE(mirrors(problem_of(box("count = 7, heights = [\"10 cm\"]"))));
  EXPECT_FALSE(mirrors(problem_of(
      box(rows, "outside = { temperature = \"10 degC\", wind = \"1 m/s\", wind_from = \"front\" }\n"))));
  Problem odd = problem_of(box(rows));
  odd.cells.ny = 5;
  EXPECT_FALSE(mirrors(odd));
  Problem walls = problem_of(box(rows));
  walls.sides[static_cast<std::size_t>(Side::back)].resistance *= 2.0;
  EXPECT_FALSE(mirrors(walls));
  EXPECT_FALSE(mirrors(front_half(problem_of(box(rows)))));
}

TEST(Mirror, AHalfBoxHasNoWallInItsMiddle) {
  const std::vector<double> x{0.0, 0.3, 0.6}, y{0.0, 0.1, 0.4, 0.7, 0.8}, dz{0.2, 0.2};
  const Grid half = half_box_grid(x, y, dz), whole = box_grid(x, y, dz);
  EXPECT_EQ(half.ny, 2);
  EXPECT_DOUBLE_EQ(2.0 * half.volume(), whole.volume());
  EXPECT_DOUBLE_EQ(2.0 * half.perimeter(0), whole.perimeter(0));
  EXPECT_TRUE(std::none_of(half.patches.begin(), half.patches.end(), [](const Patch& p) {
    return p.boundary == Boundary::wall && p.side == Side::back;
  }));
  const std::vector<double> whole_wall = half.coordinates().along_whole_wall(Side::left);
  ASSERT_EQ(whole_wall.size(), y.size());
  for (std::size_t n = 0; n < y.size(); ++n) EXPECT_NEAR(whole_wall[n], y[n], 1e-15);
  EXPECT_EQ(half.beside_wall[static_cast<std::size_t>(half.cell(0, 1, 0))], 1);
  EXPECT_THROW(half_box_grid(x, {0.0, 0.1, 0.4, 0.6, 0.8}, dz), std::invalid_argument);
  EXPECT_THROW(half_box_grid(x, {0.0, 0.2, 0.6, 0.8}, dz), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
