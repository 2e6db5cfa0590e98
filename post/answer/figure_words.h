// Values of measures as people read them.
#pragma once

#include <string>

#include "post/result/key_figures.h"
#include "post/words/interval.h"

namespace updraught {

/// A value in the figure's own unit, without it: "12", "never" for a time that does not come.
std::string shown(const KeyFigure& figure, double value);

/// With its unit: "12 %", "day 3", "never".
std::string with_unit(const KeyFigure& figure, double value);

/// "12 % (likely 3 to 20 %)".
std::string with_likely(const KeyFigure& figure, double value, const Band& band);

}  // namespace updraught
