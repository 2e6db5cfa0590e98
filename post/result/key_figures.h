// What people ask of a bed, as numbers that can stand side by side: each of a whole run, none of a fixed day.
#pragma once

#include <string>
#include <vector>

#include "post/result/course.h"

namespace updraught {

/// How people read a figure: its unit, and how finely.
enum class ShownAs { percent, day, degrees, five_degrees, hours, litres_a_minute, centimetres };

/// "%", "day", "°C", "h", "L/min", "cm".
std::string unit_of(ShownAs shown_as);

/// One figure of a course. Times that do not come within the run are infinity.
struct KeyFigure {
  std::string key;    ///< as in JSON
  std::string label;  ///< plain words
  ShownAs shown_as;
  double counts;  ///< a difference counts from here on (unit of the value)
  bool relative;  ///< `counts` is a share of the larger value
  int better;     ///< +1: more is better, -1: less is, 0: neither
  double (*value)(const Course&);
};

/// All measures, in the order in which they are shown.
const std::vector<KeyFigure>& key_figures();

/// One of them by its key. Throws std::invalid_argument for a key that is none.
const KeyFigure& key_figure(const std::string& key);

/// What counts as a difference between two values of a figure.
double counts_between(const KeyFigure& figure, double one, double other);

}  // namespace updraught
