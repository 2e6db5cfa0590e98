// Runs the bench's problems through the general library under MPI; rank 0 writes the rows for the table.
#include "library.h"

#include <HYPRE_utilities.h>
#include <mpi.h>

#include <algorithm>
#include <cstdio>
#include <exception>

#include "keep_memory.h"
#include "selection.h"
#include "solver/linear/flow_solver.h"

namespace updraught::bench {
namespace {

/// The run in the middle by whole time.
template <class Run>
Row median_of(int repeats, const Run& run) {
  std::vector<Row> rows;
  for (int n = 0; n < repeats; ++n) rows.push_back(run());
  std::sort(rows.begin(), rows.end(),
            [](const Row& a, const Row& b) { return a.setup_s + a.solve_s < b.setup_s + b.solve_s; });
  return rows[rows.size() / 2];
}

void flow(const FlowProblem& problem, const Selection& selection, const Share& share,
          std::vector<Row>& rows) {
  const int n = problem.a.nx;
  for (const StructuredSettings& settings : structured_settings)
    if (n <= settings.largest)
      rows.push_back(median_of(selection.repeats, [&] { return run_structured(problem, settings, share); }));
  for (const AlgebraicSettings& settings : algebraic_settings)
    if (n <= settings.largest)
      rows.push_back(median_of(selection.repeats, [&] { return run_algebraic(problem, settings, share); }));
}

void transport(int n, const Selection& selection, const Share& share, std::vector<Row>& rows) {
  const FlowProblem cube = warm_cube(n, 1.0);
  std::vector<double> p(cube.b.size(), 0.0);
  FlowSolver solver;
  solver.prepare(cube.a);
  solver.solve(cube.b, p, {});
  for (const double courant : {5.0, 50.0, 2000.0}) {
    const TransportProblem problem = transport_step(cube, p, courant);
    for (const FactorSettings& settings : factor_settings)
      if (n <= settings.largest)
        rows.push_back(median_of(selection.repeats, [&] { return run_factors(problem, settings, share); }));
  }
}

void run(const Selection& selection, const Share& share) {
  std::vector<Row> rows;
  if (selection.has("P1"))
    for (const int n : selection.sizes_or({64, 128, 256})) flow(warm_cube(n, 1.0), selection, share, rows);
  if (selection.has("P1b"))
    for (const int n : selection.sizes_or({64, 128, 256})) flow(warm_cube(n, 2.5), selection, share, rows);
  if (selection.has("P2"))
    for (const int n : selection.sizes_or({64, 128, 192})) transport(n, selection, share, rows);
  if (share.rank == 0) write_rows(selection.rows, rows);
}

}  // namespace
}  // namespace updraught::bench

int main(int argc, char** argv) {
  updraught::bench::keep_memory();
  MPI_Init(&argc, &argv);
  HYPRE_Init();
  int failed = 0;
  try {
    updraught::bench::Share share{0, 1};
    MPI_Comm_rank(MPI_COMM_WORLD, &share.rank);
    MPI_Comm_size(MPI_COMM_WORLD, &share.ranks);
    const updraught::bench::Selection selection = updraught::bench::read_selection(argc, argv);
    if (selection.rows.empty()) throw std::invalid_argument("--rows FILE is needed");
    updraught::bench::run(selection, share);
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "%s\n", problem.what());
    failed = 1;
  }
  HYPRE_Finalize();
  MPI_Finalize();
  return failed;
}
