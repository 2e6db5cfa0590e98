// What crosses an open top, as it is booked, and a bed at rest that comes to rest.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/run.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"

namespace updraught {
namespace {

using step_tests::problem_of;

/// A warm box whose top lies open and whose floor is closed.
Problem open_top(const std::string& lines) {
  return problem_of(
      "question = \"What leaves an open top?\"\nmode = \"rings\"\ncells = [6, 10]\nlid = \"none\"\n"
      "base = { kind = \"closed\" }\nwalls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
      "bin = { shape = \"round\", width = \"0.9 m\", height = \"0.8 m\" }\n"
      "air_in = [ { where = \"top\", kind = \"open\" } ]\n"
      "fill = [ { what = \"vegetable scraps (raw)\", buckets = 1 }, { what = \"woodchip, coarse\", buckets = "
      "2 } ]\n"
      "depth = \"0.6 m\"\noutside = { temperature = \"10 degC\" }\ndays = 1\n" +
      lines);
}

State end_of(const Problem& problem) {
  State last;
  Observer observer;
  observer.on_step = [&](const Grid&, const State& s, const SeriesRow&) { last = s; };
  run(problem, observer);
  return last;
}

// Without anything that breathes, air flows in and out and next to nothing diffuses.
TEST(OpenTop, CountsOxygenThatDiffusesAsOneFlux) {
  const State s = end_of(open_top("microbes = false\ninitial = { temperature = \"40 degC\" }\n"));
  EXPECT_GT(s.booked[gas_in], 0.0);
  EXPECT_LE(s.booked[oxygen_in], s.booked[gas_in] * air_oxygen * 1.001);
}

// Vapour takes some 2.4 MJ/kg along, whether it leaves in the air or from the surface: all of it goes "with
// the air and the water that it carries off".
TEST(OpenTop, CountsEvaporationFromItsSurfaceWithTheWaterThatLeaves) {
  const State s = end_of(open_top("microbes = false\ninitial = { temperature = \"60 degC\" }\n"));
  const double evaporated = s.booked[water_out] - s.booked[water_in];
  EXPECT_GT(evaporated, 0.0);
  EXPECT_GT(s.booked[heat_air], 2.4e6 * evaporated);
}

// The passes of a step end relative to what the step changes: with a fixed tolerance a steady roll swayed by
// 0.4 %.
TEST(ClosedBox, HeatedFromBelowComesToRest) {
  const RunResult ran = run(problem_of(
      "question = \"Ra 300\"\nmode = \"slice\"\ncells = [24, 24]\nspacing = \"even\"\nwalls = \"insulated\"\n"
      "bin = { shape = \"box\", width = \"1 m\", height = \"1 m\" }\nbase = { kind = \"closed\" }\n"
      "floor = { held_at = \"20 degC\" }\nlid = { kind = \"on the bed\", held_at = \"10 degC\" }\n"
      "prescribed = { permeability = \"1.27464526622e-06 m2\", porosity = 0.4, density = \"1 kg/m3\", "
      "conductivity "
      "= \"0.1 W/mK\", heat_capacity = \"1000 J/kgK\", diffusivity = \"1e-5 m2/s\" }\n"
      "air = { kind = \"constant\", density = \"1.2 kg/m3\", viscosity = \"1.8e-5 Pa s\", heat_capacity = "
      "\"1000 "
      "J/kgK\", expansion = \"0.003 1/K\", at = \"10 degC\" }\n"
      "initial = { bottom = \"20 degC\", top = \"10 degC\", ripple = \"1 K\", rolls = 1 }\n"
      "outside = { temperature = \"10 degC\" }\ndays = 0.4\nlongest_step = \"30 min\"\n"));
  double least = 1e9, most = -1e9;
  for (std::size_t n = ran.series.size() - 6; n < ran.series.size(); ++n) {
    const double through = ran.series[n].heat_by_path.at("floor");
    least = std::min(least, through);
    most = std::max(most, through);
  }
  EXPECT_LT(most - least, 1e-4 * std::abs(most));
}

}  // namespace
}  // namespace updraught
