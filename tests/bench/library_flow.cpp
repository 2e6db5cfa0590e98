#include <HYPRE_krylov.h>
#include <HYPRE_struct_ls.h>
#include <mpi.h>

#include <cmath>

#include "library_matrix.h"

namespace updraught::bench {

namespace {

/// The structured matrix: the diagonal and the low-side neighbours (it is symmetric), with its two vectors.
struct StructuredSystem {
  HYPRE_StructGrid grid;
  HYPRE_StructStencil stencil;
  HYPRE_StructMatrix matrix;
  HYPRE_StructVector rhs, solution;
};

StructuredSystem structured_system(const FlowProblem& problem, const Share& share) {
  const FlowOperator& a = problem.a;
  StructuredSystem s{};
  HYPRE_Int low[3] = {0, 0, share.begin(a.ny)};  // the library's order: i fastest, then k, then j
  HYPRE_Int high[3] = {a.nx - 1, a.nz - 1, share.end(a.ny) - 1};
  HYPRE_StructGridCreate(MPI_COMM_WORLD, 3, &s.grid);
  HYPRE_StructGridSetExtents(s.grid, low, high);
  HYPRE_StructGridAssemble(s.grid);
  HYPRE_StructStencilCreate(3, 4, &s.stencil);
  HYPRE_Int offsets[4][3] = {{0, 0, 0}, {-1, 0, 0}, {0, 0, -1}, {0, -1, 0}};
  for (int n = 0; n < 4; ++n) HYPRE_StructStencilSetElement(s.stencil, n, offsets[n]);
  HYPRE_StructMatrixCreate(MPI_COMM_WORLD, s.grid, s.stencil, &s.matrix);
  HYPRE_StructMatrixSetSymmetric(s.matrix, 1);
  HYPRE_StructMatrixInitialize(s.matrix);
  std::vector<double> values;
  for (int j = low[2]; j <= high[2]; ++j)
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const MatrixRow row = matrix_row(a, i, j, k);
        for (const int n : {0, 1, 3, 5}) values.push_back(row.entry[n]);
      }
  HYPRE_Int entries[4] = {0, 1, 2, 3};
  HYPRE_StructMatrixSetBoxValues(s.matrix, low, high, 4, entries, values.data());
  HYPRE_StructMatrixAssemble(s.matrix);
  for (HYPRE_StructVector* v : {&s.rhs, &s.solution}) {
    HYPRE_StructVectorCreate(MPI_COMM_WORLD, s.grid, v);
    HYPRE_StructVectorInitialize(*v);
  }
  std::vector<double> b(problem.b.begin() + std::ptrdiff_t{low[2]} * a.nx * a.nz,
                        problem.b.begin() + (std::ptrdiff_t{high[2]} + 1) * a.nx * a.nz);
  HYPRE_StructVectorSetBoxValues(s.rhs, low, high, b.data());
  HYPRE_StructVectorSetConstantValues(s.solution, 0.0);
  HYPRE_StructVectorAssemble(s.rhs);
  HYPRE_StructVectorAssemble(s.solution);
  return s;
}

void free_system(const StructuredSystem& s) {
  HYPRE_StructVectorDestroy(s.rhs);
  HYPRE_StructVectorDestroy(s.solution);
  HYPRE_StructMatrixDestroy(s.matrix);
  HYPRE_StructStencilDestroy(s.stencil);
  HYPRE_StructGridDestroy(s.grid);
}

HYPRE_StructSolver structured_preconditioner(const StructuredSettings& settings) {
  HYPRE_StructSolver cycle = nullptr;
  if (settings.semicoarsening) {
    HYPRE_StructSMGCreate(MPI_COMM_WORLD, &cycle);
    HYPRE_StructSMGSetMaxIter(cycle, 1);
    HYPRE_StructSMGSetTol(cycle, 0.0);
    HYPRE_StructSMGSetZeroGuess(cycle);
    HYPRE_StructSMGSetNumPreRelax(cycle, 1);
    HYPRE_StructSMGSetNumPostRelax(cycle, 1);
  } else {
    HYPRE_StructPFMGCreate(MPI_COMM_WORLD, &cycle);
    HYPRE_StructPFMGSetMaxIter(cycle, 1);
    HYPRE_StructPFMGSetTol(cycle, 0.0);
    HYPRE_StructPFMGSetZeroGuess(cycle);
    HYPRE_StructPFMGSetRAPType(cycle, settings.rap);
    HYPRE_StructPFMGSetRelaxType(cycle, settings.relax);
    HYPRE_StructPFMGSetNumPreRelax(cycle, 1);
    HYPRE_StructPFMGSetNumPostRelax(cycle, 1);
    HYPRE_StructPFMGSetSkipRelax(cycle, settings.skip ? 1 : 0);
  }
  return cycle;
}

void finish(Row& row, double norm, double first_over_b = 1.0) {
  row.factor = row.iterations > 0 ? std::pow(norm / first_over_b, 1.0 / row.iterations) : 0.0;
  row.converged = norm <= goal;
}

}  // namespace

Row run_structured(const FlowProblem& problem, const StructuredSettings& settings, const Share& share) {
  const StructuredSystem s = structured_system(problem, share);
  Row row{problem.name, problem.a.nx, settings.name, share.ranks, 0, 0.0, 0.0, 0.0, 0.0, true};
  MPI_Barrier(MPI_COMM_WORLD);
  double start = MPI_Wtime();
  HYPRE_StructSolver cycle = structured_preconditioner(settings);
  HYPRE_StructSolver cg = nullptr;
  HYPRE_StructPCGCreate(MPI_COMM_WORLD, &cg);
  HYPRE_StructPCGSetTwoNorm(cg, 1);
  HYPRE_StructPCGSetTol(cg, goal);
  HYPRE_StructPCGSetMaxIter(cg, most_iterations);
  if (settings.semicoarsening)
    HYPRE_StructPCGSetPrecond(cg, HYPRE_StructSMGSolve, HYPRE_StructSMGSetup, cycle);
  else
    HYPRE_StructPCGSetPrecond(cg, HYPRE_StructPFMGSolve, HYPRE_StructPFMGSetup, cycle);
  HYPRE_StructPCGSetup(cg, s.matrix, s.rhs, s.solution);
  MPI_Barrier(MPI_COMM_WORLD);
  row.setup_s = MPI_Wtime() - start;
  start = MPI_Wtime();
  HYPRE_StructPCGSolve(cg, s.matrix, s.rhs, s.solution);
  MPI_Barrier(MPI_COMM_WORLD);
  row.solve_s = MPI_Wtime() - start;
  double norm = 0.0;
  HYPRE_StructPCGGetNumIterations(cg, &row.iterations);
  HYPRE_StructPCGGetFinalRelativeResidualNorm(cg, &norm);
  finish(row, norm);
  HYPRE_StructPCGDestroy(cg);
  if (settings.semicoarsening)
    HYPRE_StructSMGDestroy(cycle);
  else
    HYPRE_StructPFMGDestroy(cycle);
  free_system(s);
  return row;
}

Row run_algebraic(const FlowProblem& problem, const AlgebraicSettings& settings, const Share& share) {
  const DistributedSystem s(problem.a, problem.b, std::vector<double>(problem.b.size(), 0.0), share);
  Row row{problem.name, problem.a.nx, settings.name, share.ranks, 0, 0.0, 0.0, 0.0, 0.0, true};
  MPI_Barrier(MPI_COMM_WORLD);
  double start = MPI_Wtime();
  HYPRE_Solver amg = nullptr;
  HYPRE_BoomerAMGCreate(&amg);
  HYPRE_BoomerAMGSetMaxIter(amg, 1);
  HYPRE_BoomerAMGSetTol(amg, 0.0);
  HYPRE_BoomerAMGSetCoarsenType(amg, settings.coarsening);
  HYPRE_BoomerAMGSetInterpType(amg, settings.interpolation);
  HYPRE_BoomerAMGSetPMaxElmts(amg, settings.most_entries);
  HYPRE_BoomerAMGSetStrongThreshold(amg, settings.strength);
  HYPRE_BoomerAMGSetAggNumLevels(amg, settings.aggressive);
  HYPRE_BoomerAMGSetRelaxType(amg, settings.relax);
  HYPRE_BoomerAMGSetNumSweeps(amg, 1);
  HYPRE_Solver cg = nullptr;
  HYPRE_ParCSRPCGCreate(MPI_COMM_WORLD, &cg);
  HYPRE_PCGSetTwoNorm(cg, 1);
  HYPRE_PCGSetTol(cg, goal);
  HYPRE_PCGSetMaxIter(cg, most_iterations);
  HYPRE_PCGSetPrecond(cg, reinterpret_cast<HYPRE_PtrToSolverFcn>(HYPRE_BoomerAMGSolve),
                      reinterpret_cast<HYPRE_PtrToSolverFcn>(HYPRE_BoomerAMGSetup), amg);
  HYPRE_ParCSRPCGSetup(cg, s.matrix, s.rhs, s.solution);
  MPI_Barrier(MPI_COMM_WORLD);
  row.setup_s = MPI_Wtime() - start;
  start = MPI_Wtime();
  HYPRE_ParCSRPCGSolve(cg, s.matrix, s.rhs, s.solution);
  MPI_Barrier(MPI_COMM_WORLD);
  row.solve_s = MPI_Wtime() - start;
  double norm = 0.0;
  HYPRE_PCGGetNumIterations(cg, &row.iterations);
  HYPRE_PCGGetFinalRelativeResidualNorm(cg, &norm);
  finish(row, norm);
  HYPRE_ParCSRPCGDestroy(cg);
  HYPRE_BoomerAMGDestroy(amg);
  return row;
}

}  // namespace updraught::bench
