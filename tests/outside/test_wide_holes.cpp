// Holes that are wide for the bin: what resists beyond the bin's own length, against constriction in flux
// tubes.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "tests/outside/record.h"
#include "tests/outside/run_case.h"

namespace updraught::outside {
namespace {

/// Resistance per mobility (1/m) of a hole in the floor of a duct of 1 m, counted in so many cells across.
double constriction(int cells, double diameter) {
  Problem problem = read_textbook("duct");
  problem.cells.nx = problem.cells.ny = cells;
  problem.cells.nz = 2 * cells;
  problem.openings.front().diameter = diameter;
  const Ran ran = run_problem(problem);
  const double flow = ran.last().openings.front().air_in / 3600.0;
  const double mobility = problem.prescribed.permeability->value[0] / problem.constant_air->viscosity;
  return mobility * problem.openings.front().pressure / flow - problem.bin.height;
}

/// Isothermal disc on a round flux tube of the square's area (1/m).
double round_tube(double diameter) {
  const double e = 0.5 * diameter * std::sqrt(std::numbers::pi);
  const double narrowing =
      1.0 - 1.40925 * e + 0.29591 * std::pow(e, 3) + 0.05254 * std::pow(e, 5) + 0.02105 * std::pow(e, 7);
  return narrowing / (2.0 * diameter);
}

// Nothing tells how the hole lies between the cells: 4 to 20 of them across.
TEST(Exact, HoleInTheEndOfADuct) {
  for (const int cells : {4, 6, 10, 20}) {
    const std::string across = " of a square duct's width, " + number(cells) + " cells across, 1/m";
    for (const double share : {0.2, 0.3, 0.4})
      record_check("resistance of a hole of " + number(share) + across, constriction(cells, share),
                   round_tube(share), Hold::relative(0.02), "Mikic 1966, round tube of the same area",
                   "from memory");
    record_check("resistance of a hole of 0.5" + across, constriction(cells, 0.5), 4.0 * 0.1016,
                 Hold::relative(0.02),
                 "Handbook of Heat Transfer (Rohsenow, Hartnett and Cho 1998), disc on a square tube", "E");
  }
}

}  // namespace
}  // namespace updraught::outside
