// Sheets to print on A4: one case, or several side by side on one scale. The question first, then the answer,
// the picture, the numbers, the check.
#pragma once

#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/result/result.h"

namespace updraught {

/// Cells of a table by rows; the first row holds the headings.
using SheetTable = std::vector<std::vector<std::string>>;

/// What a sheet says beside what the results hold.
struct SheetWords {
  std::string question;             ///< title
  std::vector<std::string> answer;  ///< sentences
  SheetTable more_rows;  ///< added under the numbers: words, then one cell per column; e.g. the wall gap
  std::vector<std::string> notes;  ///< cautions and the like, small, at the end
};

/// Index of the picture nearest to a day. Throws std::invalid_argument when there is none.
std::size_t picture_near(const Result& result, double day);

/// Aired share with low and high, air in L/min, hottest, mean, height, of one or several cases at a day, or
/// of one case at several days (the bands are those of whole days).
SheetTable numbers_of_cases(const std::vector<Result>& results, double day);
SheetTable numbers_of_days(const Result& result);

/// One case: oxygen map of the day nearest to `day`, numbers by day. Throws std::invalid_argument without
/// pictures or rows.
Drawing case_sheet(const Result& result, const SheetWords& words, double day, const std::string& file_name);

/// Two to four cases: oxygen and temperature maps on one scale, numbers, answer. Throws std::invalid_argument
/// for any other number of cases, or cases without pictures or rows.
Drawing compare_sheet(const std::vector<Result>& results, const SheetWords& words, double day,
                      const std::string& file_name);

}  // namespace updraught
