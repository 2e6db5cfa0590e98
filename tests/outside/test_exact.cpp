// Exact solutions and accurate numerical ones, set up as plain case files (cases/textbook).
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "solver/air/sub_grid_resistance.h"
#include "tests/outside/record.h"
#include "tests/outside/run_case.h"

namespace updraught::outside {
namespace {

/// Largest superficial speed anywhere (m/s).
double largest_speed(const Ran& ran) {
  const Grid& g = ran.grid;
  const double c = moles_per_volume(ran.problem);
  double largest = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto n = index_of(g.cell(i, j, k));
        if (i > 0) largest = std::max(largest, std::abs(ran.state.flux_x[n]) / (c * g.area_x(i, j, k)));
        if (j > 0) largest = std::max(largest, std::abs(ran.state.flux_y[n]) / (c * g.area_y(i, j, k)));
        if (k > 0) largest = std::max(largest, std::abs(ran.state.flux_z[n]) / (c * g.area_z(i, j, k)));
      }
  return largest;
}

double column_speed(const std::string& name) {
  const Ran ran = run_textbook(name);
  return 1e3 * upward_speed(ran, moles_per_volume(ran.problem));
}

TEST(Exact, DarcyColumn) {
  record_check("draught of a warm column open at both ends, mm/s", column_speed("darcy-column"), 0.980665,
               Hold::relative(1e-6), "Darcy's law, arithmetic", "E");
  record_check("the same with a tight lower half, mm/s", column_speed("darcy-column-layered"), 0.178302727273,
               Hold::relative(1e-6), "Darcy's law, arithmetic", "E");
}

TEST(Exact, ForchheimerColumn) {
  record_check("speed with inertial resistance at 0.5 Pa/m, mm/s", column_speed("forchheimer-column"),
               0.2702269, Hold::relative(1e-6), "derived", "E");
}

TEST(Exact, WindThroughTwoSlotsInSeries) {
  const Ran ran = run_textbook("cross-flow");
  const double entering = ran.last().openings.front().air_in / 3600.0;
  const double area = 1.0 / std::hypot(1.0 / 0.1, 1.0 / 0.05);
  record_check("wind of 2 m/s through slots of 1000 and 500 cm2 in opposite walls, m3/s", entering,
               0.6 * area * 2.0 * std::sqrt(0.7 + 0.2), Hold::relative(0.01),
               "BS 5925, openings in series: Cd A v sqrt(C1 - C2)", "M");
}

TEST(Exact, SealedStratifiedBedStaysAtRest) {
  const Ran ran = run_textbook("stratified");
  const double scale = 1e-8 * 9.80665 * 1.2 / 1.8e-5;
  record_check("sealed bed in even layers of warmth: largest speed over k g rho/mu",
               largest_speed(ran) / scale, 0.0, Hold::absolute(1e-12), "derived", "E");
}

TEST(Exact, HeatedColumnOpenAtBothEnds) {
  const double low = column_speed("heated-column");
  const double high = column_speed("heated-column-4h");
  record_check("evenly heated column 0.5 m high, open at both ends, mm/s", low, 0.285871,
               Hold::relative(0.005), "derived", "E");
  record_check("the same, four times as high: speed over the first", high / low, 2.0, Hold::relative(0.005),
               "derived", "E");
}

/// Strength of the convection roll that was laid at the start: its share in the temperature (K).
double roll(const Grid& g, const State& s, double rolls) {
  double sum = 0.0, volume = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const double shape = std::cos(std::numbers::pi * rolls * g.centre_x(i) / g.x.back());
        sum += g.volume(i, j, k) * shape * s.temperature[index_of(g.cell(i, j, k))];
        volume += g.volume(i, j, k);
      }
  return sum / volume;
}

/// Growth of the roll over the second half of a run (1/day): by then only the slowest shape is left.
double growth(const std::string& name) {
  std::vector<double> time, size;
  double rolls = 1.0;
  const Problem problem = read_textbook(name);
  rolls = problem.initial.rolls;
  run_problem(problem, [&](const Grid& g, const State& s) {
    time.push_back(s.time());
    size.push_back(roll(g, s, rolls));
  });
  std::size_t half = 0;
  while (time[half] < 0.5 * time.back()) ++half;
  return std::log(size.back() / size[half]) / (time.back() - time[half]) * 86400.0;
}

/// Grows just above the critical value, dies away just below it.
void onset(const std::string& name, const std::string& what, const std::string& source) {
  const double below = growth(name + "-below");
  const double above = growth(name + "-above");
  // Growth crosses zero where the computed critical value lies: linear between the two.
  const double critical = 0.99 + 0.02 * below / (below - above);
  record_sign("onset of convection, " + what, below < 0.0 && above > 0.0,
              "a small roll grows by " + number(below) + " and " + number(above) +
                  " per day at 0.99 and 1.01 of it: zero at " + number(critical),
              "dies away below, grows above", source, "E");
}

TEST(Exact, OnsetClosedLayer) {
  onset("onset-closed", "closed layer, Ra 39.478", "Horton and Rogers 1945; Lapwood 1948");
}
TEST(Exact, OnsetOpenTop) {
  onset("onset-open-top", "constant-pressure top at fixed warmth, Ra 27.0976",
        "Nield and Bejan table 6.1; recomputed");
}
TEST(Exact, OnsetFixedFluxBelow) {
  onset("onset-flux-below", "the same with a fixed flux below, Ra 17.6537",
        "Nield and Bejan table 6.1; recomputed");
}
TEST(Exact, OnsetClosedBox) {
  onset("onset-square-closed", "closed box as wide as high, Ra 39.478", "4 pi^2; recomputed");
}
TEST(Exact, OnsetOpenBox) {
  onset("onset-square-open", "box as wide as high, open top, Ra 29.210", "recomputed");
}

/// Heat through the held left side against conduction alone between the two sides.
double nusselt_left(const Ran& ran) {
  const Grid& g = ran.grid;
  const double lambda = *ran.problem.prescribed.conductivity;
  const double warm = ran.problem.sides[index_of(static_cast<int>(Side::left))].temperature;
  const double cold = ran.problem.sides[index_of(static_cast<int>(Side::right))].temperature;
  double heat = 0.0, area = 0.0;
  for (const Patch& patch : g.patches) {
    if (patch.boundary != Boundary::wall || patch.side != Side::left) continue;
    heat += lambda * patch.area * (warm - ran.state.temperature[index_of(patch.cell)]) / patch.distance;
    area += patch.area;
  }
  return heat / (lambda * area * (warm - cold) / g.x.back());
}

double side_heated(const std::string& name, int cells, bool even = false) {
  Problem problem = read_textbook(name);
  if (even) problem.cells.uniform = true;
  problem.cells.nx = problem.cells.nz = cells;
  return nusselt_left(run_problem(problem));
}

const char* const side_source = "spectral collocation and finite elements; Manole and Lage 1992, from memory";

TEST(Exact, SideHeatedSquare10) {
  record_check("square heated from the side, Ra 10, 64 x 64: Nu", side_heated("side-heated-10", 64), 1.0791,
               Hold::relative(0.005), side_source, "E");
}
TEST(Exact, SideHeatedSquare100) {
  record_check("square heated from the side, Ra 100, 64 x 64: Nu", side_heated("side-heated-100", 64), 3.1114,
               Hold::relative(0.005), side_source, "E");
}
TEST(Exact, SideHeatedSquare1000) {
  record_check("square heated from the side, Ra 1000, 64 x 64, finer towards the sides: Nu",
               side_heated("side-heated-1000", 64), 13.641, Hold::relative(0.01), side_source, "E");
  // The layer along the sides is two even cells thick: more than the 1 % that is asked for.
  record_check("square heated from the side, Ra 1000, 64 x 64 even cells: Nu",
               side_heated("side-heated-1000", 64, true), 13.641, Hold::show(0.01), side_source, "E");
}
TEST(LongExact, SideHeatedSquareConverges) {
  const double published[] = {1.0791, 3.1114, 13.641};
  const char* const names[] = {"side-heated-10", "side-heated-100", "side-heated-1000"};
  for (std::size_t n = 0; n < 3; ++n) {
    const double coarse = side_heated(names[n], 32), middle = side_heated(names[n], 64),
                 fine = side_heated(names[n], 96);
    record_sign(std::string(names[n]) + ": Nu over 32, 64, 96 cells a side",
                std::abs(fine - middle) < std::abs(middle - coarse) &&
                    std::abs(fine - published[n]) < 0.005 * published[n],
                number(coarse) + ", " + number(middle) + ", " + number(fine),
                "converging to " + number(published[n]), side_source, "E");
  }
}

double heated_below(const std::string& name) {
  const Ran ran = run_textbook(name);
  const Problem& p = ran.problem;
  const double conduction = *p.prescribed.conductivity * ran.grid.layer_area(0) *
                            (p.floor.temperature - p.lid_heat.temperature) / ran.grid.height();
  return -ran.last().heat_by_path.at("floor") / conduction;
}

TEST(Exact, HeatedFromBelow50) {
  record_check("square heated from below, one roll, Ra 50: Nu", heated_below("heated-below-50"), 1.4522,
               Hold::relative(0.005), "recomputed; Caltagirone 1975, from memory", "E");
}
TEST(Exact, HeatedFromBelow100) {
  record_check("square heated from below, one roll, Ra 100: Nu", heated_below("heated-below-100"), 2.6459,
               Hold::relative(0.005), "recomputed; Caltagirone 1975, from memory", "E");
}
TEST(Exact, HeatedFromBelow200) {
  record_check("square heated from below, one roll, Ra 200: Nu", heated_below("heated-below-200"), 3.8098,
               Hold::relative(0.005), "recomputed; Caltagirone 1975, from memory", "E");
}

/// Dry oxygen share of each layer of a column.
std::vector<double> oxygen_column(const Ran& ran) {
  std::vector<double> x;
  for (int k = 0; k < ran.grid.nz; ++k) {
    const auto c = index_of(ran.grid.cell(0, 0, k));
    x.push_back(ran.state.oxygen[c] / ran.state.dry_gas[c]);
  }
  return x;
}

TEST(Exact, DepthAiredByDiffusionAlone) {
  const Ran ran = run_textbook("diffusion-depth");
  const std::vector<double> x = oxygen_column(ran);
  double aired = 0.0;
  for (int k = 0; k < ran.grid.nz; ++k)
    if (x[index_of(k)] > 1e-4 * 0.2095) aired += ran.grid.dz[index_of(k)];
  record_check("depth aired by diffusion alone against constant uptake, m", aired, 0.25,
               Hold::absolute(ran.grid.dz[0]), "diffusion equation", "E");
}

void danckwerts(const std::string& name, double inlet, double outlet, const std::string& numbers) {
  const Ran ran = run_textbook(name);
  const std::vector<double> x = oxygen_column(ran);
  const std::size_t n = x.size();
  // Values at the ends of the column: half a cell beyond the outermost cells' middles.
  const double low = 1.5 * x[0] - 0.5 * x[1];
  const double high = 1.5 * x[n - 1] - 0.5 * x[n - 2];
  record_check("oxygen at the inlet over that of the inflow, " + numbers, low / 0.2095, inlet,
               Hold::relative(0.005), "Danckwerts 1953", "E");
  record_check("oxygen at the outlet over that of the inflow, " + numbers, high / 0.2095, outlet,
               Hold::relative(0.005), "Danckwerts 1953", "E");
}

TEST(Exact, DanckwertsPe1) {
  danckwerts("danckwerts-pe1-da1", 0.653454, 0.467656, "Pe 1, Da 1");
}
TEST(Exact, DanckwertsPe10) {
  danckwerts("danckwerts-pe10-da1", 0.916080, 0.397267, "Pe 10, Da 1");
}

TEST(Exact, OneDiffusivityKeepsOxygenAndCarbonDioxideTogether) {
  double worst = 0.0;
  for (const char* name : {"danckwerts-pe1-da1", "quotient-one"})
    run_textbook(name, [&](const Grid&, const State& s) {
      for (std::size_t c = 0; c < s.oxygen.size(); ++c)
        worst = std::max(worst, std::abs((s.oxygen[c] + s.carbon_dioxide[c]) / s.dry_gas[c] - 0.2099));
    });
  record_check("quotient 1, one diffusivity: largest change of oxygen plus carbon dioxide (mole fraction)",
               worst, 0.0, Hold::absolute(1e-10), "balance of both gases", "E");
}

/// Resistance times mobility of a disc of radius a in the middle of a wall of a block: 1/(4 a) and the
/// block's own ends by images, with the far wall and the sides closed and top and bottom held at no pressure.
double disc_in_block(double a, double depth, double width, double height) {
  // Along the height the images alternate: their sum ends on three quarters and a quarter of a term. Across
  // it, their rows fade exponentially.
  constexpr int rows = 5, reach = 200;
  double sum = 0.0;
  for (int l = -rows; l <= rows; ++l)
    for (int m = -rows; m <= rows; ++m)
      for (int n = -reach; n <= reach; ++n) {
        if (l == 0 && m == 0 && n == 0) continue;
        const double end = std::abs(n) == reach ? 0.25 : std::abs(n) == reach - 1 ? 0.75 : 1.0;
        const double weight = (n % 2 == 0 ? 1.0 : -1.0) * end;
        sum += weight / (2.0 * std::numbers::pi * std::hypot(2.0 * depth * l, width * m, height * n));
      }
  return 1.0 / (4.0 * a) + sum;
}

/// Runs the hole in a block of so many cells a side and so large, and compares.
void disc(int cells, double size, const std::string& what) {
  Problem problem = read_textbook("disc");
  problem.cells.nx = problem.cells.ny = problem.cells.nz = cells;
  problem.bin.width = problem.bin.length = problem.bin.height = problem.depth = size;
  problem.openings.front().heights = {0.5 * size};
  problem.duration = 100.0;
  const Ran ran = run_problem(problem);
  const double a = 0.5 * problem.openings.front().diameter;
  const double mobility = problem.prescribed.permeability->value[0] / problem.constant_air->viscosity;
  const double published = mobility * problem.openings.front().pressure / disc_in_block(a, size, size, size);
  record_check("flow through a 10 mm hole into a block, " + what + ", mm3/s",
               1e9 * ran.last().openings.front().air_in / 3600.0, 1e9 * published, Hold::relative(0.03),
               "4 a s dp and images in the block's ends: Weber 1873; Carslaw and Jaeger 1959", "E");
}

TEST(Exact, SmallHoleAsADisc) {
  // Cells of 7.5 a, 3.7 a and 1.1 a: the hole lies inside one cell, or between the grid's cells.
  disc(32, 1.2, "32 cells of 37.5 mm a side");
  disc(33, 0.6, "33 cells of 18 mm a side");
  disc(36, 0.2, "36 cells of 5.6 mm a side");
}
TEST(Exact, ResolvedHoleAsADisc) {
  disc(64, 0.08, "64 cells of 1.25 mm (a quarter of its radius) a side");
}

TEST(Exact, GridResistanceOfOneWallCell) {
  const double published[][2] = {
      {1.0, 0.338795}, {0.25, 0.532595}, {0.5, 0.449059}, {2.0, 0.228910}, {4.0, 0.143277}};
  for (const auto& [ratio, value] : published) {
    constexpr int half = 12;
    WallPatch patch;
    patch.u.assign(2 * half + 1, 1.0);
    patch.v = patch.u;
    patch.normal.assign(half + 1, ratio);
    patch.hole_u = patch.hole_v = half + 0.5;
    record_check("resistance of the grid behind one wall cell, normal over tangential size " + number(ratio),
                 grid_resistance(patch, {{half, half, 1.0}}), value, Hold::relative(1e-3),
                 "lattice Green function", "E");
  }
}

}  // namespace
}  // namespace updraught::outside
