// Sheets to print on A4: one case, or several side by side on one scale. The question and its answer first,
// then what else to know at once, the picture, the numbers; small print below or overleaf.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/result/result.h"

namespace updraught {

/// Cells of a table by rows; the first row holds the headings.
using SheetTable = std::vector<std::vector<std::string>>;

/// What a sheet says beside what the results hold.
struct SheetWords {
  std::string question;
  std::vector<std::string> answer;  ///< sentences: the first stands large, up to three more as facts below it
  SheetTable more_rows;  ///< added under the numbers: words, then one cell per column; e.g. the wall gap
  std::vector<std::string> notes;          ///< cautions and the like, small
  std::vector<std::string> warnings = {};  ///< in a frame near the top
};

/// Index of the picture nearest to a day. Throws std::invalid_argument when there is none.
std::size_t picture_near(const Result& result, double day);

/// The day, of those with a picture, that shows most. Of several designs: when the parts of their beds with
/// enough air differ most, or where these hardly differ, the temperatures of their hottest parts. Of one:
/// when least of the bed has enough air, or where none is ever short, when it is hottest. Throws
/// std::invalid_argument without results, pictures or rows.
double day_to_draw(std::span<const Result> results);

/// What a day shows, as the end of a sentence about it ("when it has least air"); empty where it is another
/// than day_to_draw chooses. Throws as that does.
std::string why_drawn(std::span<const Result> results, double drawn);

/// Aired share with low and high, air in L/min, hottest, mean, height, of one or several cases at a day, or
/// of one case at several days, the one of its maps among them (the bands are those of whole days).
SheetTable numbers_of_cases(const std::vector<Result>& results, double day);
SheetTable numbers_of_days(const Result& result, double shown_day);

/// What was counted in and out, how exact it is, what brackets mean.
std::vector<std::string> check_words(std::span<const Result> results);

/// One case: oxygen and temperature of the picture nearest to `day`, its course, numbers by day. Throws
/// std::invalid_argument without pictures or rows.
Drawing case_sheet(const Result& result, const SheetWords& words, double day, const std::string& file_name);

/// Two to four cases one below the other, each with its oxygen, temperature and course on one scale, then
/// their numbers. Throws std::invalid_argument for any other number of cases, or cases without pictures or
/// rows.
Drawing compare_sheet(const std::vector<Result>& results, const SheetWords& words, double day,
                      const std::string& file_name);

}  // namespace updraught
