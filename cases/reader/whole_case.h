// What is decided and checked of a case as a whole, once all its parts are read.
#pragma once

#include <vector>

#include "cases/reader/parts/parsed_case.h"

namespace updraught {

/// Decides mode, detail and cells from what the case says; reports contradictions.
void decide_mode(const Table& top, ParsedCase& parsed_case);

/// Gives a box that is computed as rings its radius (theory 10.3) and the scales by which the true plan area
/// and wall are larger.
void shape_rings(ParsedCase& parsed_case);

/// Whether a box can be computed as rings: walls alike, nothing open on one side only, no wind on side
/// openings.
bool fits_rings(const ParsedCase& parsed_case);

/// Holds the openings against shape, base and lid; each mistake stands at its opening.
void check_openings(const ParsedCase& parsed_case);

/// Holds recipe, depth and prescribed properties against each other and the bin.
void check_bed(const Table& top, const ParsedCase& parsed_case);

/// Refuses what does not fit into `memory` (bytes; 0: not known), with what would.
void check_memory(const Table& top, const ParsedCase& parsed_case, double memory);

/// Holds the size of the computation against the machine; doubts very many pictures or steps.
void check_size(const Table& top, const ParsedCase& parsed_case);

/// Doubts about sizes and openings that are hardly meant.
void check_plausible(const Table& top, const ParsedCase& parsed_case);
/// The same about the height of the bed as laid (m).
void doubt_bed_height(const Table& top, double height, double bin_height);

/// What of a case is known within ranges only; comes last.
std::vector<UncertainInput> uncertain_inputs(const ParsedCase& parsed_case);

/// Plan area of the bin (m2).
double plan_area(const BinShape& bin);

}  // namespace updraught
