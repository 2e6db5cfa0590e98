// Contradictions between recipe, depth, prescribed properties and the bin.
#include <fmt/format.h>

#include "cases/reader/read_case.h"
#include "cases/reader/uncertain_inputs.h"
#include "cases/reader/whole_case.h"
#include "solver/bed/bed.h"

namespace updraught {

namespace {

/// Heat capacity of the water that moist air presumes in a prescribed bed (60 % of 4186 J/(kg K));
/// solver/bed.cpp.
constexpr double least_heat_capacity = 2520.0;

void check_depth(const Table& top, const ParsedCase& parsed_case) {
  const double wall = parsed_case.problem.bin.height;
  const double bed = asked_depth(parsed_case);
  if (bed <= wall * (1.0 + 1e-9)) return;
  top.report(
      parsed_case.depth ? "depth" : "layers",
      fmt::format("The bed would be {:.3g} cm deep, the bin is {:.3g} cm high.", 100.0 * bed, 100.0 * wall),
      "Fill less deep or make the bin higher.");
}

/// Every comparison lays gaps over its cases, whether or not they mean anything there.
bool gap_laid(const Table& top, std::string_view key) {
  return key == "wall_gap" && top.laid_over(key);
}

/// Without a recipe every property that the computation needs must be given.
void check_complete(const Table& top, const ParsedCase& parsed_case) {
  const Prescribed& given = parsed_case.problem.prescribed;
  if (!top.has("prescribed")) {
    top.report("fill", "Nothing says what is in the bed.",
               "Add fill = [ { what = \"vegetable scraps (raw)\", buckets = 3 } ].");
    return;
  }
  const auto prescribed = top.table("prescribed");
  if (!prescribed) return;
  const bool moves = !parsed_case.problem.freeze_flow && !given.volume_flow;
  const auto need = [&](bool there, const char* key, const char* example) {
    if (!there && !prescribed->has(key))
      prescribed->report(key, "This key is missing: without a recipe the bed must be prescribed in full.",
                         std::string("Add ") + example + ".");
  };
  need(given.permeability || !moves, "permeability", "permeability = \"1e-8 m2\"");
  need(given.porosity.has_value(), "porosity", "porosity = 0.4");
  need(given.density.has_value(), "density", "density = \"600 kg/m3\"");
  need(given.conductivity.has_value(), "conductivity", "conductivity = \"0.4 W/mK\"");
  need(given.heat_capacity.has_value(), "heat_capacity", "heat_capacity = \"3000 J/kgK\"");
  need(given.diffusivity.has_value(), "diffusivity", "diffusivity = \"5e-6 m2/s\"");
  for (const char* key : {"microbes", "settles", "wall_gap", "diffusion", "wall_friction", "side_load",
                          "laws", "woodchip_share", "turned_on"})
    if (top.has(key) && !gap_laid(top, key))
      top.report(key, "This key has no meaning in a bed without a recipe.", "Leave it out.");
}

void check_prescribed(const Table& top, const ParsedCase& parsed_case) {
  const Problem& problem = parsed_case.problem;
  const Prescribed& given = problem.prescribed;
  const auto table = top.has("prescribed") ? top.table("prescribed") : std::nullopt;
  if (!table) return;
  if (given.density && given.porosity && *given.density > 2500.0 * (1.0 - *given.porosity) &&
      !problem.constant_air)
    table->report("density",
                  "With this porosity the matter would be denser than ash without any air (2500 kg/m3).",
                  "Lower the density or the porosity.");
  if (given.heat_capacity && *given.heat_capacity < least_heat_capacity && !problem.constant_air)
    table->report("heat_capacity", "A moist bed holds more heat than that by its water alone (2520 J/kgK).",
                  "Raise it, or write air = { kind = \"constant\" } for a dry bed.");
  if (given.permeability && parsed_case.lane_asked)
    top.report("wall_lane",
               "The looser packing at the wall cannot be computed where the permeability is prescribed.",
               "Leave one of the two out.");
  if (given.permeability && top.has("wall_gap") && !gap_laid(top, "wall_gap") && problem.wall_gap > 0.0)
    top.report("wall_gap", "A gap at the wall cannot be computed where the permeability is prescribed.",
               "Leave one of the two out.");
  if (given.uptake && top.has("microbes"))
    top.report("microbes", "The uptake is prescribed, so microbes are not computed.",
               "Leave one of the two out.");
}

/// Air of a prescribed speed comes in through all of the floor and leaves through all of the top.
void check_speed(const Table& top, const ParsedCase& parsed_case) {
  if (!parsed_case.problem.prescribed.volume_flow) return;
  int floor = 0, above = 0, elsewhere = 0;
  for (const Opening& o : parsed_case.problem.openings) {
    const bool all = o.kind != Opening::Kind::hole && o.patch_from <= 0.0 && o.patch_to >= 1.0;
    const bool lid = o.where == Opening::Where::lid;
    if (o.where == Opening::Where::base && all) {
      ++floor;
    } else if (lid || (o.where == Opening::Where::top && all)) {
      above = lid ? 1 : above + 1;
    } else {
      ++elsewhere;
    }
  }
  // Without a lid the top lies open by itself.
  if (above == 0 && parsed_case.problem.lid.kind == Lid::Kind::none && !parsed_case.top_sealed) above = 1;
  const auto table = top.has("prescribed") ? top.table("prescribed") : std::nullopt;
  if (!table || (floor == 1 && above == 1 && elsewhere == 0)) return;
  table->report(
      "air_speed",
      "A given speed is that through all of the floor and all of the top, and needs one opening in "
      "each, and none in the walls.",
      "Write air_in = [ { where = \"base\", kind = \"open\" } ], lid = \"none\" and air_out = [ { where "
      "= \"top\", kind = \"open\" } ].");
}

/// What varies along the width or the length needs a mode that has them.
void check_directions(const Table& top, const ParsedCase& parsed_case) {
  const Problem& problem = parsed_case.problem;
  if (problem.initial.rolls_lengthwise > 0.0 && !counts_length(problem.mode))
    if (const auto initial = top.table("initial"))
      initial->report("rolls_lengthwise", "Only a whole bed has a length.",
                      "Write mode = \"whole\", or rolls over the width.");
  const Prescribed::Along along = problem.prescribed.heat_along;
  const bool there = along == Prescribed::Along::height || counts_length(problem.mode) ||
                     (along == Prescribed::Along::width && piece_of_longer(problem.mode));
  if (there) return;
  if (const auto prescribed = top.table("prescribed"))
    prescribed->report("heat",
                       "Rings have no width along which heat could vary, and only a whole bed has a length.",
                       "Write mode = \"whole\", or give it by height.");
}

void check_sealed_drops(const Table& top, const ParsedCase& parsed_case) {
  const bool raised = parsed_case.problem.base.kind == Base::Kind::raised;
  for (const Opening& opening : parsed_case.problem.openings)
    if (opening.where == Opening::Where::base) return;
  if (raised && parsed_case.base_given && top.has("base"))
    top.report("base", "A raised base lets air in, but no opening leads from it into the bed.",
               "Add { where = \"base\", kind = \"mesh\" } to air_in, or write kind = \"closed\".");
}

/// Why the fill cannot be laid; empty when it can.
std::string trouble_with(const Problem& problem, LaidOut& laid) {
  try {
    laid = lay_out(problem);
    return {};
  } catch (const std::exception& error) {
    return error.what();
  }
}

/// The same fill packed as loosely and as tightly as plausible beds may be, which are computed beside it.
void check_fit_of_packing(const Table& top, const char* key, const ParsedCase& parsed_case) {
  for (const double offset : {-packing_doubt, packing_doubt}) {
    Problem other = parsed_case.problem;
    other.laws.packing_excess_shift += offset;
    LaidOut laid;
    if (trouble_with(other, laid).empty()) continue;
    top.doubt(
        key,
        "It fits, but only just: packed as loosely as such materials may lie, it would be higher than the "
        "bin, so low and high cannot be computed.",
        "Take a tenth less, or say how deep with depth = \"0.6 m\".");
    return;
  }
}

/// Lays the bed to see whether it fits the bin.
void check_fit(const Table& top, const ParsedCase& parsed_case) {
  const Problem& problem = parsed_case.problem;
  const char* key = top.has("layers") ? "layers" : "fill";
  LaidOut laid;
  const std::string trouble = trouble_with(problem, laid);
  if (!trouble.empty()) {
    top.report(key, fmt::format("This cannot be filled in: {}.", trouble),
               problem.depth > 0.0 ? "Check the materials and how deep the bed is to be."
                                   : "Take fewer buckets, or say how deep with depth = \"0.6 m\".");
    return;
  }
  doubt_bed_height(top, laid.height, problem.bin.height);
  const bool amounts_decide = problem.depth <= 0.0;
  if (amounts_decide && !parsed_case.packing_laid) check_fit_of_packing(top, key, parsed_case);
}

/// What goes on top gets layers of its own, for which those below make room.
void check_room_for_refills(const Table& top, const ParsedCase& parsed_case) {
  constexpr int least = 4;
  if (parsed_case.refills.empty() || parsed_case.problem.cells.nz >= least) return;
  top.report("cells", "A bed that is filled up needs more parts in height.",
             fmt::format("Take {} or more, or leave `cells` out.", least));
}

/// Whether the narrow columns along the wall fit the plan.
void check_columns(const Table& top, const ParsedCase& parsed_case) {
  Problem plan = parsed_case.problem;
  plan.cells.nz = 2;
  try {
    make_bed(plan);
  } catch (const std::invalid_argument&) {
    top.report(top.has("cells") ? "cells" : "bin",
               "The narrow columns along the wall do not fit the bin with this many columns.",
               "Take between 8 and 64 columns across, or wall_lane = false.");
  }
}

}  // namespace

LaidOut lay_out(const Problem& problem) {
  Problem coarse = problem;
  // One column, since all are alike, but the levels of the computation: each layer of material needs some.
  coarse.cells.nx = coarse.cells.ny = 1;
  coarse.wall_lane = false;
  const auto [bed, state] = lay_bed(coarse);
  LaidOut laid{bed.grid.height(), bed.grid.volume() * problem.plan_scale, {}};
  laid.mass.assign(problem.batches.size(), 0.0);
  for (int cell = 0; cell < bed.grid.cells() && !laid.mass.empty(); ++cell) {
    const Matter matter = cell_matter(bed, state, cell);
    laid.mass[static_cast<std::size_t>(state.mixture[static_cast<std::size_t>(cell)])] +=
        problem.plan_scale * (matter.chips + matter.soft_organic + matter.soft_ash + matter.water);
  }
  return laid;
}

void check_bed(const Table& top, const ParsedCase& parsed_case) {
  check_depth(top, parsed_case);
  if (!top.has("fill") && !top.has("layers")) check_complete(top, parsed_case);
  check_prescribed(top, parsed_case);
  check_speed(top, parsed_case);
  check_directions(top, parsed_case);
  check_sealed_drops(top, parsed_case);
  check_room_for_refills(top, parsed_case);
  if (!top.diagnostics().mistakes.empty()) return;
  if (!parsed_case.problem.batches.empty()) check_fit(top, parsed_case);
  check_columns(top, parsed_case);
}

}  // namespace updraught
