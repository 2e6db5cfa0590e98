#include "post/draw/palette.h"

#include <cmath>

namespace updraught {

double lightness(Colour c) {
  const auto linear = [](double part) {
    return part <= 0.04045 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
  };
  const double luminance = 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
  const double cut = 216.0 / 24389.0;
  return luminance > cut ? 116.0 * std::cbrt(luminance) - 16.0 : 24389.0 / 27.0 * luminance;
}

Colour between(Colour first, Colour second, double share) {
  const auto mix = [share](double a, double b) { return a + share * (b - a); };
  return {mix(first.red, second.red), mix(first.green, second.green), mix(first.blue, second.blue)};
}

}  // namespace updraught
