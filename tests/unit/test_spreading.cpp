// Holes smaller than a cell: what the grid resolves and what is added to it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "solver/air/image_potential.h"
#include "solver/air/sub_grid_resistance.h"

using namespace updraught;

namespace {

WallPatch uniform_patch(double tangential, double normal, int half = 8) {
  WallPatch p;
  p.u.assign(static_cast<std::size_t>(2 * half + 1), tangential);
  p.v = p.u;
  p.normal.assign(static_cast<std::size_t>(half + 1), normal);
  p.hole_u = p.hole_v = (half + 0.5) * tangential;
  return p;
}

double one_cell(double tangential, double normal) {
  const WallPatch p = uniform_patch(tangential, normal, 12);
  return grid_resistance(p, {{12, 12, 1.0}});
}

}  // namespace

// Lattice Green function of a half-space; exact values recomputed from stated inputs.
TEST(Spreading, GridResistanceOfOneWallCellIsThatOfTheLattice) {
  EXPECT_NEAR(one_cell(1.0, 1.0), 0.338795, 1e-3 * 0.338795);
  EXPECT_NEAR(one_cell(1.0, 0.25), 0.532595, 1e-3 * 0.532595);
  EXPECT_NEAR(one_cell(1.0, 0.5), 0.449059, 1e-3 * 0.449059);
  EXPECT_NEAR(one_cell(1.0, 2.0), 0.228910, 1e-3 * 0.228910);
  EXPECT_NEAR(one_cell(1.0, 4.0), 0.143277, 1e-3 * 0.143277);
}

TEST(Spreading, GridResistanceScalesWithTheCell) {
  EXPECT_NEAR(one_cell(0.02, 0.02), 0.338795 / 0.02, 1e-3 * 0.338795 / 0.02);
}

TEST(Spreading, LineSourceOnSquareCellsMatchesTheClosedForm) {
  WallPatch p = uniform_patch(0.02, 0.02, 12);
  p.u = {1.0};
  const double r = 1e-4;
  const SubGridResistance s = resistance_of_line(p, r);
  ASSERT_EQ(s.faces.size(), 1u);
  // R'_sub = ln(0.4354 h / r_e)/pi on a square wall cell; derived.
  EXPECT_NEAR(s.sub_grid, std::log(0.4354 * 0.02 / r) / std::numbers::pi, 0.01 * s.sub_grid);
}

TEST(Spreading, ALargeHoleUsesSeveralFacesAndStaysPositive) {
  for (double ratio : {0.5, 1.0, 2.0, 8.0, 24.0}) {
    const WallPatch p = uniform_patch(ratio * 0.006, ratio * 0.006);
    const SubGridResistance s = resistance_of_hole(p, 0.006);
    double weight = 0.0;
    for (const auto& f : s.faces) weight += f.weight;
    EXPECT_NEAR(weight, 1.0, 1e-12);
    EXPECT_GT(s.sub_grid, 0.0) << ratio;
  }
}

TEST(Spreading, AClosedFloorBesideTheHoleAddsItsImage) {
  WallPatch p = uniform_patch(0.02, 0.02);
  p.closed_v_low = true;
  p.hole_v = 0.03;
  // The mean over a disc of the potential of a disc of equal potential at distance d is 1/d (1 + a^2/(3
  // d^2)).
  const double image = (1.0 + 0.1 * 0.1 / 3.0) / (2.0 * std::numbers::pi * 0.06);
  EXPECT_NEAR(disc_resistance(p, 0.006), 1.0 / 0.024 + image, 1e-9);
}

TEST(Spreading, OneCellBehindTheWallStillHasAResistance) {
  WallPatch p;
  p.u = {0.2};
  p.v = {0.1, 0.1, 0.1};
  p.normal = {0.3};
  p.hole_u = 0.1;
  p.hole_v = 0.15;
  p.closed_v_low = p.closed_v_high = true;
  const SubGridResistance s = resistance_of_line(p, 0.002);
  ASSERT_EQ(s.faces.size(), 1u);
  EXPECT_EQ(s.faces.front().v, 1);
  EXPECT_GT(s.sub_grid, 0.0);
}

TEST(Spreading, WhatIsKnownIsWhatWouldBeFound) {
  const WallPatch p = uniform_patch(0.02, 0.02);
  ResistanceCache known;
  for (int round = 0; round < 2; ++round) {
    EXPECT_EQ(known.hole(p, 0.006).sub_grid, resistance_of_hole(p, 0.006).sub_grid);
    EXPECT_EQ(known.hole(p, 0.004).sub_grid, resistance_of_hole(p, 0.004).sub_grid);
  }
}

// An opening that the grid resolves leaves at least part of the half cell before the middles behind it.
TEST(Spreading, AResolvedSlotKeepsPartOfHalfACell) {
  WallPatch p = uniform_patch(0.004, 0.004, 12);
  p.u = {1.0};
  const SubGridResistance s = resistance_of_line(p, 0.015);
  const double height = 0.004 * static_cast<double>(s.faces.size());
  EXPECT_GE(s.sub_grid, 0.25 * 0.004 / height);
}

// Mirror images by the hundred and the duct's own modes are two sums of the same potential.
TEST(Spreading, ModesOfADuctAreItsMirrorImages) {
  WallPatch p = uniform_patch(0.06, 0.05);
  p.v.resize(13);
  p.hole_u = 0.31;
  p.hole_v = 0.47;
  p.closed_u_low = p.closed_u_high = p.closed_v_low = p.closed_v_high = true;
  const ImagePotential images(p);
  const DepthPotential modes(images, 0.4);
  const double range = images(p.hole_u, p.hole_v, 0.4) - images(1.0, 0.05, 0.4);
  ASSERT_GT(range, 0.0);
  for (double u : {0.03, 0.31, 0.77, 1.0})
    for (double v : {0.05, 0.47, 0.75})
      EXPECT_NEAR(modes(u, v), images(u, v, 0.4), 2e-3 * range) << u << ' ' << v;
}

TEST(Spreading, MirroredHolesFindTheSameFaces) {
  WallPatch p = uniform_patch(0.06, 0.05);
  p.u[0] = 0.02;
  p.closed_u_low = true;
  p.hole_u -= 0.1;
  WallPatch mirrored = p;
  std::reverse(mirrored.u.begin(), mirrored.u.end());
  mirrored.closed_u_low = false;
  mirrored.closed_u_high = true;
  mirrored.hole_u = std::accumulate(p.u.begin(), p.u.end(), 0.0) - p.hole_u;
  ResistanceCache known;
  const SubGridResistance here = known.hole(p, 0.006);
  const SubGridResistance there = known.hole(mirrored, 0.006);
  EXPECT_EQ(here.sub_grid, there.sub_grid);
  EXPECT_NEAR(here.sub_grid, resistance_of_hole(p, 0.006).sub_grid, 1e-6 * here.sub_grid);
  ASSERT_EQ(here.faces.size(), there.faces.size());
  for (std::size_t f = 0; f < here.faces.size(); ++f) {
    EXPECT_EQ(here.faces[f].u, 16 - there.faces[f].u);
    EXPECT_EQ(here.faces[f].v, there.faces[f].v);
  }
}
