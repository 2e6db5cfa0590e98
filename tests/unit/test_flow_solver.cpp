#include <gtest/gtest.h>
#include <omp.h>

#include <cmath>
#include <random>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"
#include "solver/linear/flow_solver.h"

namespace updraught {
namespace {

struct Size {
  int nx, ny, nz;
};

/// Random conductances with a spread of exp(+-spread); a fixed potential on the whole top unless `sealed`.
FlowOperator random_operator(Size size, double spread, bool sealed, unsigned seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> share(-1.0, 1.0);
  const auto next = [&] { return std::exp(spread * share(random)); };
  FlowOperator a;
  a.nx = size.nx;
  a.ny = size.ny;
  a.nz = size.nz;
  for (auto* field : {&a.x, &a.y, &a.z, &a.robin}) field->assign(at(a.cells()), 0.0);
  for (int j = 0; j < a.ny; ++j)
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const std::size_t c = at((j * a.nz + k) * a.nx + i);
        if (i > 0) a.x[c] = next();
        if (j > 0) a.y[c] = next();
        if (k > 0) a.z[c] = next();
        if (k == a.nz - 1 && !sealed) a.robin[c] = 2.0 * next();
      }
  return a;
}

/// Two nodes: one above the top layer, one behind a few cells of the floor; linked to each other, the first
/// one tied to a fixed potential unless `sealed`.
void add_nodes(FlowOperator& a, bool sealed) {
  a.nodes = 2;
  for (int j = 0; j < a.ny; ++j)
    for (int i = 0; i < a.nx; ++i) {
      a.links.push_back({(j * a.nz + a.nz - 1) * a.nx + i, 0, 3.0});
      if (i % 3 == 0) a.links.push_back({j * a.nz * a.nx + i, 1, 0.7});
    }
  a.node_matrix = {sealed ? 0.4 : 5.4, -0.4, -0.4, 0.4};
}

std::vector<double> random_vector(int n, unsigned seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> share(-1.0, 1.0);
  std::vector<double> v(at(n));
  for (double& value : v) value = share(random);
  return v;
}

/// The matrix column by column through `apply`, solved by elimination with row exchange.
std::vector<double> dense_solve(const FlowOperator& a, std::vector<double> b) {
  const int n = a.unknowns();
  std::vector<std::vector<double>> m(at(n), std::vector<double>(at(n)));
  std::vector<double> unit(at(n)), column;
  for (int c = 0; c < n; ++c) {
    unit.assign(at(n), 0.0);
    unit[at(c)] = 1.0;
    apply(a, unit, column);
    for (int r = 0; r < n; ++r) m[at(r)][at(c)] = column[at(r)];
  }
  for (int p = 0; p < n; ++p) {
    int best = p;
    for (int r = p + 1; r < n; ++r)
      if (std::abs(m[at(r)][at(p)]) > std::abs(m[at(best)][at(p)])) best = r;
    std::swap(m[at(p)], m[at(best)]);
    std::swap(b[at(p)], b[at(best)]);
    for (int r = p + 1; r < n; ++r) {
      const double share = m[at(r)][at(p)] / m[at(p)][at(p)];
      for (int c = p; c < n; ++c) m[at(r)][at(c)] -= share * m[at(p)][at(c)];
      b[at(r)] -= share * b[at(p)];
    }
  }
  for (int r = n - 1; r >= 0; --r) {
    for (int c = r + 1; c < n; ++c) b[at(r)] -= m[at(r)][at(c)] * b[at(c)];
    b[at(r)] /= m[at(r)][at(r)];
  }
  return b;
}

double relative_residual(const FlowOperator& a, const std::vector<double>& b, const std::vector<double>& p) {
  std::vector<double> y;
  apply(a, p, y);
  double res = 0.0, rhs = 0.0;
  for (std::size_t n = 0; n < b.size(); ++n) {
    res += (b[n] - y[n]) * (b[n] - y[n]);
    rhs += b[n] * b[n];
  }
  return std::sqrt(res / rhs);
}

void expect_near(const std::vector<double>& p, const std::vector<double>& exact, double tolerance) {
  double scale = 0.0;
  for (const double value : exact) scale = std::max(scale, std::abs(value));
  for (std::size_t n = 0; n < p.size(); ++n)
    ASSERT_NEAR(p[n], exact[n], tolerance * scale) << "unknown " << n;
}

// The last three have one, two and two coarse levels above the last columns.
const Size sizes[] = {{6, 1, 9}, {7, 5, 4}, {1, 1, 8}, {1, 1, 1},  {5, 7, 1},   {1, 6, 5}, {8, 2, 3},
                      {2, 8, 3}, {9, 1, 1}, {4, 4, 4}, {11, 9, 3}, {19, 17, 1}, {3, 80, 2}};

TEST(FlowSolver, AgreesWithADenseSolve) {
  for (const Size& size : sizes)
    for (const bool with_nodes : {false, true}) {
      SCOPED_TRACE(testing::Message()
                   << size.nx << " x " << size.ny << " x " << size.nz << " nodes " << with_nodes);
      FlowOperator a = random_operator(size, 1.5, with_nodes, 7);
      if (with_nodes) add_nodes(a, false);
      const std::vector<double> b = random_vector(a.unknowns(), 11);
      std::vector<double> p(b.size(), 0.0);
      FlowSolver solver;
      solver.prepare(a);
      const SolveReport report = solver.solve(b, p, {1e-12, 0.0, 100});
      EXPECT_TRUE(report.converged);
      EXPECT_LE(report.iterations, 20);
      EXPECT_LE(relative_residual(a, b, p), 2e-12);
      expect_near(p, dense_solve(a, b), 1e-9);
    }
}

TEST(FlowSolver, SealedBedIsSolvedUpToAConstant) {
  for (const Size& size : sizes)
    for (const bool with_nodes : {false, true}) {
      SCOPED_TRACE(testing::Message()
                   << size.nx << " x " << size.ny << " x " << size.nz << " nodes " << with_nodes);
      FlowOperator a = random_operator(size, 1.0, true, 3);
      if (with_nodes) add_nodes(a, true);
      const std::vector<double> exact = random_vector(a.unknowns(), 5);
      std::vector<double> b;
      apply(a, exact, b);
      std::vector<double> shifted = b;  // the share that no pressure can balance must be dropped
      for (double& value : shifted) value += 0.25;
      std::vector<double> p(b.size(), 0.0);
      FlowSolver solver;
      solver.prepare(a);
      const SolveReport report = solver.solve(shifted, p, {1e-11, 0.0, 100});
      EXPECT_TRUE(report.converged);
      double mean = 0.0, mean_exact = 0.0;
      for (std::size_t n = 0; n < p.size(); ++n) {
        mean += p[n] / double(p.size());
        mean_exact += exact[n] / double(p.size());
      }
      EXPECT_NEAR(mean, 0.0, 1e-12);
      if (p.size() == 1) continue;
      std::vector<double> centred = exact;
      for (double& value : centred) value -= mean_exact;
      expect_near(p, centred, 1e-8);
    }
}

TEST(FlowSolver, ZeroRightHandSideGivesZeroAtOnce) {
  const FlowOperator a = random_operator({6, 5, 4}, 1.0, false, 1);
  std::vector<double> p = random_vector(a.unknowns(), 2);
  FlowSolver solver;
  solver.prepare(a);
  const SolveReport report = solver.solve(std::vector<double>(p.size(), 0.0), p, {});
  EXPECT_TRUE(report.converged);
  EXPECT_EQ(report.iterations, 0);
  for (const double value : p) EXPECT_EQ(value, 0.0);
}

TEST(FlowSolver, ClosedColumnsKeepZero) {
  FlowOperator a = random_operator({6, 5, 4}, 1.0, false, 1);
  for (const int i : {0, 1, 3})  // closed: columns (0, 0), (1, 0) and (3, 0)
    for (int k = 0; k < a.nz; ++k) {
      const std::size_t c = at(k * a.nx + i);
      a.x[c] = a.x[c + 1] = a.z[c] = a.robin[c] = a.y[c + at(a.nx * a.nz)] = 0.0;
    }
  std::vector<double> b = random_vector(a.unknowns(), 2);
  for (const int i : {0, 1, 3})
    for (int k = 0; k < a.nz; ++k) b[at(k * a.nx + i)] = 0.0;
  std::vector<double> p(b.size(), 1.0);
  FlowSolver solver;
  solver.prepare(a);
  EXPECT_TRUE(solver.solve(b, p, {1e-11, 0.0, 60}).converged);
  EXPECT_LE(relative_residual(a, b, p), 2e-11);
  for (const int i : {0, 1, 3})
    for (int k = 0; k < a.nz; ++k) EXPECT_EQ(p[at(k * a.nx + i)], 0.0);
}

TEST(FlowSolver, SameBitsForAnyNumberOfThreads) {
  const int usual = omp_get_max_threads();
  for (const Size& size : {Size{11, 9, 12}, Size{33, 31, 30}}) {
    FlowOperator a = random_operator(size, 1.0, true, 9);
    add_nodes(a, false);
    const std::vector<double> b = random_vector(a.unknowns(), 4);
    std::vector<double> reference;
    for (const int threads : {1, 2, 3, 7}) {
      omp_set_num_threads(threads);
      std::vector<double> p(b.size(), 0.0);
      FlowSolver solver;
      solver.prepare(a);
      ASSERT_TRUE(solver.solve(b, p, {}).converged);
      if (threads == 1) reference = p;
      for (std::size_t n = 0; n < p.size(); ++n) ASSERT_EQ(p[n], reference[n]) << threads << " threads";
    }
    omp_set_num_threads(usual);
  }
  EXPECT_GT(std::size_t{33 * 31 * 30}, parallel_threshold);
  EXPECT_LT(std::size_t{11 * 9 * 12}, parallel_threshold);
}

/// Iterations from zero to a residual of 1e-8, which must be reached.
int iterations_for(const FlowOperator& a) {
  const std::vector<double> b = random_vector(a.unknowns(), 22);
  std::vector<double> p(b.size(), 0.0);
  FlowSolver solver;
  solver.prepare(a);
  const SolveReport report = solver.solve(b, p, {});
  EXPECT_TRUE(report.converged);
  EXPECT_LE(relative_residual(a, b, p), 1e-8);
  return report.iterations;
}

TEST(FlowSolver, IterationsHardlyGrowWithTheGrid) {
  const int small = iterations_for(random_operator({16, 16, 16}, 1.0, false, 21));
  const int large = iterations_for(random_operator({48, 48, 48}, 1.0, false, 21));
  EXPECT_LE(large, 11);
  EXPECT_LE(large, small + 2);
}

/// Loose and tight blocks like a chessboard in space, every tie between loose ones through a tight one a
/// million times weaker: one constant per block is all but free.
TEST(FlowSolver, ChequeredBlocksHardlyCostMoreOnFinerGrids) {
  int small = 0, large = 0;
  for (const int n : {16, 64}) {
    FlowOperator a = random_operator({n, n, n}, 0.0, true, 5);
    const auto tight = [n](int i, int j, int k) { return (i * 8 / n + j * 8 / n + k * 8 / n) % 2 == 1; };
    const auto series = [](bool one, bool other) { return one && other ? 1e-6 : one || other ? 2e-6 : 1.0; };
    for (int j = 0; j < n; ++j)
      for (int k = 0; k < n; ++k)
        for (int i = 0; i < n; ++i) {
          const std::size_t c = at((j * n + k) * n + i);
          const bool here = tight(i, j, k);
          if (i > 0) a.x[c] = series(here, tight(i - 1, j, k));
          if (j > 0) a.y[c] = series(here, tight(i, j - 1, k));
          if (k > 0) a.z[c] = 400.0 * series(here, tight(i, j, k - 1));
          if (k == n - 1) a.robin[c] = 800.0 * (here ? 1e-6 : 1.0);
        }
    (n == 16 ? small : large) = iterations_for(a);
  }
  EXPECT_LE(large, 12);
  EXPECT_LE(large, small + 3);
}

TEST(FlowSolver, WarmStartAndAbsoluteStopSaveWork) {
  FlowOperator a = random_operator({24, 1, 40}, 1.0, true, 31);
  add_nodes(a, false);
  const std::vector<double> b = random_vector(a.unknowns(), 32);
  FlowSolver solver;
  solver.prepare(a);
  std::vector<double> p(b.size(), 0.0);
  const SolveReport cold = solver.solve(b, p, {});
  EXPECT_LE(cold.iterations, 12);
  for (double& value : p) value *= 1.0 + 1e-6;
  EXPECT_LT(solver.solve(b, p, {}).iterations, cold.iterations / 2 + 1);
  std::vector<double> rough(b.size(), 0.0);
  const SolveReport absolute = solver.solve(b, rough, {1e-14, 1e-3, 200});
  EXPECT_TRUE(absolute.converged);
  EXPECT_LT(absolute.iterations, cold.iterations);
  std::vector<double> y;
  apply(a, rough, y);
  for (std::size_t n = 0; n < y.size(); ++n) EXPECT_LE(std::abs(b[n] - y[n]), 1.0001e-3);
}

TEST(FlowSolver, OneSolverServesGridsOfAnyShapeInTurn) {
  FlowSolver kept;
  for (int round = 0; round < 2; ++round)
    for (const Size& size : sizes) {
      SCOPED_TRACE(testing::Message() << size.nx << " x " << size.ny << " x " << size.nz);
      FlowOperator a = random_operator(size, 1.5, false, 7 + unsigned(round));
      if (round == 1) add_nodes(a, false);
      const std::vector<double> b = random_vector(a.unknowns(), 11);
      std::vector<double> p(b.size(), 0.0), fresh_p(b.size(), 0.0);
      kept.prepare(a);
      ASSERT_TRUE(kept.solve(b, p, {}).converged);
      FlowSolver fresh;
      fresh.prepare(a);
      ASSERT_TRUE(fresh.solve(b, fresh_p, {}).converged);
      for (std::size_t n = 0; n < p.size(); ++n) ASSERT_EQ(p[n], fresh_p[n]) << "unknown " << n;
    }
}

TEST(FlowSolver, SolversThatTakeTurnsInOneMemoryGiveTheSameBits) {
  SolverMemory memory;
  for (int round = 0; round < 2; ++round)
    for (const Size& size : sizes) {
      SCOPED_TRACE(testing::Message() << size.nx << " x " << size.ny << " x " << size.nz);
      const FlowOperator a = random_operator(size, 1.5, false, 7 + unsigned(round));
      const std::vector<double> b = random_vector(a.unknowns(), 11);
      std::vector<double> shared_p(b.size(), 0.0), own_p(b.size(), 0.0);
      FlowSolver shared(&memory), own;
      shared.prepare(a);
      ASSERT_TRUE(shared.solve(b, shared_p, {}).converged);
      own.prepare(a);
      ASSERT_TRUE(own.solve(b, own_p, {}).converged);
      for (std::size_t n = 0; n < own_p.size(); ++n) ASSERT_EQ(shared_p[n], own_p[n]) << "unknown " << n;
    }
}

TEST(SolverMemory, LendsFreePiecesAgainAndNeverOneInUse) {
  SolverMemory memory;
  MemoryPiece small = memory.lend(1000);
  const MemoryPiece large = memory.lend(5000);
  EXPECT_NE(small.memory, large.memory);
  const void* const place = small.memory.get();
  EXPECT_NE(memory.lend(500).memory.get(), place);
  small = MemoryPiece();
  EXPECT_EQ(memory.lend(800).memory.get(), place);
  EXPECT_GE(memory.lend(3000).bytes, 3000U);
  EXPECT_EQ(large.memory.use_count(), 2);  // ours and the keeper's
}

TEST(FlowSolver, StrongContrastsAndOneSmallOpeningCostFewIterations) {
  FlowOperator a = random_operator({24, 20, 30}, 0.5, true, 5);
  for (int j = 0; j < a.ny; ++j)
    for (int k = 10; k < 20; ++k)  // a layer a million times tighter
      for (int i = 0; i < a.nx; ++i) {
        const std::size_t c = at((j * a.nz + k) * a.nx + i);
        a.x[c] *= 1e-6;
        a.y[c] *= 1e-6;
        a.z[c] *= 1e-6;
      }
  a.robin[at((7 * a.nz + a.nz - 1) * a.nx + 5)] = 1e6;
  const std::vector<double> b = random_vector(a.unknowns(), 6);
  std::vector<double> p(b.size(), 0.0);
  FlowSolver solver;
  solver.prepare(a);
  const SolveReport report = solver.solve(b, p, {});
  EXPECT_TRUE(report.converged);
  EXPECT_LE(report.iterations, 14);
  EXPECT_LE(relative_residual(a, b, p), 1e-8);
}

TEST(FlowSolver, KeepsItsMemoryPerCellSmall) {
  const FlowOperator a = random_operator({64, 64, 40}, 1.0, false, 1);
  FlowSolver solver;
  solver.prepare(a);
  EXPECT_LE(solver.bytes() / a.cells(), 120.0);
}

TEST(FlowSolver, RefusesVectorsOfAWrongSize) {
  const FlowOperator a = random_operator({3, 3, 3}, 1.0, false, 1);
  FlowSolver solver;
  std::vector<double> b(27, 1.0), p(27, 0.0), short_p(26, 0.0);
  EXPECT_THROW(std::ignore = solver.solve(b, p, {}), std::invalid_argument);
  solver.prepare(a);
  EXPECT_THROW(std::ignore = solver.solve(b, short_p, {}), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
