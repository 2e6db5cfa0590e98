// Shape of the bin and how finely space is counted: bin, mode, detail, cells, spacing.
#include <array>

#include "cases/reader/draft.h"
#include "cases/reader/keys/limits.h"

namespace updraught {

namespace {

void read_shape(const Table& top, Draft& draft) {
  BinShape& shape = draft.problem.bin;
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
  const bool slice = draft.mode == Mode::slice;
  if (!slice && !bin->has("length")) bin->need("length");
  shape.length = bin->quantity_or(slice ? 1.0 : shape.width, "length");
}

void read_mode(const Table& top, Draft& draft) {
  const auto word = top.word("mode");
  if (word) draft.mode = *word == "whole" ? Mode::whole : *word == "rings" ? Mode::rings : Mode::slice;
  // Quick detail laid over a case means a box in a hurry, whatever mode the case asks for.
  if (draft.detail == Detail::quick && top.laid_over("detail") && draft.mode == Mode::whole &&
      !top.laid_over("mode"))
    draft.mode.reset();
}

void read_detail(const Table& top, Draft& draft) {
  const auto word = top.word("detail");
  if (word)
    draft.detail = *word == "quick" ? Detail::quick : *word == "usual" ? Detail::usual : Detail::careful;
}

/// [nx, ny, nz], or [nx, nz] where there is only one row of columns.
void read_cells(const Table& top, Draft& draft) {
  const auto found = top.value("cells");
  if (!found) return;
  // Of the two, what is laid over the case takes the place of what the case says.
  const bool replaced = top.laid_over("detail") && !top.laid_over("cells");
  if (top.laid_over("detail") == top.laid_over("cells")) top.forbid({"detail"}, "cells");
  const auto entries = found->list();
  if (!entries) return;
  if (entries->size() != 2 && entries->size() != 3) {
    found->wrong("Two or three counts are needed.",
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
  draft.cells = counts;
  draft.cells_in_plane = entries->size() == 2;
}

}  // namespace

void read_bin(const Table& top, Draft& draft) {
  read_detail(top, draft);
  read_mode(top, draft);
  read_shape(top, draft);
  read_cells(top, draft);
  draft.even_cells = top.word("spacing") == "even";
}

}  // namespace updraught
