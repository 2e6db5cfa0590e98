// The bench's test problems: fixed, generated, the same for every solver.
#pragma once

#include <string>
#include <vector>

#include "solver/linear/operator.h"

namespace updraught::bench {

/// A linear system of the flow, A p = b.
struct FlowProblem {
  std::string name;
  FlowOperator a;
  std::vector<double> b;
};

/// A linear system of transport, A v = b, with the guess to start from (the old values).
struct TransportProblem {
  std::string name;
  TransportOperator a;
  std::vector<double> b;
  std::vector<double> guess;
};

/// P1 (sigma = 1) and P1b (sigma = 2.5): a cube of 1 m, n^3 cells, mobility k0 exp(-3 (1 - z)) times a
/// cellwise lognormal factor, driven by the buoyancy of a smooth bump of 60 degC; pressure given on the whole
/// top and on a patch of 0.4 x 0.4 of the bottom.
FlowProblem warm_cube(int n, double sigma);

/// P3: n^3 cells 20 times flatter than wide. `kind` is "flat" (mobility as in P1), "layers" (eight bands,
/// contrast 1e6), "blocks" (8^3 blocks in a chequered pattern, contrast 1e6) or "opening" (even mobility, one
/// cell of the floor open with 1e6 times its own conductance). Pressure given on the top, source as in P1.
FlowProblem flat_cells(int n, const std::string& kind);

/// P2: one implicit upwind step of advection and diffusion in the flow `p` of the problem `flow` (from
/// warm_cube); the largest share of a cell's air replaced in the step is `courant`.
TransportProblem transport_step(const FlowProblem& flow, const std::vector<double>& p, double courant);

}  // namespace updraught::bench
