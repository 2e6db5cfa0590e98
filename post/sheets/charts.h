// Charts: the course of a bed over the days, and what the share of woodchip does.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/result/result.h"

namespace updraught {

/// One share of a sweep of woodchip: the case as it is, and how plausible beds fare.
struct BlendChartPoint {
  double share = 0.0;             ///< woodchip, of all buckets (0..1)
  double airless_share = 0.0;     ///< of the bed's hours without enough air (0..1)
  double hottest = 0.0;           ///< degC, the hottest over the whole time
  double base_air_between = 0.0;  ///< air between the pieces of the lowest layer (m3/m3)
  double works_in = 0.0;          ///< share of the plausible beds (0..1); not a number where none were tried
};

/// The woodchip shares that work, and why not less nor more.
struct BlendChartRange {
  double from = 0.0;  ///< share of the buckets (0..1)
  double to = 0.0;
  std::string below;  ///< a sentence: what goes wrong with less
  std::string above;  ///< with more
};

/// A share to look at beside the range.
struct BlendChartMark {
  double share = 0.0;  ///< one of the points (0..1)
  std::string words;   ///< what it is, in a few words
};

/// Temperatures, aired share, airflow and height of a case over the days, one above the other. Throws
/// std::invalid_argument when the case holds no rows.
Drawing time_course(const Result& result, const std::string& title, const std::string& file_name);

/// What the woodchip share does, with the working range shaded where there is one, and one share marked where
/// asked. Throws std::invalid_argument for fewer than two points, and
/// for a mark where there is no point.
Drawing blend_chart(const std::vector<BlendChartPoint>& points, const std::optional<BlendChartRange>& range,
                    const std::optional<BlendChartMark>& mark, const std::string& title,
                    const std::string& file_name);

}  // namespace updraught
