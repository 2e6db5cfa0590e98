// Heat by opening adds up to the heat that the air carries off; what enters from outside carries none.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "solver/bed/bed.h"
#include "solver/material/moist_air.h"
#include "solver/run.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

Problem warm_box(const std::string& lid) {
  return step_tests::problem_of(
      "question = \"What leaves where?\"\nmode = \"rings\"\ncells = [6, 10]\n" + lid +
      "bin = { shape = \"round\", width = \"0.9 m\", height = \"0.8 m\" }\n"
      "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
      "base = { kind = \"raised\", height = \"10 cm\", inlet = \"80 cm2\" }\n"
      "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.6 } ]\n"
      "fill = [ { what = \"vegetable scraps (raw)\", buckets = 1 }, { what = \"woodchip, coarse\", buckets = "
      "2 } ]\n"
      "depth = \"0.6 m\"\noutside = { temperature = \"10 degC\", humidity = 0.7 }\n"
      "initial = { temperature = \"45 degC\" }\ndays = 1\n");
}

void expect_heat_by_opening_adds_up(const Problem& problem) {
  const Gas gas = gas_of(problem);
  const double ratio = gas.vapour_ratio(10.0, 0.7);
  const double outside = gas.enthalpy(10.0, ratio) * gas.dry_density(10.0, ratio) / 3600.0;
  const RunResult ran = run(problem);
  for (std::size_t n = 1; n < ran.series.size(); ++n) {
    const SeriesRow& row = ran.series[n];
    double heat = 0.0;
    for (const OpeningFlow& flow : row.openings) {
      if (flow.name == problem.openings.front().name)
        continue;  // the mesh leads into the space below the bed
      heat += flow.heat + (flow.air_out - flow.air_in) * outside;
    }
    const double air = row.heat_by_path.at("air");
    EXPECT_GT(air, 0.0);
    EXPECT_NEAR(heat, air, 1e-9 * air) << n;
  }
  const auto& inlet = ran.series.back().openings.back();
  ASSERT_EQ(inlet.name, "inlet of the raised base");
  ASSERT_GT(inlet.air_in, 10.0 * inlet.air_out);
  EXPECT_LT(std::abs(inlet.heat), 0.1 * ran.series.back().heat_by_path.at("air"));
}

TEST(OpeningHeat, AddsUpToWhatTheAirCarriesOffThroughALid) {
  expect_heat_by_opening_adds_up(
      warm_box("air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"));
}

TEST(OpeningHeat, AddsUpToWhatTheAirCarriesOffThroughAnOpenTop) {
  expect_heat_by_opening_adds_up(
      warm_box("lid = \"none\"\nair_out = [ { where = \"top\", kind = \"open\" } ]\n"));
}

}  // namespace
}  // namespace updraught
