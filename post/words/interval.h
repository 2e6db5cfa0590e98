// Low and high of a number.
#pragma once

namespace updraught {

/// Low and high of a number from the three settings of the uncertain inputs.
struct Band {
  double low = 0.0;
  double high = 0.0;
};

}  // namespace updraught
