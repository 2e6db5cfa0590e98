// Scratch of one time step, shared by its phases. Nothing here outlives a step: what does is in State.
#pragma once

#include <vector>

#include "solver/air/air_paths.h"
#include "solver/air/flow.h"
#include "solver/balance/balances.h"
#include "solver/bed/bed.h"
#include "solver/bed/properties.h"
#include "solver/linear/anderson.h"
#include "solver/linear/transport_solver.h"
#include "solver/scratch/uptake.h"
#include "solver/state/bdf2.h"

namespace updraught {

/// Air outside at the end of the step.
struct OutsideAir {
  double temperature = 0.0;   ///< degC
  double vapour_ratio = 0.0;  ///< mol/mol dry
  double enthalpy = 0.0;      ///< J/mol dry
};

/// One boundary patch that conducts heat: flow out = conductance (T_cell - far) - flux_in.
struct HeatLink {
  int cell;
  Boundary boundary;
  double conductance;       ///< W/K
  double far;               ///< degC
  double flux_in;           ///< W into the bed
  Side side = Side::right;  ///< of a wall
};

/// Film exchange of one surface connection, fixed once its surface temperature is known.
struct SurfaceState {
  std::size_t link = 0;      ///< index of the connection
  double convection = 0.0;   ///< W/(m2 K)
  double surface = 0.0;      ///< degC
  double wet = 0.0;          ///< vapour density at the surface (kg/m3)
  double heat = 0.0;         ///< W out of the cell
  double evaporation = 0.0;  ///< kg/s out of the cell
  double slope = 0.0;        ///< W/K
};

struct StepWork {
  TimeRule rule;
  OutsideAir outside;
  Properties now;
  KnownSpreads known_spreads;
  std::vector<Connection> links;
  std::vector<HeatLink> heat;
  std::vector<SurfaceState> surfaces;
  Flow flow;
  GasState gas;
  // cells, then nodes: the iterate of this step
  std::vector<double> temperature, vapour_ratio, oxygen, carbon_dioxide;
  std::vector<double> dry_gas;  ///< m at the end of the step (mol)
  // cells
  std::vector<double> vapour_slope, enthalpy_slope, water, activity;
  std::vector<float> yielding;  ///< share of its vapour slope that a drying cell keeps (theory 9.3)
  std::vector<double> used;     ///< oxygen used (mol/s), as solved for
  std::vector<double> drained;  ///< water that trickles out of each cell (kg/s)
  Uptake uptake;
  StorageRate storage;
  TransportOperator transport;  ///< of the scalar that is being solved for
  Faces correction;
  Faces spreading;  ///< diffusion of the gas, or conduction of heat, that is being solved for
  Faces vapour_flow;
  std::vector<double> rhs, change, scratch;
  std::vector<double> rates;      ///< booked rates of this step, by Booked
  std::vector<double> condensed;  ///< condensate of each node (kg/s)
  std::vector<double> link_heat;  ///< W that each connection carries with air and vapour, as booked
  SolverMemory solver_memory;     ///< of one solver at a time
  Anderson anderson;
  std::vector<double> image;       ///< scaled temperature and oxygen of the cells, for the mixing
  double heat_mismatch = 0.0;      ///< K
  const char* unsolved = nullptr;  ///< the last linear solve of this pass that failed, in words; null: none
};

/// Takes down a linear solve that stopped short of its goal by more than what the step can bear; `what` is
/// what was solved for, in words.
void note_solve(const SolveReport& report, const char* what, StepWork& w);

/// Gives back the operator of the last transport solve and the coefficients of its faces.
void give_back_operators(StepWork& w);
/// Gives back what only the transport of gases, heat and water needs between two of its solves, so that the
/// flow solve gets that memory.
void give_back_transport(StepWork& w);
/// The same the other way round.
void give_back_flow(StepWork& w);
/// Gives back what only the mixing of passes needs.
void give_back_mixing(StepWork& w);

/// Matter that the oxygen used in a cell stands for (kg/s): metabolic water = VS + O2 - CO2 (theory 7.7), so
/// dry mass closes.
struct UsedUp {
  double dry = 0.0;
  double water = 0.0;
};
UsedUp used_up(const Bed& bed, const StepWork& w, std::size_t cell);

/// Books heat that leaves the system (W, negative: enters) by a path.
void book_heat(StepWork& w, Booked path, double heat);

/// Vapour ratio and enthalpy of the cells, with their slopes, for the present temperatures and activities. In
/// a drying cell the slope counts that warmer matter dries further and so holds its vapour back.
void refresh_vapour(const Bed& bed, StepWork& w);

/// Densities and viscosity of cells and nodes for the present iterate.
void refresh_gas(const Bed& bed, StepWork& w);

}  // namespace updraught
