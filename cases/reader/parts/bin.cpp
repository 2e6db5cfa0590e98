// Shape of the bin and how finely space is counted: bin, mode, detail, cells, spacing.
#include <array>

#include "cases/reader/keys/limits.h"
#include "cases/reader/parts/parsed_case.h"

namespace updraught {

namespace {

void read_shape(const Table& top, ParsedCase& parsed_case) {
  BinShape& shape = parsed_case.problem.bin;
  // A size that cannot be read must not make a mistake of what is to fit into it.
  shape.width = shape.length = width_limits.high;
  shape.height = bin_height_limits.high;
  const auto found = top.need("bin");
  const auto bin = found ? found->table() : std::nullopt;
  if (!bin) return;
  bin->allow();
  const std::string word = bin->word("shape").value_or("box");
  shape.kind = word == "round" ? BinShape::Kind::round : BinShape::Kind::box;
  if (const auto width = bin->need("width")) shape.width = width->quantity().value_or(shape.width);
  if (const auto height = bin->need("height")) shape.height = height->quantity().value_or(shape.height);
  if (shape.kind == BinShape::Kind::round) {
    bin->forbid({"length"}, "shape = \"round\"");
    shape.length = shape.width;
    return;
  }
  const bool slice = parsed_case.mode == Mode::slice;
  if (!slice && !bin->has("length")) bin->need("length");
  shape.length = bin->quantity_or(slice ? 1.0 : shape.width, "length");
}

void read_mode(const Table& top, ParsedCase& parsed_case) {
  const auto word = top.word("mode");
  if (word) parsed_case.mode = *word == "whole" ? Mode::whole : *word == "rings" ? Mode::rings : Mode::slice;
  // Quick detail laid over a case means a box in a hurry, whatever mode the case asks for.
  if (parsed_case.detail == Detail::quick && top.laid_over("detail") && parsed_case.mode == Mode::whole &&
      !top.laid_over("mode"))
    parsed_case.mode.reset();
}

void read_detail(const Table& top, ParsedCase& parsed_case) {
  const auto word = top.word("detail");
  if (word)
    parsed_case.detail = *word == "quick"   ? Detail::quick
                         : *word == "usual" ? Detail::usual
                                            : Detail::careful;
}

/// [nx, ny, nz], or [nx, nz] where there is only one row of columns.
void read_cells(const Table& top, ParsedCase& parsed_case) {
  const auto found = top.value("cells");
  if (!found) return;
  // Of the two, what is laid over the case takes the place of what the case says.
  const bool replaced = top.laid_over("detail") && !top.laid_over("cells");
  if (top.laid_over("detail") == top.laid_over("cells")) top.forbid({"detail"}, "cells");
  const auto entries = found->list();
  if (!entries) return;
  if (entries->size() != 2 && entries->size() != 3) {
    found->report("Two or three counts are needed.",
                  "Write cells = [24, 40] for rings or a slice, cells = [32, 32, 36] for a whole box.");
    return;
  }
  std::array<int, 3> counts{1, 1, 1};
  bool sound = true;
  for (std::size_t e = 0; e < entries->size(); ++e) {
    const auto count = (*entries)[e].count();
    sound = sound && count;
    counts[entries->size() == 2 && e == 1 ? 2 : e] = count.value_or(1);
  }
  if (!sound || replaced) return;
  parsed_case.cells = counts;
  parsed_case.cells_in_plane = entries->size() == 2;
}

}  // namespace

void read_bin(const Table& top, ParsedCase& parsed_case) {
  read_detail(top, parsed_case);
  read_mode(top, parsed_case);
  read_shape(top, parsed_case);
  read_cells(top, parsed_case);
  parsed_case.even_cells = top.word("spacing") == "even";
}

}  // namespace updraught
