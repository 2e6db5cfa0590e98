// The same matrices through a general library: one function per kind of solver. Every rank calls them.
#pragma once

#include <vector>

#include "library_settings.h"
#include "problems.h"
#include "rows.h"

namespace updraught::bench {

/// The slabs j of a rank: begin to end - 1.
struct Share {
  int rank, ranks;
  int begin(int ny) const { return ny * rank / ranks; }
  int end(int ny) const { return ny * (rank + 1) / ranks; }
};

Row run_structured(const FlowProblem& problem, const StructuredSettings& settings, const Share& share);
Row run_algebraic(const FlowProblem& problem, const AlgebraicSettings& settings, const Share& share);
Row run_factors(const TransportProblem& problem, const FactorSettings& settings, const Share& share);

}  // namespace updraught::bench
