// The air spaces beside the bed: well mixed, they store gas, vapour and enthalpy (theory 5.4, 6.7).
#pragma once

#include <vector>

#include "solver/scratch/books.h"
#include "solver/scratch/trial.h"

namespace updraught {

/// All that reaches a node, as sums over its connections: gas flows (mol/s), enthalpy and vapour they bring,
/// film exchange.
struct NodeTerms {
  double leaving = 0.0;            ///< mol/s of the node's own gas that goes out, flow and exchange
  double enthalpy = 0.0;           ///< W brought by entering gas
  double vapour = 0.0;             ///< mol/s brought by entering gas, and by diffusion
  double vapour_out = 0.0;         ///< mol/s per unit of the node's vapour ratio that diffuses out
  double own_diffusion = 0.0;      ///< the part of it that carries the node's own vapour enthalpy (mol/s)
  double own_entering = 0.0;       ///< vapour that diffuses in against it (mol/s)
  double other_diffusion = 0.0;    ///< W per unit of the node's vapour ratio, at the cells' vapour enthalpy
  double film = 0.0;               ///< W/K
  double film_heat = 0.0;          ///< film x surface temperature (W)
  double transfer = 0.0;           ///< m3/s of film transfer
  double transfer_wet = 0.0;       ///< kg/s at the surfaces' vapour densities
  double transfer_enthalpy = 0.0;  ///< m3/s x J/mol, for the vapour that the film takes back
  double transfer_wet_enthalpy = 0.0;  ///< W
};

/// Of each node what its connections to cells and to the outside bring, for the present cells.
std::vector<NodeTerms> terms_of_cells(const Bed& bed, const Frame& frame, const Trial& trial);

/// Solves a node's own vapour and enthalpy balance exactly for the present cells (terms_of_cells) and
/// surfaces: trial.temperature and trial.vapour_ratio of the node; vapour beyond saturation condenses
/// (trial.condensed). Whether its temperature was found.
[[nodiscard]] bool solve_node(const Bed& bed, const State& old, int node, const NodeTerms& of_cells,
                              const Frame& frame, Trial& trial);

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
