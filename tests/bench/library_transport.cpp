#include <HYPRE_krylov.h>
#include <mpi.h>

#include <cmath>

#include "library_matrix.h"

namespace updraught::bench {

Row run_factors(const TransportProblem& problem, const FactorSettings& settings, const Share& share) {
  const DistributedSystem s(problem.a, problem.b, problem.guess, share);
  Row row{problem.name, problem.a.nx, settings.name, share.ranks, 0, 0.0, 0.0, 0.0, 0.0, true};
  MPI_Barrier(MPI_COMM_WORLD);
  double start = MPI_Wtime();
  HYPRE_Solver factors = nullptr;
  HYPRE_ILUCreate(&factors);
  HYPRE_ILUSetType(factors, settings.type);
  HYPRE_ILUSetLevelOfFill(factors, settings.fill);
  HYPRE_ILUSetLocalReordering(factors, 0);
  HYPRE_ILUSetMaxIter(factors, 1);
  HYPRE_ILUSetTol(factors, 0.0);
  HYPRE_Solver krylov = nullptr;
  HYPRE_ParCSRBiCGSTABCreate(MPI_COMM_WORLD, &krylov);
  HYPRE_BiCGSTABSetTol(krylov, goal);
  HYPRE_BiCGSTABSetMaxIter(krylov, most_iterations);
  HYPRE_BiCGSTABSetPrecond(krylov, reinterpret_cast<HYPRE_PtrToSolverFcn>(HYPRE_ILUSolve),
                           reinterpret_cast<HYPRE_PtrToSolverFcn>(HYPRE_ILUSetup), factors);
  HYPRE_ParCSRBiCGSTABSetup(krylov, s.matrix, s.rhs, s.solution);
  MPI_Barrier(MPI_COMM_WORLD);
  row.setup_s = MPI_Wtime() - start;
  start = MPI_Wtime();
  HYPRE_ParCSRBiCGSTABSolve(krylov, s.matrix, s.rhs, s.solution);
  MPI_Barrier(MPI_COMM_WORLD);
  row.solve_s = MPI_Wtime() - start;
  double norm = 0.0;
  HYPRE_BiCGSTABGetNumIterations(krylov, &row.iterations);
  HYPRE_BiCGSTABGetFinalRelativeResidualNorm(krylov, &norm);
  row.factor = row.iterations > 0 ? std::pow(norm, 1.0 / row.iterations) : 0.0;
  row.converged = norm <= goal;
  HYPRE_ParCSRBiCGSTABDestroy(krylov);
  HYPRE_ILUDestroy(factors);
  return row;
}

}  // namespace updraught::bench
