// One unknown by Newton's method, with whether it was found.
#pragma once

#include <cmath>

namespace updraught {

/// Where the method ended; `found` tells whether it had come to rest there. What is no number never rests.
struct [[nodiscard]] Root {
  double value = 0.0;
  bool found = false;
};

/// When a value rests: its last step was below absolute + relative |value|.
struct AtRest {
  double absolute = 0.0;
  double relative = 0.0;
  int most_passes = 0;  ///< after so many steps it has not
};

/// Goes from a guess by `step(value)`, the residual over its slope with the sign that leads to the root.
template <class Step>
Root newton(double guess, const AtRest& rest, const Step& step) {
  Root root{guess, false};
  for (int pass = 0; pass < rest.most_passes && !root.found; ++pass) {
    const double by = step(root.value);
    root.value += by;
    root.found = std::abs(by) < rest.absolute + rest.relative * std::abs(root.value);
  }
  return root;
}

}  // namespace updraught
