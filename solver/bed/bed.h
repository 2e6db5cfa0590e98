// The bed as laid: grid, blends and the state at the start (theory 2.7, 10.1, 10.4).
#pragma once

#include <memory>
#include <vector>

#include "mesh/grid.h"
#include "solver/material/mixture.h"
#include "solver/material/moist_air.h"
#include "solver/material/stress.h"
#include "solver/problem/problem.h"
#include "solver/state/state.h"

namespace updraught {

/// Share of water in matter that is prescribed by its density alone (kg/kg wet): a usual compost; our choice.
inline constexpr double prescribed_moisture = 0.60;

/// What a run keeps from start to end.
struct Setup {
  Problem problem;
  Gas gas;
  std::vector<Blend> blends;  ///< what cells may hold, by State::mixture; empty where all is prescribed
  std::vector<std::vector<Portion>> recipes;  ///< what each blend was made of
  std::vector<NodeKind> nodes;                ///< air spaces beside the bed, in the order of State::node_*
  WallFriction friction = {};
  double wall_zone =
      0.0;  ///< width of the outermost cells that hold the looser packing at a wall (m); 0: none
  double dry_heat_capacity = heat_capacity_dry_matter;  ///< J/(kg K)
};

/// The bed at a moment, as the phases of a step see it: a value, never changed but made anew where the layers
/// move.
struct Bed {
  std::shared_ptr<const Setup> setup;
  Grid grid;
};

/// Specific heat of the dry matter, so that a prescribed heat capacity of the wet bed comes out (J/(kg K)).
/// Throws CannotCompute when that is below the heat capacity of the bed's water.
double dry_heat_capacity(const Problem& problem);

/// The gas of a problem.
Gas gas_of(const Problem& problem);

/// The empty bin: blends, air spaces, and a grid whose layers wait for the fill.
Bed make_bed(const Problem& problem);
/// The same with a plan of its own, in which cells may be closed; its layers count by their number alone.
Bed make_bed(const Problem& problem, const Grid& plan);

/// A bed and the state that belongs to it.
struct Laid {
  Bed bed;
  State state;
};

/// Fills the empty bin: settled under its own weight; its pores are still without gas (fill_with_air). Throws
/// CannotCompute when the fill does not fit the bin.
Laid lay_bed(const Bed& empty);
Laid lay_bed(const Problem& problem);

/// Puts a wet mass (kg) of a batch that is one of the bed's mixtures into a layer, spread by volume, alive as
/// the batch is. The trace in closed cells is dead.
void fill_layer(const Bed& bed, std::size_t mixture, const Batch& batch, double mass, int layer,
                State& state);

/// The same bed with other layers (m).
Bed with_layers(const Bed& bed, const std::vector<double>& thickness);

/// Prescribed heat at a cell's middle (W/m3), along the direction in which it varies; there must be one.
double prescribed_heat(const Bed& bed, int cell);

/// How far the chips of a layer have drunk towards the common fill, 0 at laying, 1 after days.
double soaked_share(const State& state, int layer);

/// What a cell's matter was when it was laid or mixed; there must be blends.
const Blend& blend_of(const Bed& bed, const State& state, std::size_t cell);

/// Matter in one cell now.
Matter cell_matter(const Bed& bed, const State& state, int cell);

/// Index of the node of a kind, or -1.
int node_index(const Bed& bed, NodeKind kind);
/// Air volume of a node (m3), for the present height of the bed.
double node_volume(const Bed& bed, int node);
/// Height of the middle of a node above the bed's floor (m).
double node_height(const Bed& bed, int node);

/// Settles the layers of a state under its present weight: their thickness and stresses. `bed` says how wide
/// they are; its own layers do not count.
void settle_bed(const Bed& bed, State& state);

}  // namespace updraught
