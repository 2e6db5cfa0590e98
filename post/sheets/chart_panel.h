// One small chart: a frame, an upright axis with a caption, curves with their names at the right end.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "post/draw/drawing.h"

namespace updraught {

/// A stretch of numbers with round marks.
struct Axis {
  double low = 0.0;
  double high = 1.0;
  std::vector<double> marks;
  std::string first_mark = {};  ///< a word before the number of the first mark, such as "day"
};

/// Round marks, about `count`, over a stretch; widened where it has no length. Throws std::invalid_argument
/// for ends that are no numbers.
Axis round_axis(double low, double high, int count);

/// Low and high of a curve at a place.
struct Between {
  double x = 0.0;
  double low = 0.0;
  double high = 0.0;
};

/// A curve in the chart's own units. Points that are no numbers interrupt it.
struct Curve {
  std::string name;  ///< written at its right end; may be empty
  std::vector<Point> points;
  Stroke stroke;
  std::vector<Between> band;  ///< shaded behind the curve; may be empty
  Colour band_colour = shade;
  bool dots = false;  ///< mark each point
};

/// Something that happens: a dashed upright, its words above the frame.
struct Moment {
  double x = 0.0;
  std::string words;
};

/// What a small chart shows.
struct Panel {
  std::string caption;  ///< words with unit
  std::vector<Curve> curves;
  double low = 0.0;  ///< the axis reaches at least from low to high
  double high = 0.0;
  double height = 70.0;              ///< of the frame (pt)
  double letters = 8.0;              ///< of the caption (pt)
  std::optional<Axis> upright = {};  ///< instead of one that just holds the curves
  std::vector<Moment> moments = {};  ///< by rising x
  std::optional<double> shown = {};  ///< a place that an unbroken upright marks
};

/// Shaded stretch of the level axis (none where from == to), and a place on it that a dashed line marks.
struct Shaded {
  double from = 0.0;
  double to = 0.0;
  std::optional<double> mark = {};
};

/// Draws a panel whose frame spans `left` to `right` (pt), names to the right of it within `name_width`;
/// marks of the level axis only when `level_marks`. Returns the lower end.
double draw_panel(Canvas& canvas, const Panel& panel, const Axis& level, const Shaded& shaded, double left,
                  double right, double top, double name_width, bool level_marks);

/// What a panel takes beside its frame, above and below (pt).
double room_beside_frame(Canvas& canvas, const Panel& panel, const Axis& level, double left, double right,
                         bool level_marks);

}  // namespace updraught
