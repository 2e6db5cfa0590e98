// Contradictions between openings and what they sit in.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cases/reader/whole_case.h"

namespace updraught {

namespace {

using Where = Opening::Where;
using Kind = Opening::Kind;

std::string centimetres(double metres) {
  return fmt::format("{:.3g} cm", 100.0 * metres);
}

bool round_hole(const Opening& opening) {
  return opening.kind == Kind::hole || opening.kind == Kind::holes;
}

/// Length in plan of the wall that an opening sits in (m); of all walls where it is spread over them.
double wall_length(const Opening& opening, const ParsedCase& parsed_case) {
  const BinShape& bin = parsed_case.problem.bin;
  if (bin.kind == BinShape::Kind::round) return std::numbers::pi * bin.width;
  const bool across_x = opening.side == Side::front || opening.side == Side::back;
  if (piece_of_longer(parsed_case.problem.mode)) return opening.all_sides ? 2.0 * bin.length : bin.length;
  if (opening.all_sides) return 2.0 * (bin.width + bin.length);
  return across_x ? bin.width : bin.length;
}

void check_place(const Table& table, const Opening& opening, const Problem& problem) {
  if (opening.where == Where::base && problem.base.kind != Base::Kind::raised)
    table.report("where", "Air cannot come through a base that is closed or lies on the ground.",
                 "Write base = { kind = \"raised\" } or move the opening to a side.");
  if (opening.where == Where::lid && problem.lid.kind != Lid::Kind::closed)
    table.report("where", "There is no lid over a space for air.",
                 "Write where = \"top\", or lid = { kind = \"closed\" }.");
  if (opening.where == Where::top && problem.lid.kind == Lid::Kind::closed)
    table.report("where", "The bed's top lies under a lid.", "Write where = \"lid\", or lid = \"none\".");
}

void check_side(const Table& table, const Opening& opening, const Problem& problem) {
  const bool crosswise = opening.side == Side::front || opening.side == Side::back;
  if (problem.bin.kind == BinShape::Kind::round && table.has("side") && !opening.all_sides)
    table.report("side", "A round bin has one wall all round.", "Leave `side` out.");
  if (piece_of_longer(problem.mode) && !opening.all_sides && crosswise)
    table.report("side", "A slice has a left and a right side only.",
                 "Write side = \"left\", \"right\" or \"all\".");
}

void check_heights(const Table& table, const Opening& opening, const ParsedCase& parsed_case) {
  const double half = round_hole(opening) ? 0.5 * opening.diameter : 0.5 * opening.size;
  const double wall = parsed_case.problem.bin.height;
  const double bed = asked_depth(parsed_case);
  const auto report = [&](const std::string& problem, const std::string& hint) {
    table.report("heights", problem, hint);
  };
  for (const double height : opening.heights) {
    const std::string here = centimetres(height);
    if (height < half)
      report("At " + here + " it would reach below the floor.",
             "Raise it to at least " + centimetres(half) + ".");
    else if (height + half > wall)
      report("At " + here + " it lies outside the wall, which is " + centimetres(wall) + " high.",
             "Lower it.");
    else if (bed > 0.0 && height + half > bed)
      report("At " + here + " it lies above the bed, which is " + centimetres(bed) + " deep.",
             "Lower it, or describe it as a gap of the lid.");
  }
}

/// Holes side by side must fit their wall.
void check_room(const Table& table, const Opening& opening, const ParsedCase& parsed_case) {
  const double wall = wall_length(opening, parsed_case);
  const double rows = static_cast<double>(std::max<std::size_t>(opening.heights.size(), 1));
  if (round_hole(opening) && opening.count * opening.diameter / rows > wall)
    table.report("count",
                 fmt::format("{} holes of {} do not fit into {} of wall.", opening.count,
                             centimetres(opening.diameter), centimetres(wall)),
                 "Take fewer or smaller holes, or more heights.");
  if (!round_hole(opening) && opening.length > wall * rows)
    table.report("length", "The slits are longer than their wall, " + centimetres(wall) + ".",
                 "Shorten them or leave `length` out (all round).");
  if (opening.kind != Kind::hole || opening.all_sides) return;
  const double along = opening.along * wall;
  if (along < 0.5 * opening.diameter || along > wall - 0.5 * opening.diameter)
    table.report("along", "The hole lies outside the wall.", "Write 0.5 for the middle of the wall.");
}

void check_lid_opening(const Table& table, const Opening& opening, const ParsedCase& parsed_case) {
  Opening rim;
  rim.all_sides = true;
  const double round_the_lid = wall_length(rim, parsed_case);
  if (opening.kind == Kind::gap && opening.length > round_the_lid)
    table.report("length", "The gap is longer than the rim of the lid, " + centimetres(round_the_lid) + ".",
                 "Shorten it or leave `length` out (all round).");
}

/// Holes in the floor or the lid must leave some of it.
void check_area(const Table& table, const Opening& opening, const ParsedCase& parsed_case) {
  const double area = opening.count * 0.25 * std::numbers::pi * opening.diameter * opening.diameter;
  if (area > 0.9 * plan_area(parsed_case.problem.bin))
    table.report(opening.kind == Kind::holes ? "count" : "size",
                 "The holes are larger than what they are drilled into.", "Take fewer or smaller holes.");
  if (opening.kind != Kind::hole || !counts_length(parsed_case.problem.mode)) return;
  const BinShape& bin = parsed_case.problem.bin;
  const double half = 0.5 * opening.diameter;
  const bool inside_x = opening.along * bin.width >= half && (1.0 - opening.along) * bin.width >= half;
  const bool inside_y = opening.across * bin.length >= half && (1.0 - opening.across) * bin.length >= half;
  if (!inside_x || !inside_y)
    table.report(inside_x ? "across" : "along", "The hole reaches beyond the edge.",
                 "Write 0.5 for the middle.");
}

void check_mode(const Table& table, const Opening& opening, const Problem& problem) {
  if (opening.kind == Kind::hole && piece_of_longer(problem.mode))
    table.report("kind", "A slice goes on for ever, so a single hole would become a slit.",
                 "Write kind = \"holes\" with a count per slice, or mode = \"whole\".");
  const bool part = opening.patch_from > 0.0 || opening.patch_to < 1.0;
  if (part && around_axis(problem.mode))
    table.report(table.has("from") ? "from" : "to", "Part of the width has no meaning in rings.",
                 "Write mode = \"whole\" or \"slice\", or leave it out.");
}

}  // namespace

void check_openings(const ParsedCase& parsed_case) {
  const Problem& problem = parsed_case.problem;
  for (std::size_t n = 0; n < parsed_case.opening_tables.size(); ++n) {
    const Opening& opening = problem.openings[n];
    const Table& table = parsed_case.opening_tables[n];
    check_place(table, opening, problem);
    check_mode(table, opening, problem);
    if (opening.where == Where::side) {
      check_side(table, opening, problem);
      check_heights(table, opening, parsed_case);
      check_room(table, opening, parsed_case);
    } else if (round_hole(opening)) {
      check_area(table, opening, parsed_case);
    } else if (opening.where == Where::lid) {
      check_lid_opening(table, opening, parsed_case);
    }
  }
}

}  // namespace updraught
