// Lines along which the air moves in a cut, evenly spaced.
#pragma once

#include <vector>

#include "post/maps/cut_plane.h"

namespace updraught {

/// A line that the air follows, from its start to its end.
struct FlowLine {
  Loop points;         ///< m
  double speed = 0.0;  ///< mean along it (mm/s superficial)
};

/// Lines of the air in a cut, about `spacing` (m) apart, none where the air is slower than `least_speed`
/// (mm/s). `velocity` is the field air_velocity of the picture.
std::vector<FlowLine> flow_lines(const Cut& cut, const PictureField& velocity, double spacing,
                                 double least_speed);

/// Speeds (mm/s) in the cells of a cut, in the cut's own plane; not a number where closed.
std::vector<double> cut_speeds(const Cut& cut, const PictureField& velocity);

/// Speeds of the air in all three directions (mm/s) as a field of a picture.
PictureField speed_field(const PictureField& velocity);

}  // namespace updraught
