#include "solver/air/mirror.h"

#include <algorithm>
#include <array>

#include "solver/air/wall_air_paths.h"

namespace updraught {

namespace {

std::size_t number(Side side) {
  return static_cast<std::size_t>(side);
}

bool across_width(Side side) {
  return side == Side::left || side == Side::right;
}

/// Of an opening that is placed by itself the other half has another one; of a row each wall has its share.
bool mirrors(const Problem& p, const Opening& o) {
  if (o.where == Opening::Where::lid) return true;
  if (o.kind == Opening::Kind::hole) return false;
  if (o.where != Opening::Where::side) return true;
  if (!o.all_sides) return across_width(o.side);
  const std::array<int, 4> holes = holes_by_wall(p, o);
  return holes[number(Side::front)] == holes[number(Side::back)];
}

}  // namespace

bool mirrors(const Problem& p) {
  const bool box = counts_length(p.mode) && p.bin.kind == BinShape::Kind::box;
  if (!box || p.half_of_box || p.cells.ny % 2 != 0 || p.constant_air) return false;
  if (p.prescribed.heat_along == Prescribed::Along::length || p.initial.rolls_lengthwise > 0.0) return false;
  if (p.outside.wind > 0.0 && !across_width(p.outside.wind_from)) return false;
  return p.sides[number(Side::front)] == p.sides[number(Side::back)] &&
         std::all_of(p.openings.begin(), p.openings.end(), [&](const Opening& o) { return mirrors(p, o); });
}

Problem front_half(Problem problem) {
  problem.half_of_box = true;
  problem.plan_scale *= 2.0;
  return problem;
}

}  // namespace updraught
