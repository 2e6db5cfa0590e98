// Low and high of a number.
#pragma once

namespace updraught {

/// Low and high of a number: eight of ten plausible beds lie between.
struct Band {
  double low = 0.0;
  double high = 0.0;
};

}  // namespace updraught
