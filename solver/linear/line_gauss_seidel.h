// Column sweeps that follow the flow: slow, one thread, but at home where the air turns round and round.
#pragma once

#include <vector>

#include "solver/linear/flow_solver.h"
#include "solver/linear/operator.h"

namespace updraught {

/// Stabilised bi-conjugate gradients, preconditioned by four sweeps over whole columns towards the four
/// corners of the plan. Used where the multigrid cycle stalls: strong recirculation with next to no
/// diffusion.
class ColumnSweeps {
 public:
  /// Factorises the columns of `a`, which must outlive the solves.
  void prepare(const TransportOperator& a);
  bool ready() const { return a_ != nullptr; }
  void forget() { a_ = nullptr; }

  /// Improves x until |b - A x| <= goal, the rule's absolute bound holds, its iterations are used up (counted
  /// on in `report`) or the method breaks down; x is then the last good iterate.
  void solve(const std::vector<double>& b, std::vector<double>& x, double goal, const StoppingCriterion& rule,
             SolveReport& report);
  double bytes() const;

 private:
  void factorise();
  void sort_links();
  void solve_column(const std::vector<double>& rhs, std::vector<double>& u, int i, int j) const;
  void solve_nodes(const std::vector<double>& rhs, std::vector<double>& u);
  void precondition(const std::vector<double>& rhs, std::vector<double>& u);
  bool reached(double goal, const StoppingCriterion& rule) const;

  const TransportOperator* a_ = nullptr;
  std::vector<double> inverse_;          ///< inverse pivots of the columns
  std::vector<double> node_inverse_;     ///< inverse of the node matrix
  std::vector<std::size_t> link_begin_;  ///< first link of each cell in `link_order_`; empty without links
  std::vector<std::size_t> link_order_;
  std::vector<double> r_, shadow_, p_, t_, v_, y_, z_, node_sum_;
};

}  // namespace updraught
