// All figures of a case, of a comparison, of a sweep of blends: drawn and written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "post/maps/maps.h"
#include "post/result/result.h"
#include "post/sheets/charts.h"
#include "post/sheets/sheets.h"

namespace updraught {

/// One figure as written.
struct WrittenFigure {
  std::string name;  ///< file name without folder and ending
  std::string title;
  std::string description;  ///< alternative text, also inside the SVG
};

/// What was written.
struct FigureFiles {
  std::vector<std::string> paths;  ///< PNG and SVG of each figure and of each page of a sheet, PDF of sheets
  std::vector<WrittenFigure> figures;
  std::vector<std::string> troubles;  ///< one sentence for each figure that could not be drawn or written
};

/// What to draw of a case beside the usual.
struct FigureOptions {
  double day = 3.0;  ///< the day that sheet and first maps show, where there is a picture near it
  std::vector<MapKind> more_maps;  ///< further maps of the same days
  std::vector<std::string> notes;  ///< cautions for the sheet
  bool sheet = true;
  std::vector<std::string> warnings = {};  ///< for the sheet, in a frame near its top
  std::optional<double> sheet_day = {};    ///< of the sheet, where it is not `day`
};

/// Oxygen and temperature maps of the asked day and of the last picture, the time course and the case sheet
/// (its answer is the result's verdict), into a folder that is made when missing. A result without pictures
/// gets its time course only. A picture that cannot be drawn or written is told in `troubles`, and the others
/// go on. Throws std::runtime_error when there is nothing to draw.
FigureFiles write_case_figures(const Result& result, const std::string& folder,
                               const FigureOptions& options = {});

/// The sheet of a comparison of two to four cases, as compare.png, .svg and .pdf.
FigureFiles write_compare_sheet(const std::vector<Result>& results, const SheetWords& words, double day,
                                const std::string& folder);

/// The chart of a sweep of the woodchip share, as blend.png and blend.svg.
FigureFiles write_blend_figure(const std::vector<BlendChartPoint>& points,
                               const std::optional<BlendChartRange>& range,
                               const std::optional<BlendChartMark>& mark, const std::string& title,
                               const std::string& folder);

}  // namespace updraught
