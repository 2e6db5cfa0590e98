// The pages of a sheet on A4: its paragraphs, and what goes overleaf where one page does not hold all.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/sheets/sheets.h"

namespace updraught {

/// A4 with the margins that leave 170 x 257 mm (pt).
struct SheetPage {
  static constexpr double width = 595.0;
  static constexpr double height = 842.0;
  static constexpr double margin = 56.6;
  static constexpr double inner = width - 2.0 * margin;
  static constexpr double bottom = height - margin;
};

/// A part of a sheet that is never torn apart: draws itself from an upper edge (pt) and returns its lower
/// one, the room that it keeps to what follows included.
using Block = std::function<double(Canvas&, double)>;

Block paragraph(const std::string& words, const TextStyle& style, double space_below);
/// Words in a frame, for what must not be missed.
Block framed(const std::vector<std::string>& sentences);
/// A sentence with a mark before it.
Block listed_fact(const std::string& words, double letters);
/// Shaded rows; the first column takes what it needs.
Block table_block(const SheetTable& table);
/// Title, answer and warnings of a sheet, with letters of a part of the usual size.
std::vector<Block> head_of(const std::string& above, const std::string& question, const SheetWords& words,
                           double letters);
/// The sentences of an answer that stand below its first, up to three.
std::vector<std::string> facts_of(const SheetWords& words);
/// All that is small: the other notes, the other sentences of the answer, the check.
std::vector<Block> small_print(const SheetWords& words, const std::vector<std::string>& check);

/// All that a sheet shows, in order.
struct SheetParts {
  std::string name;                                        ///< in the head of further pages
  std::function<std::vector<Block>(double letters)> head;  ///< with letters of a part of the usual size
  std::vector<std::string> facts;
  std::function<Block(double map_height)> sketch;   ///< the picture as far as its height goes, drawn quickly
  std::function<Block(double map_height)> picture;  ///< the picture
  double tallest = 0.0;                             ///< height of maps (pt) at most
  double fair = 0.0;                                ///< before small print goes overleaf
  double least = 0.0;                               ///< before facts and numbers do
  SheetTable numbers;
  SheetTable more_numbers;  ///< further rows of it, that may stand overleaf without the others
  std::vector<Block> rest;  ///< the most urgent first; what the front does not hold stands overleaf
};

/// Puts the parts on as few pages as they need: maps give way first, then small print, facts and numbers go
/// overleaf in this order. The front always says that nothing is measured.
void put_on_pages(Drawing& sheet, const SheetParts& parts);

}  // namespace updraught
