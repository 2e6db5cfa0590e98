// A recipe in one line: "3 buckets kitchen waste, 1 bucket grass, 2 kg straw".
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cases/library/feedstock_library.h"
#include "cases/text/quantity.h"

namespace updraught {

/// One part of such a recipe.
struct TextPortion {
  const LibraryEntry* entry = nullptr;
  double volume = 0.0;  ///< loose (m3)
  double mass = 0.0;    ///< wet (kg)
};

/// The parts, or what is wrong with them in plain words.
struct RecipeTextReading {
  std::vector<TextPortion> portions;
  std::vector<std::string> problems;
};

/// Reads "amount unit material" parts divided by commas or "and"; amounts in buckets, volumes or masses. A
/// comma between digits is a decimal comma, and a part without an amount belongs to the name before it
/// ("woodchip, coarse").
RecipeTextReading read_recipe_text(std::string_view text, double bucket, const FeedstockLibrary& library,
                                   const Units& units);

}  // namespace updraught
