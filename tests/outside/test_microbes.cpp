// Published rates and responses of composting microbes.
#include <algorithm>

#include "solver/balance/balances.h"
#include "solver/material/moist_air.h"
#include "solver/transport/microbes.h"
#include "tests/outside/record.h"
#include "tests/outside/run_case.h"

namespace updraught::outside {
namespace {

TEST(Microbes, CardinalResponse) {
  const double published[][2] = {{20.0, 0.123}, {40.0, 0.597}, {55.0, 0.972}, {65.0, 0.852}, {70.0, 0.330}};
  for (const auto& [t, response] : published)
    record_check("response of the heat-loving group at " + number(t) + " °C",
                 cardinal_response(t, 5.0, 58.6, 71.6), response, Hold::absolute(0.0005),
                 "Rosso 1993 form; temperatures from memory", "E");
}

TEST(Microbes, FoodAndYardWasteInARespirometer) {
  const Ran ran = run_textbook("respirometer");
  const double dry = ran.result.series.front().dry_mass;
  double peak = 0.0;
  for (const SeriesRow& row : ran.result.series) peak = std::max(peak, row.oxygen_uptake);
  const double total = 1e3 * ran.problem.plan_scale * ran.state.booked[oxygen_used] * molar_oxygen;
  const char* const source = "respirometric study of municipal organics; the pools of food are fitted to it";
  record_check("food and yard waste held at 40 °C: peak uptake, g O2/(kg dry h)", peak / dry, 4.64,
               Hold::relative(0.05), source, "R, fit");
  record_check("the same over 32 days, g O2/kg dry", total / dry, 909.0, Hold::relative(0.05), source,
               "R, fit");
}

TEST(Microbes, HalvingAPiece) {
  const auto gain = [](double rim, double size) {
    return breathing_share(rim, 0.5 * size) / breathing_share(rim, size);
  };
  record_check("a piece that breathes in a thin skin, halved: rate over that before", gain(1e-6, 0.05), 2.0,
               Hold::relative(0.001), "geometry", "E");
  record_check("a piece that breathes throughout, halved: rate over that before", gain(0.03, 0.05), 1.0,
               Hold::relative(1e-12), "geometry", "E");
  record_check("a piece of 50 mm with the default rim of 3 mm, halved: rate over that before",
               gain(MicrobeConstants{}.rim, 0.05), 2.0, Hold::show(), "practice: nearly twice per halving",
               "C");
}

}  // namespace
}  // namespace updraught::outside
