// How space is counted: from what the case says to mode and number of cells.
#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "cases/reader/whole_case.h"

namespace updraught {

namespace {

bool alike(const HeatBoundary& a, const HeatBoundary& b) {
  return a.kind == b.kind && a.resistance == b.resistance && a.temperature == b.temperature &&
         a.to_outside == b.to_outside && a.film == b.film && a.flux == b.flux &&
         a.thickness() == b.thickness();
}

bool walls_alike(const ParsedCase& parsed_case) {
  const auto& sides = parsed_case.problem.sides;
  return std::all_of(sides.begin(), sides.end(),
                     [&](const HeatBoundary& side) { return alike(side, sides[0]); });
}

bool one_sided(const Opening& opening) {
  return opening.where == Opening::Where::side && !opening.all_sides;
}
bool part_of_width(const Opening& opening) {
  return opening.patch_from > 0.0 || opening.patch_to < 1.0;
}

Mode wanted_mode(const ParsedCase& parsed_case) {
  if (parsed_case.mode) return *parsed_case.mode;
  if (parsed_case.problem.bin.kind == BinShape::Kind::round || parsed_case.cells_in_plane) return Mode::rings;
  return parsed_case.detail == Detail::quick && fits_rings(parsed_case) ? Mode::rings : Mode::whole;
}

/// Cells by detail: our choice; the whole boxes of 32 and 48 columns a side are those of the grid study
/// (theory 10.5).
Cells cells_of(Mode mode, Detail detail) {
  const auto pick = [&](Cells quick, Cells usual, Cells careful) {
    return detail == Detail::quick ? quick : detail == Detail::usual ? usual : careful;
  };
  if (counts_length(mode)) return pick({12, 12, 16, false}, {32, 32, 36, false}, {48, 48, 56, false});
  if (around_axis(mode)) return pick({24, 1, 40, false}, {32, 1, 48, false}, {48, 1, 80, false});
  return pick({24, 1, 32, false}, {48, 1, 48, false}, {80, 1, 72, false});
}

/// Every layer of material takes two levels at least: a detail is made that fine, own counts must be.
void hold_layers(const Table& top, ParsedCase& parsed_case) {
  const int least = 2 * static_cast<int>(parsed_case.batches.size());
  int& levels = parsed_case.problem.cells.nz;
  if (levels >= least) return;
  if (parsed_case.cells)
    top.report("cells",
               fmt::format("{} layers of material do not fit into {} parts of the height.",
                           parsed_case.batches.size(), levels),
               fmt::format("Write {} or more as the last count.", least));
  levels = least;
}

void decide_cells(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  problem.cells = cells_of(problem.mode, parsed_case.detail.value_or(Detail::usual));
  if (parsed_case.cells) {
    if (parsed_case.cells_in_plane == (counts_length(problem.mode))) {
      top.report("cells",
                 counts_length(problem.mode) ? "A whole box needs three counts."
                                             : "Rings and slices need two counts.",
                 counts_length(problem.mode) ? "Write cells = [32, 32, 36]." : "Write cells = [24, 40].");
      return;
    }
    problem.cells = {(*parsed_case.cells)[0], (*parsed_case.cells)[1], (*parsed_case.cells)[2], false};
  }
  hold_layers(top, parsed_case);
  problem.cells.uniform = parsed_case.even_cells;
}

void check_mode(const Table& top, const ParsedCase& parsed_case) {
  const bool round = parsed_case.problem.bin.kind == BinShape::Kind::round;
  const Mode mode = parsed_case.problem.mode;
  if (round && !around_axis(mode))
    top.report("mode", "A round bin is computed as rings.", "Write mode = \"rings\" or leave it out.");
  if (around_axis(mode) && !walls_alike(parsed_case))
    top.report("sides", "Rings have one wall, here the sides differ.",
               "Write mode = \"whole\", or describe the wall under `walls` alone.");
  if (!piece_of_longer(mode)) return;
  if (const auto sides = top.has("sides") ? top.table("sides") : std::nullopt)
    sides->forbid({"front", "back"}, "a slice, which has a left and a right side only");
  const Side from = parsed_case.problem.outside.wind_from;
  if (from != Side::left && from != Side::right)
    top.table("outside")->report("wind_from", "A slice has a left and a right side only.",
                                 "Write wind_from = \"left\" or \"right\".");
}

}  // namespace

double plan_area(const BinShape& bin) {
  if (bin.kind == BinShape::Kind::round) return 0.25 * std::numbers::pi * bin.width * bin.width;
  return bin.width * bin.length;
}

bool fits_rings(const ParsedCase& parsed_case) {
  const Problem& problem = parsed_case.problem;
  const auto& openings = problem.openings;
  // Wind blows in at one side of a box and out at the others, which rings, being alike all round, cannot
  // tell.
  const bool blown_through = problem.outside.wind > 0.0 && problem.bin.kind == BinShape::Kind::box &&
                             std::any_of(openings.begin(), openings.end(),
                                         [](const Opening& o) { return o.where == Opening::Where::side; });
  const bool lopsided = std::any_of(openings.begin(), openings.end(),
                                    [](const Opening& o) { return one_sided(o) || part_of_width(o); });
  return walls_alike(parsed_case) && !lopsided && !blown_through;
}

void decide_mode(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  problem.mode = wanted_mode(parsed_case);
  check_mode(top, parsed_case);
  decide_cells(top, parsed_case);
  problem.box_as_rings = around_axis(problem.mode) && problem.bin.kind == BinShape::Kind::box;
}

void shape_rings(ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  if (!problem.box_as_rings) return;
  const double width = problem.bin.width;
  const double length = problem.bin.length;
  // The radius at which the middle loses its heat to cold walls as fast as that of the box does: the slowest
  // of the cooling modes of a disc and of a rectangle (zero of the Bessel function J0; theory 10.3). Walls
  // count by what the box has of them.
  constexpr double zero_of_j0 = 2.404825557695773;
  const double radius = zero_of_j0 / std::numbers::pi / std::hypot(1.0 / width, 1.0 / length);
  problem.plan_scale = width * length / (std::numbers::pi * radius * radius);
  problem.wall_scale = radius * (width + length) / (width * length);
  problem.bin.width = 2.0 * radius;
  problem.bin.length = 2.0 * radius;
  parsed_case.notes.push_back("The box is computed as rings whose middle is as far from cold walls.");
  const bool side_openings = std::any_of(problem.openings.begin(), problem.openings.end(),
                                         [](const Opening& o) { return o.where == Opening::Where::side; });
  if (problem.outside.wind > 0.0 && side_openings)
    parsed_case.notes.push_back(
        "As rings, all its side openings feel the mean of the wind around the box: what the wind blows "
        "through "
        "from one side to the other is left out; a whole box computes it.");
}

}  // namespace updraught
