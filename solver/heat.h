// Heat and water of the bed: one flux, one evaporation (theory 6.1, 6.2, 9.3).
#pragma once

#include "solver/step_work.h"

namespace updraught {

/// One Newton pass for the temperature of the cells at the present flow; then the nodes' temperature and
/// vapour. Returns the largest change of a cell's temperature in this pass (K).
double solve_heat(const Bed& bed, const State& old, StepWork& w);

/// Moves water and enthalpy by the solved values, then recovers the temperature that belongs to the enthalpy.
void finish_heat_and_water(const Bed& bed, const State& old, StepWork& w, State& next);

/// Enthalpy of a cell (J): dry matter, liquid and gas.
double cell_enthalpy(const Bed& bed, double dry, double water, double dry_gas, double temperature,
                     double activity);
/// The same where the vapour ratio is known.
double cell_enthalpy_ratio(const Bed& bed, double dry, double water, double dry_gas, double temperature,
                           double vapour_ratio);
/// The temperature at which a cell holds an enthalpy (degC), by Newton from a guess.
double recover_temperature(const Bed& bed, double dry, double water, double dry_gas, double activity,
                           double enthalpy, double guess);

}  // namespace updraught
