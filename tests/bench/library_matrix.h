// Rows of a matrix handed to the general library, entry by entry.
#pragma once

#include <HYPRE.h>
#include <HYPRE_IJ_mv.h>
#include <HYPRE_parcsr_ls.h>

#include <vector>

#include "library.h"

namespace updraught::bench {

inline constexpr double goal = 1e-8;
inline constexpr int most_iterations = 1000;

/// The seven entries of a row: diagonal, then the neighbours at low x, high x, low y, high y, low z, high z;
/// 0 where there is none.
struct MatrixRow {
  double entry[7];
};

MatrixRow matrix_row(const FlowOperator& a, int i, int j, int k);
MatrixRow matrix_row(const TransportOperator& a, int i, int j, int k);

/// A distributed matrix with its right-hand side and starting guess; freed at the end of its life.
class DistributedSystem {
 public:
  template <class Operator>
  DistributedSystem(const Operator& a, const std::vector<double>& b, const std::vector<double>& guess,
                    const Share& share);
  ~DistributedSystem();
  DistributedSystem(const DistributedSystem&) = delete;
  DistributedSystem& operator=(const DistributedSystem&) = delete;

  HYPRE_ParCSRMatrix matrix = nullptr;
  HYPRE_ParVector rhs = nullptr;
  HYPRE_ParVector solution = nullptr;

 private:
  HYPRE_IJMatrix ij_matrix_ = nullptr;
  HYPRE_IJVector ij_rhs_ = nullptr;
  HYPRE_IJVector ij_solution_ = nullptr;
};

}  // namespace updraught::bench
