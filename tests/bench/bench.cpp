// Measures the linear solvers and prints one table; see docs/solvers.md.
#include <omp.h>

#include <algorithm>
#include <cstdio>
#include <exception>
#include <fstream>
#include <functional>
#include <map>
#include <stdexcept>

#include "keep_memory.h"
#include "machine.h"
#include "problems.h"
#include "rows.h"
#include "selection.h"
#include "solver/linear/flow_solver.h"
#include "solver/linear/transport_solver.h"

namespace updraught::bench {
namespace {

struct Figures {
  std::map<int, double> triad_gb_s, unit_s;  ///< by threads; unit in seconds per cell
};

/// The run in the middle when sorted by whole time.
Row median_run(const std::vector<Row>& runs) {
  std::vector<Row> sorted = runs;
  std::sort(sorted.begin(), sorted.end(),
            [](const Row& a, const Row& b) { return a.setup_s + a.solve_s < b.setup_s + b.solve_s; });
  return sorted[sorted.size() / 2];
}

Row as_row(const std::string& problem, int n, const std::string& solver, int threads,
           const SolveReport& report, double bytes) {
  return {problem,
          n,
          solver,
          threads,
          report.iterations,
          report.factor,
          report.setup_seconds,
          report.solve_seconds,
          bytes / (double(n) * n * n),
          report.converged};
}

class Bench {
 public:
  explicit Bench(const Selection& selection) : selection_(selection) {
    for (const int threads : {1, 2}) {
      figures_.triad_gb_s[threads] = triad(threads);
      figures_.unit_s[threads] = unit_seconds_per_cell(threads);
      std::printf(
          "%d thread(s): triad %.1f GB/s, one residual %.3f ns per cell (%.0f million cells a second)\n",
          threads, figures_.triad_gb_s[threads], figures_.unit_s[threads] * 1e9,
          1e-6 / figures_.unit_s[threads]);
    }
    print_head();
  }

  void run() {
    if (!selection_.rows.empty())
      for (const Row& row : read_rows(selection_.rows)) add(row);
    if (selection_.has("P1"))
      for (const int n : selection_.sizes_or({32, 64, 128, 192, 256})) flow(warm_cube(n, 1.0), n, {2, 1});
    if (selection_.has("P1b"))
      for (const int n : selection_.sizes_or({64, 128, 256})) flow(warm_cube(n, 2.5), n, {2});
    if (selection_.has("P2"))
      for (const int n : selection_.sizes_or({64, 128, 192})) transport(n);
    if (selection_.has("P3"))
      for (const char* kind : {"flat", "layers", "blocks", "opening"})
        for (const int n : selection_.sizes_or({32, 64, 128, 256})) flow(flat_cells(n, kind), n, {2});
    if (!selection_.json.empty()) write_json();
  }

 private:
  /// First set-up and solve of a new solver, and the same again with its memory kept, as from step to step.
  template <class Solver, class Problem, class Start>
  void measure(const Problem& problem, int n, int threads, const Start& start) {
    omp_set_num_threads(threads);
    std::vector<Row> first, again;
    for (int repeat = 0; repeat < selection_.repeats; ++repeat) {
      Solver solver;
      for (const bool kept : {false, true}) {
        std::vector<double> p = start;
        solver.prepare(problem.a);
        const SolveReport report = solver.solve(problem.b, p, {1e-8, 0.0, 500});
        (kept ? again : first)
            .push_back(as_row(problem.name, n, kept ? "updraught, kept memory" : "updraught", threads, report,
                              solver.bytes()));
      }
    }
    add(median_run(first));
    add(median_run(again));
  }

  void flow(const FlowProblem& problem, int n, const std::vector<int>& threads) {
    const std::vector<double> zero(problem.b.size(), 0.0);
    for (const int count : threads) measure<FlowSolver>(problem, n, count, zero);
  }

  void transport(int n) {
    omp_set_num_threads(2);
    const FlowProblem cube = warm_cube(n, 1.0);
    std::vector<double> p(cube.b.size(), 0.0);
    FlowSolver solver;
    solver.prepare(cube.a);
    if (!solver.solve(cube.b, p, {}).converged)
      throw std::runtime_error("the air of the transport problem was not found");
    for (const double courant : {5.0, 50.0, 2000.0}) {
      const TransportProblem problem = transport_step(cube, p, courant);
      measure<TransportSolver>(problem, n, 2, problem.guess);
    }
  }

  double units(const Row& row) const {
    return (row.setup_s + row.solve_s) / (double(row.n) * row.n * row.n) /
           figures_.unit_s.at(std::min(row.threads, 2));
  }
  static double unknowns_per_s(const Row& row) {
    return double(row.n) * row.n * row.n / (row.setup_s + row.solve_s);
  }

  static void print_head() {
    std::printf("%-10s %4s %-26s %3s %5s %7s %9s %9s %8s %7s %7s\n", "problem", "N", "solver", "thr", "iter",
                "factor", "set-up s", "solve s", "M/s", "units", "B/cell");
  }

  void add(const Row& row) {
    rows_.push_back(row);
    std::printf("%-10s %4d %-26s %3d %5d %7.3f %9.4f %9.4f %8.2f %7.1f %7.0f%s\n", row.problem.c_str(), row.n,
                row.solver.c_str(), row.threads, row.iterations, row.factor, row.setup_s, row.solve_s,
                1e-6 * unknowns_per_s(row), units(row), row.bytes_per_cell,
                row.converged ? "" : "  NOT REACHED");
    std::fflush(stdout);
  }

  void write_json() const {
    std::ofstream out(selection_.json);
    out << "[\n";
    for (std::size_t n = 0; n < rows_.size(); ++n) {
      const Row& row = rows_[n];
      out << "  {\"problem\": \"" << row.problem << "\", \"n\": " << row.n << ", \"solver\": \"" << row.solver
          << "\", \"threads\": " << row.threads << ", \"iterations\": " << row.iterations
          << ", \"factor\": " << row.factor << ", \"setup_s\": " << row.setup_s
          << ", \"solve_s\": " << row.solve_s << ", \"unknowns_per_s\": " << unknowns_per_s(row)
          << ", \"units\": " << units(row) << ", \"bytes_per_cell\": " << row.bytes_per_cell
          << ", \"triad_gb_s\": " << figures_.triad_gb_s.at(std::min(row.threads, 2))
          << ", \"converged\": " << (row.converged ? "true" : "false")
          << (n + 1 < rows_.size() ? "},\n" : "}\n");
    }
    out << "]\n";
    if (!out) throw std::runtime_error("cannot write " + selection_.json);
  }

  Selection selection_;
  Figures figures_;
  std::vector<Row> rows_;
};

}  // namespace
}  // namespace updraught::bench

int main(int argc, char** argv) {
  updraught::bench::keep_memory();
  try {
    updraught::bench::Bench(updraught::bench::read_selection(argc, argv)).run();
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "%s\n", problem.what());
    return 1;
  }
  return 0;
}
