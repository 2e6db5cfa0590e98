// Enthalpy of a cell and the temperature that belongs to it (theory 6.1).
#pragma once

#include "solver/bed/bed.h"
#include "solver/linear/newton.h"

namespace updraught {

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
