// Responses of the microbes, each 1 in the respirometer's state.
#include <gtest/gtest.h>

#include "solver/material/moist_air.h"
#include "solver/transport/microbes.h"

namespace updraught {
namespace {

TEST(RespirometerState, EveryResponseIsOneInTheRespirometer) {
  MicrobeConstants constants;
  EXPECT_NEAR(breathing_response(constants, respirometer_size)(air_oxygen), 1.0, 1e-14);
  EXPECT_EQ(moisture_response(constants.respirometer_moisture, constants.respirometer_moisture), 1.0);
  EXPECT_EQ(nitrogen_response(30.0), 1.0);
  // Whatever the constants are.
  constants.oxygen_half = 0.02;
  constants.rim = 0.0015;
  EXPECT_NEAR(breathing_response(constants, respirometer_size)(air_oxygen), 1.0, 1e-14);
}

TEST(RespirometerState, SmallPiecesBreatheMoreThanInTheRespirometerLargeOnesLess) {
  const MicrobeConstants constants;
  EXPECT_GT(breathing_response(constants, 0.5 * respirometer_size)(air_oxygen), 1.05);
  // Rims of 3 mm: 1 - 0.4^3 = 0.936 of a piece of 10 mm breathes, 1 - 0.7^3 = 0.657 of one of 20 mm.
  const auto present = [](double share) {
    return share * air_oxygen / (0.01 * share + 0.001 * (1.0 - share) + air_oxygen);
  };
  EXPECT_NEAR(breathing_response(constants, 2.0 * respirometer_size)(air_oxygen),
              present(0.657) / present(0.936), 1e-12);
}

}  // namespace
}  // namespace updraught
