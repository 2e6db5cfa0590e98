#include <gtest/gtest.h>
#include <omp.h>

#include <cmath>
#include <limits>
#include <random>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"
#include "solver/linear/transport_solver.h"

namespace updraught {
namespace {

struct Size {
  int nx, ny, nz;
};

enum class Wind { random, through, round };

/// Upwind transport with storage 1 per cell: face flows of the size of `courant`, diffusion of the size of
/// `diffusion`. `random`: any sign on any face; `through`: everywhere towards high x, y and z; `round`: a
/// divergence-free eddy around the y axis. Outflow that has nowhere to go stays in the diagonal.
TransportOperator make(Size size, Wind wind, double courant, double diffusion, unsigned seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> share(-1.0, 1.0);
  TransportOperator a;
  a.nx = size.nx;
  a.ny = size.ny;
  a.nz = size.nz;
  const std::size_t cells = at(a.cells());
  a.diagonal.assign(cells, 1.0);
  for (auto* field : {&a.up_x, &a.down_x, &a.up_y, &a.down_y, &a.up_z, &a.down_z}) field->assign(cells, 0.0);
  const auto stream = [&](int i, int k) {  // vanishes on the sides of the box
    return std::sin(3.14159 * i / a.nx) * std::sin(3.14159 * k / a.nz) * courant * 0.2 * (a.nx + a.nz);
  };
  const auto face = [&](std::size_t c, std::size_t low, double flow, std::vector<double>& up,
                        std::vector<double>& down) {
    const double exchange = diffusion * std::exp(share(random));
    up[c] = exchange + std::max(flow, 0.0);
    down[c] = exchange + std::max(-flow, 0.0);
    a.diagonal[low] += up[c];
    a.diagonal[c] += down[c];
  };
  const auto flow = [&](double eddy) {
    if (wind == Wind::random) return courant * share(random);
    return wind == Wind::through ? courant * std::abs(share(random)) : eddy;
  };
  for (int j = 0; j < a.ny; ++j)
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const std::size_t c = at((j * a.nz + k) * a.nx + i);
        if (i > 0) face(c, c - 1, flow(stream(i, k + 1) - stream(i, k)), a.up_x, a.down_x);
        if (j > 0) face(c, c - at(a.nx * a.nz), flow(0.0), a.up_y, a.down_y);
        if (k > 0) face(c, c - at(a.nx), flow(stream(i, k) - stream(i + 1, k)), a.up_z, a.down_z);
      }
  return a;
}

/// One node above the bed that takes what rises and returns a share, one that feeds the floor.
void add_nodes(TransportOperator& a, double strength) {
  a.nodes = 2;
  a.node_matrix = {1.0, 0.0, -0.3 * strength, 1.0 + 0.3 * strength};
  for (int j = 0; j < a.ny; ++j)
    for (int i = 0; i < a.nx; ++i) {
      const int top = (j * a.nz + a.nz - 1) * a.nx + i;
      const int floor = j * a.nz * a.nx + i;
      a.links.push_back({top, 0, 0.2 * strength, strength});
      a.diagonal[at(top)] += strength;
      a.node_matrix[0] += 0.2 * strength;
      a.links.push_back({floor, 1, strength, 0.1 * strength});
      a.diagonal[at(floor)] += 0.1 * strength;
      a.node_matrix[3] += strength;
    }
  a.node_matrix[0] += 0.3 * strength;
}

std::vector<double> random_vector(int n, unsigned seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> share(-1.0, 1.0);
  std::vector<double> v(at(n));
  for (double& value : v) value = share(random);
  return v;
}

std::vector<double> dense_solve(const TransportOperator& a, std::vector<double> b) {
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

double relative_residual(const TransportOperator& a, const std::vector<double>& b,
                         const std::vector<double>& v) {
  std::vector<double> y;
  apply(a, v, y);
  double res = 0.0, rhs = 0.0;
  for (std::size_t n = 0; n < b.size(); ++n) {
    res += (b[n] - y[n]) * (b[n] - y[n]);
    rhs += b[n] * b[n];
  }
  return std::sqrt(res / rhs);
}

TEST(TransportSolver, AgreesWithADenseSolve) {
  const Size sizes[] = {{6, 1, 9}, {7, 5, 4}, {1, 1, 8}, {1, 1, 1}, {5, 7, 1}, {1, 6, 5}, {4, 4, 4}};
  for (const Size& size : sizes)
    for (const Wind wind : {Wind::random, Wind::through, Wind::round})
      for (const double courant : {0.0, 1.0, 300.0})
        for (const bool with_nodes : {false, true}) {
          SCOPED_TRACE(testing::Message() << size.nx << " x " << size.ny << " x " << size.nz << " wind "
                                          << int(wind) << " courant " << courant << " nodes " << with_nodes);
          TransportOperator a = make(size, wind, courant, 0.5, 17);
          if (with_nodes) add_nodes(a, 0.3 * courant);
          const std::vector<double> b = random_vector(a.unknowns(), 19);
          std::vector<double> v(b.size(), 0.0);
          TransportSolver solver;
          solver.prepare(a);
          const SolveReport report = solver.solve(b, v, {1e-11, 0.0, 100});
          EXPECT_TRUE(report.converged);
          EXPECT_LE(relative_residual(a, b, v), 2e-11);
          const std::vector<double> exact = dense_solve(a, b);
          double scale = 0.0;
          for (const double value : exact) scale = std::max(scale, std::abs(value));
          for (std::size_t n = 0; n < v.size(); ++n)
            ASSERT_NEAR(v[n], exact[n], 1e-7 * scale) << "unknown " << n;
        }
}

TEST(TransportSolver, WorkHardlyGrowsWithTheCourantNumber) {
  for (const Wind wind : {Wind::through, Wind::round})
    for (const double courant : {1.0, 100.0, 1e4}) {
      SCOPED_TRACE(testing::Message() << "wind " << int(wind) << " courant " << courant);
      const TransportOperator a = make({20, 16, 18}, wind, courant, 0.1, 5);
      const std::vector<double> b = random_vector(a.unknowns(), 6);
      std::vector<double> v(b.size(), 0.0);
      TransportSolver solver;
      solver.prepare(a);
      const SolveReport report = solver.solve(b, v, {});
      EXPECT_TRUE(report.converged);
      EXPECT_LE(report.iterations, 40);
      EXPECT_LE(relative_residual(a, b, v), 2e-8);
    }
}

TEST(TransportSolver, SolvesMatricesThatAreDominantByRowsToo) {
  for (const Wind wind : {Wind::random, Wind::through, Wind::round})
    for (const double courant : {0.5, 20.0, 500.0}) {
      SCOPED_TRACE(testing::Message() << "wind " << int(wind) << " courant " << courant);
      TransportOperator a = make({12, 10, 14}, wind, courant, 2.0, 5);
      // The form of an equation for a temperature: what comes in stands on the diagonal.
      for (int c = 0; c < a.cells(); ++c) {
        const int i = c % a.nx, k = c / a.nx % a.nz, j = c / (a.nx * a.nz);
        double sum = 1.0 + a.up_x[at(c)] + a.up_y[at(c)] + a.up_z[at(c)];
        if (i + 1 < a.nx) sum += a.down_x[at(c + 1)];
        if (j + 1 < a.ny) sum += a.down_y[at(c + a.nx * a.nz)];
        if (k + 1 < a.nz) sum += a.down_z[at(c + a.nx)];
        a.diagonal[at(c)] = sum;
      }
      const std::vector<double> b = random_vector(a.unknowns(), 6);
      std::vector<double> v(b.size(), 0.0);
      TransportSolver solver;
      solver.prepare(a);
      const SolveReport report = solver.solve(b, v, {1e-10, 0.0, 60});
      EXPECT_TRUE(report.converged);
      EXPECT_LE(relative_residual(a, b, v), 1.1e-10);
      EXPECT_LE(report.iterations, 40);  // the closed eddy at 500 is the hardest: sweeps must take over
    }
}

TEST(TransportSolver, SurvivesADiagonalOfManyMagnitudes) {
  TransportOperator a = make({12, 9, 10}, Wind::random, 50.0, 0.2, 8);
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> power(-6.0, 6.0);
  for (double& value : a.diagonal) value += std::pow(10.0, power(random));
  const std::vector<double> b = random_vector(a.unknowns(), 6);
  std::vector<double> v(b.size(), 0.0);
  TransportSolver solver;
  solver.prepare(a);
  EXPECT_TRUE(solver.solve(b, v, {1e-10, 0.0, 60}).converged);
  EXPECT_LE(relative_residual(a, b, v), 2e-10);
}

TEST(TransportSolver, SeveralScalarsAtOnceAgreeWithOneByOne) {
  TransportOperator a = make({14, 6, 11}, Wind::round, 30.0, 0.5, 8);
  add_nodes(a, 4.0);
  std::vector<std::vector<double>> b, together, alone;
  std::vector<const std::vector<double>*> rhs;
  std::vector<std::vector<double>*> solution;
  for (unsigned s = 0; s < 3; ++s) {
    b.push_back(random_vector(a.unknowns(), 40 + s));
    for (double& value : b.back()) value *= std::pow(1000.0, s);
    together.emplace_back(b.back().size(), 0.0);
    alone.emplace_back(b.back().size(), 0.0);
  }
  b[1].assign(b[1].size(), 0.0);
  for (std::size_t s = 0; s < 3; ++s) {
    rhs.push_back(&b[s]);
    solution.push_back(&together[s]);
  }
  TransportSolver solver;
  solver.prepare(a);
  EXPECT_TRUE(solver.solve(rhs, solution, {1e-11, 0.0, 100}).converged);
  for (std::size_t s = 0; s < 3; ++s) {
    EXPECT_TRUE(solver.solve(b[s], alone[s], {1e-11, 0.0, 100}).converged);
    double scale = 0.0;
    for (const double value : alone[s]) scale = std::max(scale, std::abs(value));
    for (std::size_t n = 0; n < alone[s].size(); ++n) ASSERT_NEAR(together[s][n], alone[s][n], 1e-8 * scale);
  }
}

TEST(TransportSolver, SameBitsForAnyNumberOfThreads) {
  const int usual = omp_get_max_threads();
  for (const Size& size : {Size{11, 9, 12}, Size{33, 31, 30}}) {
    TransportOperator a = make(size, Wind::round, 40.0, 0.5, 9);
    add_nodes(a, 2.0);
    const std::vector<double> b = random_vector(a.unknowns(), 4);
    std::vector<double> reference;
    for (const int threads : {1, 2, 3, 7}) {
      omp_set_num_threads(threads);
      std::vector<double> v(b.size(), 0.0);
      TransportSolver solver;
      solver.prepare(a);
      ASSERT_TRUE(solver.solve(b, v, {}).converged);
      if (threads == 1) reference = v;
      for (std::size_t n = 0; n < v.size(); ++n) ASSERT_EQ(v[n], reference[n]) << threads << " threads";
    }
    omp_set_num_threads(usual);
  }
  EXPECT_GT(std::size_t{33 * 31 * 30}, parallel_threshold);
}

TEST(TransportSolver, OneSolverServesGridsOfAnyShapeInTurn) {
  TransportSolver kept;
  for (const Size& size : {Size{6, 1, 9}, Size{7, 5, 4}, Size{1, 6, 5}, Size{16, 8, 8}, Size{7, 5, 4}}) {
    TransportOperator a = make(size, Wind::round, 20.0, 0.5, 3);
    if (size.ny != 5) add_nodes(a, 2.0);
    const std::vector<double> b = random_vector(a.unknowns(), 11);
    std::vector<double> v(b.size(), 0.0), fresh_v(b.size(), 0.0);
    kept.prepare(a);
    ASSERT_TRUE(kept.solve(b, v, {}).converged);
    TransportSolver fresh;
    fresh.prepare(a);
    ASSERT_TRUE(fresh.solve(b, fresh_v, {}).converged);
    for (std::size_t n = 0; n < v.size(); ++n) ASSERT_EQ(v[n], fresh_v[n]) << "unknown " << n;
  }
}

TEST(TransportSolver, ReportsWhatItCouldNotReachAndStaysFinite) {
  TransportOperator a = make({8, 7, 6}, Wind::random, 1e4, 0.0, 8);
  a.diagonal.assign(a.diagonal.size(), 1e-3);  // far from an M-matrix: nothing promises that sweeps converge
  const std::vector<double> b = random_vector(a.unknowns(), 6);
  std::vector<double> v(b.size(), 0.0);
  TransportSolver solver;
  solver.prepare(a);
  const SolveReport report = solver.solve(b, v, {1e-12, 0.0, 3});
  EXPECT_FALSE(report.converged);
  for (const double value : v) ASSERT_TRUE(std::isfinite(value));
}

TEST(TransportSolver, ZeroRightHandSideAndAbsoluteStop) {
  const TransportOperator a = make({8, 7, 6}, Wind::through, 10.0, 0.5, 8);
  TransportSolver solver;
  std::vector<double> v = random_vector(a.unknowns(), 2);
  EXPECT_THROW(std::ignore = solver.solve(v, v, {}), std::invalid_argument);
  solver.prepare(a);
  EXPECT_EQ(solver.solve(std::vector<double>(v.size(), 0.0), v, {}).iterations, 0);
  for (const double value : v) EXPECT_EQ(value, 0.0);
  const std::vector<double> b = random_vector(a.unknowns(), 6);
  const SolveReport report = solver.solve(b, v, {1e-14, 1e-2, 100});
  EXPECT_TRUE(report.converged);
  std::vector<double> y;
  apply(a, v, y);
  for (std::size_t n = 0; n < y.size(); ++n) EXPECT_LE(std::abs(b[n] - y[n]), 1.0001e-2);
}

}  // namespace
}  // namespace updraught
