// Heat through each wall adds up to the heat through all walls and follows what each is made of.
#include <gtest/gtest.h>

#include "solver/run.h"

namespace updraught {
namespace {

/// A warm prescribed box without air, whose left wall is thick and whose others are thin.
Problem box() {
  Problem p;
  p.cells = {6, 6, 6, false};
  HeatBoundary wall;
  wall.kind = HeatBoundary::Kind::layers;
  wall.resistance = 0.1;
  p.sides.fill(wall);
  p.sides[0].resistance = 2.0;
  p.base.kind = Base::Kind::closed;
  p.depth = 0.6;
  p.prescribed.porosity = 0.4;
  p.prescribed.density = 600.0;
  p.prescribed.conductivity = 0.4;
  p.prescribed.heat_capacity = 3000.0;
  p.prescribed.diffusivity = 5e-6;
  p.freeze_flow = true;
  p.microbes_live = false;
  p.initial.temperature = 50.0;
  p.duration = 12.0 * 3600.0;
  return p;
}

TEST(WallHeat, OfEachWallAddsUpToAllWalls) {
  const RunResult result = run(box(), Observer{});
  const auto& heat = result.series.back().heat_by_path;
  const double sum =
      heat.at("wall_left") + heat.at("wall_right") + heat.at("wall_front") + heat.at("wall_back");
  EXPECT_GT(heat.at("walls"), 1.0);
  EXPECT_NEAR(sum / heat.at("walls"), 1.0, 1e-12);
  EXPECT_LT(heat.at("wall_left"), 0.5 * heat.at("wall_right"));
  EXPECT_NEAR(heat.at("wall_front") / heat.at("wall_back"), 1.0, 1e-6);
}

}  // namespace
}  // namespace updraught
