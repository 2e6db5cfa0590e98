// Low and high of every headline number, from three settings of the most uncertain inputs.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "post/result/summary.h"

namespace updraught {

/// The same case computed in three settings of the uncertain inputs, at the same (quick) detail.
struct ThreeSettings {
  Summary adverse;  ///< packs tight, breathes hard
  Summary middle;
  Summary favourable;  ///< packs loose, breathes little
};

/// The values of the adverse, the middle and the favourable setting behind an asked value: their offsets from
/// the middle laid on it. Where the asked detail moved the value about as far as another setting does (half
/// to one and a half times: a draught that strikes up in one and fails in the other), offsets say nothing:
/// then the settings' own values.
std::array<double, 3> settings_behind(double value, double adverse, double middle, double favourable);

/// Low and high over the value and the settings behind it: low <= value <= high.
Band laid_on(double value, double adverse, double middle, double favourable);

/// Keeps a band within what its quantity can be, told by the end of its name: _share within 0..1, _c (degC)
/// free, all else not below 0.
Band kept_possible(const std::string& name, Band band);

/// Bands of every day of the asked result, from the days that all three settings have as well.
std::vector<DayBands> bands_of(const Summary& asked, const ThreeSettings& quick);

/// Bands of no width, for a case whose uncertain inputs are all prescribed: the three settings are the same
/// case.
std::vector<DayBands> bands_without_width(const Summary& asked);

}  // namespace updraught
