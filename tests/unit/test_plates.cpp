// The board that the air of an opening crosses is that of the wall it lies in (theory 5.5).
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/air/air_paths.h"
#include "solver/bed/plates.h"
#include "solver/bed/properties.h"

namespace updraught {
namespace {

HeatBoundary boards(double thickness) {
  HeatBoundary wall;
  wall.kind = HeatBoundary::Kind::layers;
  wall.layers = {{"timber", BoardKind::wood, thickness, 0.13}};
  wall.resistance = thickness / 0.13;
  return wall;
}

/// A prescribed box whose left wall is 200 mm thick and whose others are 18 mm.
Problem box() {
  Problem p;
  p.cells = {10, 10, 8, false};
  p.sides.fill(boards(0.018));
  p.sides[0] = boards(0.2);
  p.base.kind = Base::Kind::closed;
  p.depth = 0.6;
  p.prescribed.permeability = Prescribed::ByHeight{{0.0}, {1e-8}};
  p.prescribed.porosity = 0.4;
  p.prescribed.density = 600.0;
  p.prescribed.conductivity = 0.4;
  p.prescribed.heat_capacity = 3000.0;
  p.prescribed.diffusivity = 5e-6;
  Opening hole;
  hole.where = Opening::Where::side;
  hole.kind = Opening::Kind::hole;
  hole.diameter = 0.012;
  hole.heights = {0.2};
  p.openings = {hole};
  return p;
}

/// Viscous resistance of all ways through the opening's board side by side (1/m3).
double plate_resistance(const Problem& p) {
  const auto [bed, s] = lay_bed(p);
  Properties now;
  compute_properties(bed, s, now);
  double passes = 0.0;
  for (const AirPath& path : air_paths(bed, now))
    if (path.opening == 0) passes += 1.0 / path.plate;
  return 1.0 / passes;
}

double through_board(double diameter, double thickness) {
  return 24.0 / std::pow(diameter, 3) + 128.0 * thickness / (std::numbers::pi * std::pow(diameter, 4));
}

TEST(Plates, AHoleCrossesItsOwnWallWhateverTheOthersAre) {
  Problem p = box();
  EXPECT_NEAR(plate_resistance(p) / through_board(0.012, 0.018), 1.0, 1e-12);
  p.openings[0].side = Side::left;
  EXPECT_NEAR(plate_resistance(p) / through_board(0.012, 0.2), 1.0, 1e-12);
  p.openings[0].plate = 0.003;
  EXPECT_NEAR(plate_resistance(p) / through_board(0.012, 0.003), 1.0, 1e-12);
}

TEST(Plates, HolesInAllWallsCrossEachItsOwn) {
  Problem p = box();
  p.openings[0].kind = Opening::Kind::holes;
  p.openings[0].all_sides = true;
  p.openings[0].count = 4;
  const double side_by_side = 3.0 / through_board(0.012, 0.018) + 1.0 / through_board(0.012, 0.2);
  EXPECT_NEAR(plate_resistance(p) * side_by_side, 1.0, 1e-12);
}

TEST(Plates, AGapUnderTheLidCrossesTheRimsOfAllWallsSideBySide) {
  Problem p = box();
  p.openings[0].where = Opening::Where::lid;
  p.openings[0].kind = Opening::Kind::gap;
  p.openings[0].size = 0.005;
  const double side_by_side = 0.9 * (3.0 / slot_resistance(0.005, 0.018) + 1.0 / slot_resistance(0.005, 0.2));
  EXPECT_NEAR(plate_resistance(p) * side_by_side, 1.0, 1e-12);
}

TEST(Plates, HolesInFloorAndLidCrossFloorAndLidAndMeshNothing) {
  Problem p = box();
  p.floor = boards(0.03);
  p.lid_heat = boards(0.012);
  Opening& o = p.openings[0];
  o.where = Opening::Where::base;
  EXPECT_EQ(plate_of(p, o), 0.03);
  o.where = Opening::Where::lid;
  EXPECT_EQ(plate_of(p, o), 0.012);
  o.kind = Opening::Kind::mesh;
  EXPECT_EQ(plate_of(p, o), 0.0);
}

}  // namespace
}  // namespace updraught
