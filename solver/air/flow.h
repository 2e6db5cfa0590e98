// Buoyancy-driven flow of dry gas through bed and openings (theory 5.1 to 5.3).
#pragma once

#include <vector>

#include "solver/air/air_paths.h"
#include "solver/air/faces.h"
#include "solver/bed/bed.h"
#include "solver/bed/properties.h"
#include "solver/linear/flow_solver.h"

namespace updraught {

/// Pore gas of each cell, then of each node.
struct GasState {
  std::vector<double> density;      ///< kg/m3
  std::vector<double> dry_density;  ///< c (mol/m3)
  std::vector<double> viscosity;    ///< Pa s
  double outside_density = 0.0;
  double outside_dry_density = 0.0;
  double outside_viscosity = 0.0;
};

/// Flow of dry gas, positive upward, rightward, backward; through connections from inner to outer (mol/s).
struct Flow {
  Faces faces;
  std::vector<double> net;
  std::vector<double> exchange;
  std::vector<double> pressure;  ///< p' of cells, then nodes (Pa)
  double residual = 0.0;         ///< largest imbalance of a cell or node over the largest opening flow
  SolveReport solved;            ///< of the last pressure solve
  double change = 0.0;  ///< largest departure of a connection's flow from its law, over the largest flow
};

/// Right-hand side of the carrier balance: (m_target - m_old - carried)/dt - made, per cell and node (mol/s).
using StorageRate = std::vector<double>;

/// Works out the flow at fixed gas densities.
class FlowEngine {
 public:
  /// Its solver works in `memory`, which must outlive it.
  explicit FlowEngine(SolverMemory& memory) : solver_(&memory) {}

  /// Pressures and flows; openings follow their law by Newton's method from flow.net, at the `first` call of
  /// a step from flow.pressure (the last solution). Inertia
  /// (Forchheimer) enters as a correction of each face's mobility by the last flow.
  void solve(const Bed& bed, const Properties& now, const GasState& gas, const std::vector<AirPath>& paths,
             const StorageRate& storage, bool first, Flow& flow);

 private:
  void face_conductances(const Bed& bed, const Properties& now, const GasState& gas, const Flow& flow);
  void reference_column(const Bed& bed, const GasState& gas);
  void path_terms(const Bed& bed, const GasState& gas, const std::vector<AirPath>& paths, bool first,
                  Flow& flow);
  void book_flows(const Bed& bed, const StorageRate& storage, const std::vector<AirPath>& paths, Flow& flow);

  FlowOperator operator_;
  FlowSolver solver_;
  std::vector<double> lift_;       ///< buoyancy on each face beyond the plan mean (Pa)
  std::vector<double> reference_;  ///< reference pressure of each layer (Pa)
  std::vector<double> rhs_, unknown_, offset_, conductance_, law_, divergence_, push_divergence_;
};

/// Sets the flow where the air's velocity is prescribed (upward, m/s; 0: still).
void prescribe_flow(const Bed& bed, const GasState& gas, const std::vector<AirPath>& paths, double velocity,
                    Flow& flow);

}  // namespace updraught
