// What practice knows about whole beds.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "solver/material/moist_air.h"
#include "tests/outside/record.h"
#include "tests/outside/run_case.h"

namespace updraught::outside {
namespace {

/// A ventilated bin of scraps and chips at 65 to 70 % water, with one more line in the recipe.
Problem bin_with(const std::string& more, double days) {
  const std::string text =
      "bin = { shape = \"round\", width = \"0.8 m\", height = \"1.0 m\" }\n"
      "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
      "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.5 } ]\n"
      "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
      "fill = [ { what = \"kitchen waste\", buckets = 4 }, { what = \"woodchip, coarse\", buckets = 5 }" +
      more +
      " ]\n"
      "depth = \"0.8 m\"\n"
      "outside = { temperature = \"10 degC\" }\n"
      "initial = { temperature = \"30 degC\" }\n"
      "detail = \"quick\"\n";
  return problem_of(read_case_text(text, "bin", {{"days", case_text(days), ""}}), "bin");
}

/// Share of the bed that was aired on day 3, and how wet the mix was.
struct Aired {
  double share;
  double moisture;
};

Aired aired_on_day_three(const std::string& more) {
  const Ran ran = run_problem(bin_with(more, 3.0));
  return {ran.last().aired_share, ran.result.loose.moisture};
}

TEST(WholeBed, WaterOrDryMatterInAMixThatIsWetAlready) {
  const Aired plain = aired_on_day_three("");
  const Aired watered = aired_on_day_three(", { what = \"water\", buckets = 0.5 }");
  const Aired dried = aired_on_day_three(", { what = \"straw\", buckets = 3 }");
  const auto tell = [](const Aired& a) {
    return number(100.0 * a.share) + " % aired at " + number(100.0 * a.moisture) + " % water";
  };
  EXPECT_GT(plain.moisture, 0.65);
  EXPECT_LT(plain.moisture, 0.70);
  record_sign("water added to a mix that is wet already: aired share on day 3", watered.share < plain.share,
              tell(plain) + "; with water " + tell(watered), "falls", "practice", "C");
  record_sign("dry matter added to it instead: aired share on day 3", dried.share > plain.share,
              tell(plain) + "; with straw " + tell(dried), "rises", "practice", "C");
}

/// Share of the bed aired on day 3 in still air of one warmth, and (for side holes) the share of their air
/// that stays within 10 cm of the wall.
struct Vents {
  double aired;
  double near_wall;
};

Vents vents_on_day_three(const char* name, double gap, int rings, int layers) {
  const Overrides overrides{{"detail", "quick", ""},
                            {"days", "3", ""},
                            {"wall_gap", case_text(gap, "m"), ""},
                            {"outside", "{ temperature = \"15 degC\", ground = \"12 degC\" }", ""}};
  const std::string path = std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/" + name + ".toml";
  Problem problem = problem_of(read_case_file(path, overrides), name);
  problem.cells.nx = rings;
  problem.cells.nz = layers;
  const Ran ran = run_problem(problem);
  return {ran.last().aired_share, ran.last().openings.front().near_wall};
}

TEST(WholeBed, SideHolesAgainstAVentedBaseOverGrids) {
  const int grids[][2] = {{16, 28}, {24, 40}, {36, 60}};
  for (const double gap : {0.0, 0.002}) {
    std::string aired, near;
    std::vector<double> gain;
    for (const auto& [rings, layers] : grids) {
      const Vents base = vents_on_day_three("allotment-box", gap, rings, layers);
      const Vents side = vents_on_day_three("allotment-box-side-holes", gap, rings, layers);
      const std::string comma = aired.empty() ? "" : "; ";
      aired += comma + number(100.0 * base.aired) + " and " + number(100.0 * side.aired);
      near += comma + number(100.0 * side.near_wall);
      gain.push_back(base.aired - side.aired);
    }
    const bool steady = std::all_of(gain.begin(), gain.end(), [&](double g) {
      return std::abs(gain.back()) < 0.02 || g * gain.back() > 0.0;
    });
    const std::string with_gap =
        "still air, gap " + number(1e3 * gap) + " mm, 16 x 28, 24 x 40, 36 x 60 cells: ";
    write_record("vented base and side holes, " + with_gap + "% of the bed aired on day 3", aired, "-",
                 number(100.0 * gain.back()) + " points on the finest", "report", "no published value", "C",
                 steady);
    write_record("side holes, " + with_gap + "% of their air that stays within 10 cm of the wall", near,
                 "stays near the wall", "-", "report", "practice", "C", true);
    EXPECT_TRUE(steady) << "which of the two airs more depends on the grid: " << aired;
  }
}

/// Largest change of either gas (mole fraction) in a bed that nothing breathes in while it warms and sinks.
double largest_unevenness(const std::string& cells) {
  const std::string text =
      "bin = { shape = \"box\", width = \"0.9 m\", length = \"0.9 m\", height = \"1.0 m\" }\n"
      "walls = [ { of = \"timber\", thick = \"18 mm\" } ]\n"
      "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.20 } ]\n"
      "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n"
      "fill = [ { what = \"vegetable scraps (raw)\", buckets = 3 }, "
      "{ what = \"woodchip, coarse\", buckets = 2 } ]\n"
      "depth = \"0.6 m\"\n"
      "outside = { temperature = \"8 degC\" }\n"
      "days = 1\n"
      "prescribed = { heat = \"900 W/m3\", uptake = { law = \"none\" } }\n"
      "cells = " +
      cells + "\n";
  double worst = 0.0, hottest = 0.0, highest = 0.0, lowest = 1e9;
  run_problem(problem_of(read_case_text(text, "even"), "even"), [&](const Grid& g, const State& s) {
    for (std::size_t c = 0; c < s.oxygen.size(); ++c) {
      worst = std::max(worst, std::abs(s.oxygen[c] / s.dry_gas[c] - air_oxygen));
      worst = std::max(worst, std::abs(s.carbon_dioxide[c] / s.dry_gas[c] - air_carbon_dioxide));
      hottest = std::max(hottest, s.temperature[c]);
    }
    highest = std::max(highest, g.height());
    lowest = std::min(lowest, g.height());
  });
  EXPECT_GT(hottest, 20.0);
  EXPECT_LT(lowest, highest);
  return worst;
}

TEST(WholeBed, EvenCompositionStaysEvenWhileTheBedWarmsAndSinks) {
  const char* const what =
      "air of even composition in a bed that warms and sinks: largest change (mole fraction), ";
  record_check(std::string(what) + "rings", largest_unevenness("[6, 10]"), 0.0, Hold::absolute(1e-12),
               "balance of every gas", "E");
  record_check(std::string(what) + "whole box", largest_unevenness("[8, 8, 10]"), 0.0, Hold::absolute(1e-12),
               "balance of every gas", "E");
}

}  // namespace
}  // namespace updraught::outside
