#include "post/result/key_figures.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;

/// In days; infinity where it does not come.
double days(const std::optional<double>& time) {
  return time ? *time / seconds_a_day : std::numeric_limits<double>::infinity();
}

}  // namespace

std::string unit_of(ShownAs shown_as) {
  switch (shown_as) {
    case ShownAs::percent:
      return "%";
    case ShownAs::day:
      return "day";
    case ShownAs::degrees:
    case ShownAs::five_degrees:
      return "°C";
    case ShownAs::hours:
      return "h";
    case ShownAs::litres_a_minute:
      return "L/min";
    case ShownAs::centimetres:
      return "cm";
  }
  throw std::invalid_argument("this way of showing a figure has no unit");
}

// Three points of a run's hours, half a day and 5 degC are about what half the step, a finer grid and another
// detail move an answer by (theory 9.6); 2 degC of a mean, 6 h, a tenth of the air and a finger's breadth are
// our choice.
const std::vector<KeyFigure>& key_figures() {
  static const std::vector<KeyFigure> all{
      {"airless_share", "bed's hours without enough air", ShownAs::percent, 0.03, false, -1,
       [](const Course& c) { return c.airless_share; }},
      {"airs_from_day", "most of it keeps its air from day", ShownAs::day, 0.5, false, -1,
       [](const Course& c) { return days(airs_from(c)); }},
      {"going_day", "gets going (45 °C) on day", ShownAs::day, 0.5, false, -1,
       [](const Course& c) { return days(c.going); }},
      {"hottest_c", "hottest part", ShownAs::five_degrees, 5.0, false, 1,
       [](const Course& c) { return c.hottest; }},
      {"hours_hot", "hottest part above 55 °C", ShownAs::hours, 6.0, false, 1,
       [](const Course& c) { return c.hours_hot; }},
      {"hours_coldest_hot", "coldest part above 55 °C", ShownAs::hours, 6.0, false, 1,
       [](const Course& c) { return c.hours_coldest_hot; }},
      {"mean_temperature_c", "mean temperature", ShownAs::degrees, 2.0, false, 1,
       [](const Course& c) { return c.mean_temperature; }},
      {"mean_air_in_m3_h", "air that enters, mean", ShownAs::litres_a_minute, 0.1, true, 0,
       [](const Course& c) { return c.mean_air_in; }},
      {"height_at_end_m", "height at the end", ShownAs::centimetres, 0.01, false, 0,
       [](const Course& c) { return c.height_at_end; }}};
  return all;
}

const KeyFigure& key_figure(const std::string& key) {
  const auto found = std::find_if(key_figures().begin(), key_figures().end(),
                                  [&](const KeyFigure& one) { return one.key == key; });
  if (found == key_figures().end()) throw std::invalid_argument("no figure is called " + key);
  return *found;
}

double counts_between(const KeyFigure& figure, double one, double other) {
  return figure.relative ? figure.counts * std::max(std::abs(one), std::abs(other)) : figure.counts;
}

}  // namespace updraught
