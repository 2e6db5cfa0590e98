// Implicit upwind transport: several scalars that share one operator are solved in one pass.
#pragma once

#include <memory>
#include <vector>

#include "solver/linear/flow_solver.h"
#include "solver/linear/operator.h"

namespace updraught {

/// Solves A v = b for a TransportOperator, for one or several right-hand sides at once. The residual test is
/// made per scalar. Same bits for any number of threads.
class TransportSolver {
 public:
  /// Works in memory of its own, or in `memory`, which must outlive it.
  explicit TransportSolver(SolverMemory* memory = nullptr);
  ~TransportSolver();
  TransportSolver(TransportSolver&&) noexcept;
  TransportSolver& operator=(TransportSolver&&) noexcept;

  /// Factorises what the preconditioner needs. `a` must outlive the next solves.
  void prepare(const TransportOperator& a);

  /// Improves each v[s] until its stop rule holds. v[s], b[s] have a.unknowns() entries.
  [[nodiscard]] SolveReport solve(const std::vector<const std::vector<double>*>& b,
                                  const std::vector<std::vector<double>*>& v, const StoppingCriterion& rule);
  /// One right-hand side.
  [[nodiscard]] SolveReport solve(const std::vector<double>& b, std::vector<double>& v,
                                  const StoppingCriterion& rule);

  /// Bytes held beyond the operator and the vectors.
  double bytes() const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

/// Prepares, solves one right-hand side and gives the memory back to `memory`.
[[nodiscard]] SolveReport solve_once(const TransportOperator& a, const std::vector<double>& b,
                                     std::vector<double>& v, const StoppingCriterion& rule,
                                     SolverMemory& memory);

}  // namespace updraught
