// The bin around the bed as figures draw it.
#include <gtest/gtest.h>

#include "post/maps/bin_sketch.h"
#include "tests/unit/invented_result.h"

namespace updraught {
namespace {

/// What the bin of an invented box fills in a cut across its width or along its length.
Extent extent(const Problem& problem, bool across) {
  const Result result = invented::result(Mode::whole, true);
  CutPlace place;
  place.along_x = across;
  return extent_of(problem, cut_of(result.grid, result.pictures[0], place));
}

TEST(BinSketch, DrawsEachWallAndTheLidAsThickAsItIs) {
  Problem problem = invented::box_problem(true);
  invented::set_walls(problem, {0.2, 0.018, 0.05, 0.03});
  problem.lid_heat.layers = {{"board", BoardKind::wood, 0.012, 0.13}};
  const Extent across = extent(problem, true);
  EXPECT_EQ(across.wall_left, 0.2);
  EXPECT_EQ(across.wall_right, 0.018);
  EXPECT_EQ(across.lid, 0.012);
  EXPECT_DOUBLE_EQ(across.outer(true), across.half_inner + 0.018);
  EXPECT_DOUBLE_EQ(across.half_outer, across.half_inner + 0.2);
  const Extent along = extent(problem, false);
  EXPECT_EQ(along.wall_left, 0.05);
  EXPECT_EQ(along.wall_right, 0.03);
}

TEST(BinSketch, DrawsALidOfUnknownThicknessTheSameWhateverTheWallsAre) {
  Problem problem = invented::box_problem(true);
  const double lid = extent(problem, true).lid;
  invented::set_walls(problem, {0.2, 0.2, 0.2, 0.2});
  EXPECT_EQ(extent(problem, true).lid, lid);
}

}  // namespace
}  // namespace updraught
