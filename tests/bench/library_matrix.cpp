#include "library_matrix.h"

#include <mpi.h>

#include "mesh/parallel/index.h"

namespace updraught::bench {

MatrixRow matrix_row(const FlowOperator& a, int i, int j, int k) {
  const int c = (j * a.nz + k) * a.nx + i;
  const int slab = a.nx * a.nz;
  MatrixRow row{{a.robin[at(c)], -a.x[at(c)], i + 1 < a.nx ? -a.x[at(c + 1)] : 0.0, -a.y[at(c)],
                 j + 1 < a.ny ? -a.y[at(c + slab)] : 0.0, -a.z[at(c)],
                 k + 1 < a.nz ? -a.z[at(c + a.nx)] : 0.0}};
  for (int n = 1; n < 7; ++n) row.entry[0] -= row.entry[n];
  return row;
}

MatrixRow matrix_row(const TransportOperator& a, int i, int j, int k) {
  const int c = (j * a.nz + k) * a.nx + i;
  const int slab = a.nx * a.nz;
  return {{a.diagonal[at(c)], -a.up_x[at(c)], i + 1 < a.nx ? -a.down_x[at(c + 1)] : 0.0, -a.up_y[at(c)],
           j + 1 < a.ny ? -a.down_y[at(c + slab)] : 0.0, -a.up_z[at(c)],
           k + 1 < a.nz ? -a.down_z[at(c + a.nx)] : 0.0}};
}

template <class Operator>
DistributedSystem::DistributedSystem(const Operator& a, const std::vector<double>& b,
                                     const std::vector<double>& guess, const Share& share) {
  const int slab = a.nx * a.nz;
  const HYPRE_BigInt first = share.begin(a.ny) * slab;
  const HYPRE_BigInt last = share.end(a.ny) * slab - 1;
  HYPRE_IJMatrixCreate(MPI_COMM_WORLD, first, last, first, last, &ij_matrix_);
  HYPRE_IJMatrixSetObjectType(ij_matrix_, HYPRE_PARCSR);
  std::vector<HYPRE_Int> sizes(static_cast<std::size_t>(last - first + 1), 7);
  HYPRE_IJMatrixSetRowSizes(ij_matrix_, sizes.data());
  HYPRE_IJMatrixInitialize(ij_matrix_);
  const int step[7] = {0, -1, 1, -slab, slab, -a.nx, a.nx};
  for (int j = share.begin(a.ny); j < share.end(a.ny); ++j)
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const MatrixRow row = matrix_row(a, i, j, k);
        const HYPRE_BigInt c = (j * a.nz + k) * a.nx + i;
        HYPRE_BigInt columns[7];
        double values[7];
        HYPRE_Int count = 0;
        for (int n = 0; n < 7; ++n) {
          if (n > 0 && row.entry[n] == 0.0) continue;
          columns[count] = c + step[n];
          values[count++] = row.entry[n];
        }
        HYPRE_IJMatrixSetValues(ij_matrix_, 1, &count, &c, columns, values);
      }
  HYPRE_IJMatrixAssemble(ij_matrix_);
  HYPRE_IJMatrixGetObject(ij_matrix_, reinterpret_cast<void**>(&matrix));
  const auto vector = [&](HYPRE_IJVector& ij, HYPRE_ParVector& par, const std::vector<double>& values) {
    HYPRE_IJVectorCreate(MPI_COMM_WORLD, first, last, &ij);
    HYPRE_IJVectorSetObjectType(ij, HYPRE_PARCSR);
    HYPRE_IJVectorInitialize(ij);
    std::vector<HYPRE_BigInt> places(static_cast<std::size_t>(last - first + 1));
    for (std::size_t n = 0; n < places.size(); ++n) places[n] = first + static_cast<HYPRE_BigInt>(n);
    HYPRE_IJVectorSetValues(ij, static_cast<HYPRE_Int>(places.size()), places.data(), values.data() + first);
    HYPRE_IJVectorAssemble(ij);
    HYPRE_IJVectorGetObject(ij, reinterpret_cast<void**>(&par));
  };
  vector(ij_rhs_, rhs, b);
  vector(ij_solution_, solution, guess);
}

template DistributedSystem::DistributedSystem(const FlowOperator&, const std::vector<double>&,
                                              const std::vector<double>&, const Share&);
template DistributedSystem::DistributedSystem(const TransportOperator&, const std::vector<double>&,
                                              const std::vector<double>&, const Share&);

DistributedSystem::~DistributedSystem() {
  HYPRE_IJMatrixDestroy(ij_matrix_);
  HYPRE_IJVectorDestroy(ij_rhs_);
  HYPRE_IJVectorDestroy(ij_solution_);
}

}  // namespace updraught::bench
