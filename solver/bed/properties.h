// What each cell is like right now: pores, permeability, conductivity, heat stored per degree (theory 3.1
// to 3.7, 5.9).
#pragma once

#include <vector>

#include "solver/bed/bed.h"

namespace updraught {

/// Derived once per step from the state after settling. One entry per cell.
struct Properties {
  std::vector<double> volume;        ///< m3
  std::vector<double> between;       ///< air between the pieces (m3/m3)
  std::vector<double> free_air;      ///< total free air space (m3/m3)
  std::vector<double> across;        ///< permeability of the bed (m2)
  std::vector<double> along;         ///< permeability along the wall in wall cells, else as `across` (m2)
  std::vector<double> inertia;       ///< 1/m
  std::vector<double> conductivity;  ///< W/(m K)
  std::vector<double>
      diffusion;  ///< effective over free diffusivity, or the prescribed effective diffusivity (m2/s)
  std::vector<double> activity;  ///< water activity of the pore air
  std::vector<double> dry_mass;  ///< kg
  std::vector<double> moisture;  ///< kg/kg wet
};

/// Computes all of them; reuses the memory of `out`.
void compute_properties(const Bed& bed, const State& state, Properties& out);

/// Water that lies free in the pores of a cell, above what the matter holds (kg).
double free_water(const Bed& bed, const State& state, int cell);

}  // namespace updraught
