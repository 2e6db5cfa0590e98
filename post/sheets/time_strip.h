// The course of a case in a small strip: how much of the bed has enough air, how hot its hottest part is, and
// the moments in words at which the air is lost and comes back.
#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "post/result/result.h"
#include "post/sheets/chart_panel.h"

namespace updraught {

/// Low and high of a number at the ends of whole days, by its name among the bands, times `factor`.
std::vector<Between> bands_by_day(const Result& result, const std::string& name, double factor);

/// "air lost, day 5" and "draught brings air, day 8.1", or "air back" where no more air comes in than before;
/// empty where most of the bed keeps its air.
std::vector<Moment> air_moments(const std::vector<SeriesRow>& series);

/// One scale for the strips of several cases.
struct StripScale {
  Axis days;
  Axis warmth;  ///< degC
};
StripScale strip_scale(std::span<const Result> results);

/// The strip of a case on a scale; its frames get their heights when drawn.
struct TimeStrip {
  Axis days;
  std::array<Panel, 2> panels;  ///< air above or to the left, warmth below or to the right
};

/// `shown` (days) is marked by an upright: the day of the maps beside it.
TimeStrip time_strip(const Result& result, const StripScale& scale, double shown);

/// One panel above the other in a width: the height of their frames with which they fill a height, and drawn
/// with such frames from an upper left corner.
double stacked_frame_height(Canvas& canvas, const TimeStrip& strip, double width, double height);
void draw_stacked_strip(Canvas& canvas, const TimeStrip& strip, Point place, double width,
                        double frame_height);

/// The panels side by side in two columns of a width, `step` apart, with frames of a height. Returns the
/// lower end.
double draw_strip_row(Canvas& canvas, const TimeStrip& strip, Point place, double width, double step,
                      double frame_height);

/// The strip for someone who cannot see it.
std::string strip_words(const Result& result);

}  // namespace updraught
