// Designs side by side over the same plausible beds: how they differ, pair by pair, and which to take.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "post/result/chip_tips.h"
#include "post/result/pairs.h"
#include "post/result/tried_beds.h"

namespace updraught {

/// One design of a comparison.
struct ComparedCase {
  std::string name;
  Course asked;                 ///< in the detail that was asked for
  std::optional<Course> quick;  ///< the same in quick detail, in which plausible beds are computed
  TriedBeds tried;
  std::vector<ChipTips>
      tips;  ///< of the case as it is (number 0) and of plausible beds; empty: not looked for
  std::vector<UncertainInput> inputs;
  std::string air_paths;  ///< where its air enters and leaves, a sentence; may be empty
};

/// A value with its low and high over the plausible beds.
struct RangedValue {
  double value = 0.0;
  Band band;
};

/// One figure of all designs.
struct FigureRow {
  KeyFigure figure;
  std::vector<RangedValue> values;  ///< by design
  std::vector<Paired> pairs;        ///< each design less the first; the first against itself: none
};

/// The least share of chips with which each design keeps its air.
struct ChipsRow {
  double most_tried = 0.0;          ///< beyond it, infinite
  std::vector<RangedValue> values;  ///< by design
  std::vector<Paired> pairs;        ///< each less the first
};

/// How one design stands against another.
struct Standing {
  Paired air;          ///< of the bed's hours without enough air, this less the other
  Paired warmth;       ///< of the mean temperature
  Paired hot;          ///< of the hours above 55 degC of the hottest part
  int better = 0;      ///< 1: to be taken before the other; -1: after it; 0: no clear difference
  bool split = false;  ///< one is clearly better for air, the other clearly warmer
};

/// A whole comparison.
struct Comparison {
  std::vector<std::string> names;
  int seed = 0;
  std::vector<FigureRow> rows;
  std::optional<ChipsRow> chips;
  std::vector<std::vector<Standing>> standings;  ///< of each design against each
  std::vector<std::size_t> order;                ///< designs, the one to take first
  std::vector<std::string> verdict;              ///< the choice, the facts behind it, then the rest
};

/// Compares two or more designs. Throws std::invalid_argument for fewer, or where one has no plausible bed.
Comparison compare(const std::vector<ComparedCase>& cases);

/// The table that people read, one figure a line.
std::string comparison_table(const Comparison& comparison);

/// The comparison without the cases themselves.
nlohmann::json to_json(const Comparison& comparison);

/// The sentences of a comparison whose numbers are there: the choice, up to three facts, the rest.
std::vector<std::string> choice_in_words(const Comparison& comparison,
                                         const std::vector<ComparedCase>& cases);

}  // namespace updraught
