// Five balances of a run (theory 9.7): what is in the bed at both ends, recomputed from the state's primary
// fields, against what crossed its boundaries and what was made or used, booked as time sums. Neither is
// derived from the other.
#pragma once

#include <array>
#include <string>
#include <vector>

namespace updraught {

/// Time sums in State::booked, by index. Everything that crosses the boundary of the system cells + nodes.
enum Booked : int {
  gas_in,               ///< dry gas through openings (mol)
  gas_out,              ///< mol
  gas_made,             ///< (RQ - 1) x oxygen used (mol)
  oxygen_in,            ///< mol, flow both ways and net diffusion
  oxygen_out,           ///< mol
  oxygen_used,          ///< mol
  carbon_dioxide_in,    ///< mol
  carbon_dioxide_out,   ///< mol
  carbon_dioxide_made,  ///< mol
  heat_in,              ///< through openings and boundaries into the system (J)
  heat_out,             ///< J
  heat_made,   ///< by microbes or prescribed, with the heat that metabolic water and lost dry mass carry (J)
  water_in,    ///< vapour through openings (kg)
  water_out,   ///< vapour through openings (kg)
  water_made,  ///< metabolic water (kg)
  water_drained,   ///< leachate and condensate that drains (kg)
  dry_lost,        ///< dry mass used up (kg)
  oxygen_clipped,  ///< put back to zero (mol); counts as made
  heat_walls,      ///< out through the side walls (J), part of heat_out less heat_in
  heat_floor,      ///< J
  heat_top,        ///< J, lid or open surface, without the air and the vapour that leave
  heat_air,  ///< J, carried out by air and vapour less carried in, evaporation from open surfaces included
  water_filled,  ///< came with what was put or poured on top later, its vapour included (kg)
  dry_filled,    ///< kg
  heat_filled,   ///< J
  booked_count
};

/// Names of the entries, as in the store.
const std::array<std::string, booked_count>& booked_names();

/// What is in the system now, from primary fields (cells and nodes).
struct Inventory {
  double dry_gas = 0.0;         ///< mol
  double oxygen = 0.0;          ///< mol
  double carbon_dioxide = 0.0;  ///< mol
  double heat = 0.0;            ///< J, liquid water and dry matter at 0 degC as zero
  double water = 0.0;           ///< kg
  double dry_mass = 0.0;        ///< kg
};

/// Relative error of one balance: |after - before - gained| over the turnover (what came in and was made).
/// Where nothing came in and nothing was made, or less than a billionth of what is there, that must stay as
/// it is, and the error is measured by it (the largest of before, after and gained). Zero only when the
/// balance closes to the last bit.
double balance_error(double before, double after, double gained, double turnover);

}  // namespace updraught
