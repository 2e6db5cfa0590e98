// Enthalpy of a cell and the temperature that belongs to it (theory 6.1).
#pragma once

#include "solver/bed/bed.h"
#include "solver/linear/newton.h"
#include "solver/material/moist_air.h"

namespace updraught {

/// Water activity of matter that holds `water` beside `dry` (kg); 1 where there is no dry matter.
inline double activity_of(double dry, double water) {
  return dry > 0.0 ? water_activity(water / dry) : 1.0;
}

/// Enthalpy of a cell (J): dry matter, liquid and gas.
double cell_enthalpy(const Bed& bed, double dry, double water, double dry_gas, double temperature,
                     double activity);
/// The same where the vapour ratio is known.
double cell_enthalpy_ratio(const Bed& bed, double dry, double water, double dry_gas, double temperature,
                           double vapour_ratio);
/// The temperature at which a cell holds an enthalpy (degC), by Newton from a guess.
Root recover_temperature(const Bed& bed, double dry, double water, double dry_gas, double activity,
                         double enthalpy, double guess);

}  // namespace updraught
