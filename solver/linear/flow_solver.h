// Multigrid-preconditioned conjugate gradients for the pressure of a bed.
#pragma once

#include <memory>
#include <vector>

#include "solver/linear/kernels/solver_memory.h"
#include "solver/linear/operator.h"

namespace updraught {

/// When a solve stops: |r|_2 <= relative * |b|_2 or max |r| <= absolute (units of b), whichever comes first.
struct StoppingCriterion {
  double relative = 1e-8;
  double absolute = 0.0;
  int most_iterations = 200;
};

/// Solves A p = b for a FlowOperator. Keeps its hierarchy between solves; `prepare` rebuilds the
/// coefficients. Same bits for any number of threads.
class FlowSolver {
 public:
  /// Works in memory of its own, or in `memory`, which must outlive it.
  explicit FlowSolver(SolverMemory* memory = nullptr);
  ~FlowSolver();
  FlowSolver(FlowSolver&&) noexcept;
  FlowSolver& operator=(FlowSolver&&) noexcept;

  /// Builds (or rebuilds, reusing memory) the hierarchy of `a`. `a` must outlive the next solves.
  /// If no cell or node is tied to a fixed potential, the constant is projected out of b and p.
  void prepare(const FlowOperator& a);

  /// Unknowns without any coefficient get 0 and their right-hand side is left out.
  /// Improves p (the starting guess) until the stop rule holds. Sizes: a.unknowns().
  [[nodiscard]] SolveReport solve(const std::vector<double>& b, std::vector<double>& p,
                                  const StoppingCriterion& rule);

  /// Bytes held beyond the operator and the vectors b and p.
  double bytes() const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace updraught
