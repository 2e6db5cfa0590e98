// Two packings that share a bed: stiff chips and a soft matrix (theory 2.1 to 2.6, 2.8).
#pragma once

#include "solver/material/mixture.h"

namespace updraught {

/// State of packing of some matter under a stress.
struct Packed {
  double volume = 0.0;        ///< bed volume (m3)
  double between = 0.0;       ///< air between the pieces, eps = 1 - (Vc + Vf + Vw)/V (m3/m3)
  double total = 0.0;         ///< total free air space by the density formula, eps_g (m3/m3)
  double chip_carried = 0.0;  ///< 1: chips touch and carry the load; 0: they float
};

/// Porosity of the chip packing under the largest stress carried (Pa).
double chip_porosity(const Blend& blend, double stress);
/// Porosity of the soft matrix under the largest stress carried (Pa), by the share of its easy pool that is
/// left: what rots goes limp.
double soft_porosity(const Blend& blend, double stress, double easy_left);

/// Bed volume of volumes Vc, Vf with porosities phi_c, phi_f and mixing constant m (0 ideal, 1 none):
/// V = V_id + m (V_add - V_id), V_id a smooth maximum of the two ideal cases (Furnas 1931).
double mixed_volume(double chips, double soft, double chip_porosity, double soft_porosity, double mixing);

/// Packs matter under the largest effective stress that it has carried since it was last turned (Pa).
Packed pack(const Blend& blend, const Matter& matter, double stress);

/// The mixing constant that the size-ratio law of Westman (as given by Yu, Standish, McLean 1993) asks for.
double mixing_from_size_ratio(double ratio);

}  // namespace updraught
