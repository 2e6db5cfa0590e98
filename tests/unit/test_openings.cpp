// Laws by which air passes through openings (theory 5).
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "solver/air/air_paths.h"

namespace updraught {
namespace {

constexpr double viscosity = 1.85e-5;
constexpr double density = 1.2;

/// A board of holes over a bed, a bare orifice, a bed alone, an upright slit, holes in a lid.
std::vector<AirPath> kinds() {
  AirPath board;
  board.bed = 1e7;
  board.plate = 4e6;
  board.quadratic = 3e7;
  AirPath orifice;
  orifice.quadratic = 3e7;
  orifice.plate = 1e4;
  AirPath bed;
  bed.bed = 1e7;
  AirPath slit = board;
  slit.upright = 0.05;
  AirPath lid = board;
  lid.hole = 0.05;
  lid.holes = 4.0;
  return {board, orifice, bed, slit, lid};
}

const std::array<double, 7> drops{-3.0, -0.2, -1e-3, 0.0, 1e-3, 0.2, 3.0};

TEST(Openings, LawsAreOddWithoutLift) {
  for (const AirPath& path : kinds())
    for (const double dp : drops) {
      const double there = passage(path, dp, viscosity, density, 0.0).net;
      const double back = passage(path, -dp, viscosity, density, 0.0).net;
      EXPECT_NEAR(there, -back, 1e-14 * std::abs(there));
    }
}

TEST(Openings, MoreDropPassesMoreAir) {
  for (const AirPath& path : kinds())
    for (const double lift : {0.0, 0.2, -0.1})
      for (std::size_t n = 1; n < drops.size(); ++n)
        EXPECT_GT(passage(path, drops[n], viscosity, density, lift).net,
                  passage(path, drops[n - 1], viscosity, density, lift).net);
}

TEST(Openings, SlopeIsThatOfTheLaw) {
  for (const AirPath& path : kinds())
    for (const double lift : {0.0, 0.2})
      for (const double dp : {-2.0, -0.05, 0.3, 2.0}) {
        constexpr double d = 1e-6;
        const double slope = (passage(path, dp + d, viscosity, density, lift).net -
                              passage(path, dp - d, viscosity, density, lift).net) /
                             (2.0 * d);
        EXPECT_NEAR(passage(path, dp, viscosity, density, lift).slope / slope, 1.0, 1e-4);
      }
}

TEST(Openings, DropForInvertsTheLaw) {
  for (const AirPath& path : kinds())
    for (const double lift : {0.0, 0.2, -0.1})
      for (const double dp : drops) {
        const double net = passage(path, dp, viscosity, density, lift).net;
        const double back = drop_for(path, net, viscosity, density, lift);
        EXPECT_NEAR(passage(path, back, viscosity, density, lift).net, net, 1e-10 * (std::abs(net) + 1e-6));
        EXPECT_NEAR(back, dp, 1e-6 * (std::abs(dp) + 1e-3));
      }
}

TEST(Openings, ThinSlowAirObeysPoiseuilleAndFastAirTheOrifice) {
  const AirPath board = kinds().front();
  const double slow = passage(board, 1e-7, viscosity, density, 0.0).net;
  EXPECT_NEAR(slow * viscosity * (board.bed + board.plate), 1e-7, 1e-10);
  const double fast = passage(board, 1e9, viscosity, density, 0.0).net;
  EXPECT_NEAR(density * board.quadratic * fast * fast / 1e9, 1.0, 1e-3);
}

TEST(Openings, AnUprightSlitBreathesBothWaysAtNoNetDrop) {
  const AirPath slit = kinds()[3];
  const Passage warm_inside = passage(slit, 0.0, viscosity, density, 0.2);
  EXPECT_NEAR(warm_inside.net, 0.0, 1e-15);
  EXPECT_GT(warm_inside.exchange, 0.0);
  EXPECT_EQ(passage(slit, 0.0, viscosity, density, 0.0).exchange, 0.0);
  EXPECT_EQ(passage(slit, 10.0, viscosity, density, 0.2).exchange, 0.0);
}

TEST(Openings, ALevelHoleExchangesOnlyUnderDenserAirAndNetFlowFlushesIt) {
  const AirPath lid = kinds()[4];
  const double still = passage(lid, 0.0, viscosity, density, 0.2).exchange;
  EXPECT_NEAR(still, 4.0 * level_exchange(0.05, 0.2, density), 1e-15);
  EXPECT_EQ(passage(lid, 0.0, viscosity, density, -0.2).exchange, 0.0);
  double before = still;
  for (const double dp : {1e-4, 1e-3, 1e-2}) {
    const double flushed = passage(lid, dp, viscosity, density, 0.2).exchange;
    EXPECT_LE(flushed, before);
    before = flushed;
  }
  EXPECT_EQ(passage(lid, 10.0, viscosity, density, 0.2).exchange, 0.0);
}

}  // namespace
}  // namespace updraught
