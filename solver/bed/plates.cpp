#include "solver/bed/plates.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace updraught {

double HeatBoundary::thickness() const {
  double sum = 0.0;
  for (const WallLayer& layer : layers) sum += layer.thickness;
  return sum;
}

double plate_of(const Problem& problem, const Opening& opening, Side side) {
  if (opening.plate) return *opening.plate;
  if (opening.kind == Opening::Kind::mesh || opening.kind == Opening::Kind::open) return 0.0;
  const bool rim = opening.kind == Opening::Kind::gap;
  if (opening.where == Opening::Where::side || rim)
    return problem.sides[static_cast<std::size_t>(side)].thickness();
  return opening.where == Opening::Where::base ? problem.floor.thickness() : problem.lid_heat.thickness();
}

double slot_resistance(double width, double plate) {
  return 32.0 / (std::numbers::pi * width * width) + 12.0 * plate / std::pow(width, 3);
}

double rim_plate(const Bed& bed, const Opening& gap) {
  double rim = 0.0;
  double passes = 0.0;
  for (const Patch& patch : bed.grid.patches) {
    if (patch.boundary != Boundary::wall) continue;
    rim += patch.width;
    passes += patch.width / slot_resistance(gap.size, plate_of(bed.setup->problem, gap, patch.side));
  }
  if (rim <= 0.0) return plate_of(bed.setup->problem, gap);
  const double along_the_board = rim / passes - slot_resistance(gap.size, 0.0);
  return std::max(along_the_board, 0.0) * std::pow(gap.size, 3) / 12.0;
}

}  // namespace updraught
