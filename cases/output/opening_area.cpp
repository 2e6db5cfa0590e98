#include "cases/output/opening_area.h"

#include <algorithm>
#include <numbers>

namespace updraught {

namespace {

using Kind = Opening::Kind;

double true_plan_area(const Problem& problem) {
  return plan_area_of(problem.mode, problem.bin.width, problem.bin.length) * problem.plan_scale;
}

/// All walls; the rings of a box have the wall of the box per plan area.
double true_perimeter(const Problem& problem) {
  return perimeter_of(problem.mode, problem.bin.width, problem.bin.length) * problem.plan_scale *
         problem.wall_scale;
}

/// Length of a slit that runs along its whole wall, once for each height.
double whole_length(const Opening& opening, const Problem& problem) {
  if (opening.where != Opening::Where::side) return true_perimeter(problem);
  const double rows = static_cast<double>(std::max<std::size_t>(opening.heights.size(), 1));
  const bool along_width = opening.side == Side::front || opening.side == Side::back;
  const double wall = opening.all_sides ? true_perimeter(problem)
                      : along_width     ? problem.bin.width
                                        : problem.bin.length;
  return rows * wall;
}

}  // namespace

double free_area(const Opening& opening, const Problem& problem) {
  const double clear = 1.0 - opening.blocked;
  if (opening.kind == Kind::hole || opening.kind == Kind::holes)
    return opening.count * 0.25 * std::numbers::pi * opening.diameter * opening.diameter *
           opening.open_share * clear;
  if (opening.kind == Kind::slots || opening.kind == Kind::gap)
    return opening.size * (opening.length > 0.0 ? opening.length : whole_length(opening, problem)) * clear;
  const double open = opening.kind == Kind::mesh ? opening.open_share : 1.0;
  return true_plan_area(problem) * (opening.patch_to - opening.patch_from) * open * clear;
}

}  // namespace updraught
