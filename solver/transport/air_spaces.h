// The air spaces beside the bed: well mixed, they store gas, vapour and enthalpy (theory 5.4, 6.7).
#pragma once

#include <vector>

#include "solver/scratch/books.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// Solves a node's own vapour and enthalpy balance exactly for the present cells: trial.temperature and
/// trial.vapour_ratio of the node; vapour beyond saturation condenses (trial.condensed). Whether its
/// temperature was found.
[[nodiscard]] bool solve_node(const Bed& bed, const State& old, int node, const Frame& frame, Trial& trial);

/// What a connection carries from its inner end, without film exchange: heat (W), water (kg/s), and the slope
/// of the heat with the inner cell's temperature (W/K).
struct PathFlux {
  double heat = 0.0;
  double water = 0.0;
  double slope = 0.0;
};
PathFlux through_path(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t n);

/// Heat and evaporation of every surface towards a node, for the node as solved.
void book_surfaces(const Bed& bed, const Frame& frame, Trial& trial);

/// Adds what connections carry to the outflow of heat (W) and water (kg/s) of cells and nodes, and books what
/// crosses the boundary of the system.
void book_paths(const Bed& bed, const Frame& frame, Trial& trial, Books& books,
                std::vector<double>& heat_leaving, std::vector<double>& water_leaving);

/// Losses of the nodes through lid and skirt, and their condensate, which falls back on the bed's top or
/// drains.
void book_nodes(const Bed& bed, const Frame& frame, Trial& trial, Books& books,
                std::vector<double>& heat_leaving, std::vector<double>& water_leaving);

/// New vapour and temperature of the nodes from what left them.
void apply_node_fluxes(const Bed& bed, const State& old, const Frame& frame,
                       const std::vector<double>& heat_leaving, const std::vector<double>& water_leaving,
                       State& next);

/// Enthalpy of a node's gas (J) in a state.
double node_enthalpy(const Bed& bed, const State& s, int node);

}  // namespace updraught
