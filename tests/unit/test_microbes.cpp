// Responses of the microbes: their limits, their joins and their growth (theory 7).
#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "solver/step/carrier.h"
#include "solver/transport/microbes.h"
#include "tests/materials.h"

namespace updraught {
namespace {

TEST(Microbes, CardinalResponseIsOneAtBestAndNoneOutside) {
  EXPECT_NEAR(cardinal_response(58.6, 5.0, 58.6, 71.6), 1.0, 1e-12);
  EXPECT_EQ(cardinal_response(5.0, 5.0, 58.6, 71.6), 0.0);
  EXPECT_EQ(cardinal_response(71.6, 5.0, 58.6, 71.6), 0.0);
  EXPECT_EQ(cardinal_response(90.0, 5.0, 58.6, 71.6), 0.0);
  double before = 0.0;
  for (double t = 6.0; t < 58.6; t += 1.0) {
    EXPECT_GT(cardinal_response(t, 5.0, 58.6, 71.6), before);
    before = cardinal_response(t, 5.0, 58.6, 71.6);
  }
}

TEST(Microbes, TheFasterGroupRules) {
  EXPECT_EQ(group_response(30.0, 0.0, 0.0), 0.0);
  EXPECT_NEAR(group_response(35.0, 1.0, 0.0), 0.5, 1e-12);
  EXPECT_NEAR(group_response(58.6, 1.0, 1.0), 1.0, 1e-12);
  EXPECT_GE(group_response(40.0, 0.7, 0.2), group_response(40.0, 0.7, 0.0));
}

TEST(Microbes, ResponsesAreOneInTheRespirometersState) {
  EXPECT_EQ(moisture_response(0.6, 0.6), 1.0);
  EXPECT_EQ(nitrogen_response(25.0), 1.0);
  EXPECT_NEAR(nitrogen_response(60.0), 0.5, 1e-12);
  EXPECT_LT(moisture_response(0.3, 0.6), 0.3);
}

TEST(Microbes, BreathingShareOfAPiece) {
  EXPECT_EQ(breathing_share(0.005, 0.010), 1.0);
  EXPECT_EQ(breathing_share(0.010, 0.010), 1.0);
  EXPECT_EQ(breathing_share(0.0, 0.010), 0.0);
  EXPECT_NEAR(breathing_share(0.001, 0.010), 1.0 - 0.8 * 0.8 * 0.8, 1e-12);
}

OxygenResponse breathing(double size) {
  OxygenResponse r;
  r.law = OxygenResponse::Law::breathing;
  r.half = 0.01;
  r.rim = 0.003;
  r.size = size;
  return r;
}

TEST(Microbes, OxygenResponseRisesFromNothingAndStaysFinite) {
  for (const double size : {0.004, 0.010, 0.05}) {
    const OxygenResponse r = breathing(size);
    EXPECT_EQ(r(0.0), 0.0);
    EXPECT_EQ(r(-0.01), 0.0);
    double before = 0.0;
    for (double x = 0.001; x <= 0.21; x += 0.001) {
      EXPECT_GT(r(x), before);
      EXPECT_TRUE(std::isfinite(r.slope(x)));
      before = r(x);
    }
    EXPECT_TRUE(std::isfinite(r.slope(0.0)));
  }
}

TEST(Microbes, SmallPiecesFollowMonod) {
  const OxygenResponse r = breathing(0.001);
  EXPECT_NEAR(r(0.05), 0.05 / 0.06, 1e-12);
}

Problem scraps(bool live) {
  Problem p;
  p.mode = Mode::slice;
  p.cells = {1, 1, 3, true};
  p.microbes_live = live;
  p.base.kind = Base::Kind::closed;
  p.wall_lane = false;
  Feedstock f = materials::kitchen();
  f.moisture = 0.60;
  p.batches = {Batch{"scraps", {{f, 1.0}}, 0.4}};
  return p;
}

/// A small bed of damp kitchen scraps.
struct Warm : Laid {
  Properties now;

  explicit Warm(bool live = true) : Laid(lay_bed(scraps(live))) {
    compute_properties(bed, state, now);
    fill_with_air(bed, now, state);
  }

  void grow_for(double time, double temperature, double oxygen) {
    state.temperature.assign(state.temperature.size(), temperature);
    state.oxygen = state.dry_gas;
    for (double& amount : state.oxygen) amount *= oxygen;
    const std::vector<double> end(state.temperature.size(), oxygen);
    State next = state;
    grow(bed, now, state, end, time, next);
    state = std::move(next);
  }
};

TEST(Microbes, GrowthDoesNotDependOnHowTimeIsCut) {
  Warm once, twice;
  once.grow_for(86400.0, 40.0, air_oxygen);
  twice.grow_for(30000.0, 40.0, air_oxygen);
  twice.grow_for(56400.0, 40.0, air_oxygen);
  EXPECT_NEAR(once.state.activity[group_of::thermophilic][0], twice.state.activity[group_of::thermophilic][0],
              1e-12);
}

TEST(Microbes, GrowthLevelsOffAtOneAndStopsWithoutAir) {
  Warm fed, starved;
  const double start = fed.state.activity[group_of::thermophilic][0];
  fed.grow_for(40.0 * 86400.0, 55.0, air_oxygen);
  starved.grow_for(40.0 * 86400.0, 55.0, 0.0);
  EXPECT_NEAR(fed.state.activity[group_of::thermophilic][0], 1.0, 1e-6);
  EXPECT_EQ(starved.state.activity[group_of::thermophilic][0], start);
}

TEST(Microbes, DeadOnesDoNotGrow) {
  Warm dead(false);
  const double start = dead.state.activity[group_of::thermophilic][0];
  dead.grow_for(86400.0, 40.0, air_oxygen);
  EXPECT_EQ(dead.state.activity[group_of::thermophilic][0], start);
}

}  // namespace
}  // namespace updraught
