#include "post/answer/figure_words.h"

#include <cmath>

#include "post/words/odds.h"
#include "post/words/words.h"

namespace updraught {

std::string shown(const KeyFigure& figure, double value) {
  if (std::isinf(value)) return "never";
  switch (figure.shown_as) {
    case ShownAs::percent:
    case ShownAs::centimetres:
      return rounded(std::abs(value) < 0.005 ? 0.0 : 100.0 * value);
    case ShownAs::day:
      return plain_number(std::round(2.0 * value) / 2.0);
    case ShownAs::five_degrees:
      return plain_number(5.0 * std::round(value / 5.0));
    case ShownAs::litres_a_minute:
      return plain_number(to_digits(value * 1000.0 / 60.0, 2));
    case ShownAs::degrees:
    case ShownAs::hours:
      return rounded(value);
  }
  return rounded(value);
}

std::string with_unit(const KeyFigure& figure, double value) {
  const std::string number = shown(figure, value);
  if (std::isinf(value)) return number;
  const std::string unit = unit_of(figure.shown_as);
  return figure.shown_as == ShownAs::day ? unit + " " + number : number + " " + unit;
}

std::string with_likely(const KeyFigure& figure, double value, const Band& band) {
  const std::string range = likely(shown(figure, band.low), with_unit(figure, band.high));
  const bool one = shown(figure, band.low) == shown(figure, band.high);
  return with_unit(figure, value) + (range.empty() || one ? "" : " (" + range + ")");
}

}  // namespace updraught
