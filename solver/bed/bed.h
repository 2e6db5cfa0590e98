// The bed as laid: grid, blends and the state at the start (theory 2.7, 10.1, 10.4).
#pragma once

#include <vector>

#include "mesh/grid.h"
#include "solver/material/mixture.h"
#include "solver/material/moist_air.h"
#include "solver/material/stress.h"
#include "solver/problem/problem.h"
#include "solver/state/state.h"

namespace updraught {

/// What a run keeps from start to end. The grid's layers follow State::thickness.
struct Bed {
  Problem problem;
  Gas gas;
  Grid grid;
  std::vector<Blend> blends;    ///< one per batch; empty where all is prescribed
  std::vector<NodeKind> nodes;  ///< air spaces beside the bed, in the order of State::node_*
  WallFriction friction;
  double lane_width =
      0.0;  ///< width of the outermost cells that hold the looser packing at a wall (m); 0: none
  double dry_heat_capacity = heat_capacity_dry_matter;  ///< J/(kg K)
};

/// Specific heat of the dry matter, so that a prescribed heat capacity of the wet bed comes out (J/(kg K)).
/// Throws CannotCompute when that is below the heat capacity of the bed's water.
double dry_heat_capacity(const Problem& problem);

/// The gas of a problem.
Gas gas_of(const Problem& problem);

/// Builds grid and blends. Throws CannotCompute when the fill does not fit the bin.
Bed make_bed(const Problem& problem);

/// The state right after filling: settled under its own weight, pores full of outside air.
State lay_bed(Bed& bed);

/// Prescribed heat at a cell's middle (W/m3), along the direction in which it varies; there must be one.
double prescribed_heat(const Bed& bed, int cell);

/// Matter in one cell now.
Matter cell_matter(const Bed& bed, const State& state, int cell);

/// Index of the node of a kind, or -1.
int node_index(const Bed& bed, NodeKind kind);
/// Air volume of a node (m3), for the present height of the bed.
double node_volume(const Bed& bed, int node);
/// Height of the middle of a node above the bed's floor (m).
double node_height(const Bed& bed, int node);

/// Settles the bed under its present weight: updates thickness and stresses in the state and the grid's
/// layers.
void settle_bed(Bed& bed, State& state);

}  // namespace updraught
