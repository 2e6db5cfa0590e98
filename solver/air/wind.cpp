#include "solver/air/wind.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "mesh/coordinates.h"

namespace updraught {

namespace {

// Means over the faces of a free-standing low building as long as it is wide, the wind square on one wall
// (Liddament 1986, AIVC guide, table of low-rise buildings, exposed; roof -0.6 as found in a published
// library of those tables, walls M). Ranges: 0.5 to 0.8, -0.8 to -0.3, -0.5 to -0.2, -0.8 to -0.3 (EN
// 1991-1-4, table 7.1 and 7.2, M; Swami and Chandra 1987: 0.60 and -0.36 on windward and leeward walls).
constexpr double windward = 0.7;
constexpr double alongside = -0.5;
constexpr double leeward = -0.2;
constexpr double flat_roof = -0.6;

constexpr bool across_width(Side side) {
  return side == Side::left || side == Side::right;
}

double wall_coefficient(Side side, Side from) {
  if (side == from) return windward;
  return across_width(side) == across_width(from) ? leeward : alongside;
}

/// Mean over the circumference.
double mean_round(const BinShape& bin) {
  constexpr int parts = 180;
  double sum = 0.0;
  for (int n = 0; n < parts; ++n)
    sum += cylinder_coefficient((n + 0.5) / parts * std::numbers::pi, bin.height / bin.width);
  return sum / parts;
}

double mean_coefficient(const Problem& problem) {
  if (problem.bin.kind == BinShape::Kind::round) return mean_round(problem.bin);
  // A box that is computed as rings keeps its own four walls.
  const std::vector<Side>& walls = sides_of(around_axis(problem.mode) ? Mode::whole : problem.mode);
  double sum = 0.0;
  for (Side side : walls) sum += wall_coefficient(side, problem.outside.wind_from);
  return sum / static_cast<double>(walls.size());
}

double head(const Problem& problem) {
  return 0.5 * problem.outside.wind * problem.outside.wind;
}

}  // namespace

double cylinder_coefficient(double angle, double slenderness) {
  const double as_wide = -0.5 + 0.4 * std::cos(angle) + 0.8 * std::cos(2.0 * angle) +
                         0.3 * std::cos(3.0 * angle) - 0.1 * std::cos(4.0 * angle) -
                         0.05 * std::cos(5.0 * angle);
  if (as_wide >= -0.15) return as_wide;
  return as_wide * (1.0 - 0.55 * (as_wide + 0.15) * std::log10(std::clamp(slenderness, 0.25, 4.0)));
}

double wind_on_wall(const Problem& problem, Side side) {
  if (around_axis(problem.mode)) return wind_around(problem);
  return wall_coefficient(side, problem.outside.wind_from) * head(problem);
}

double wind_around(const Problem& problem) {
  return problem.outside.wind > 0.0 ? mean_coefficient(problem) * head(problem) : 0.0;
}

double wind_on_top(const Problem& problem) {
  return flat_roof * head(problem);
}

}  // namespace updraught
