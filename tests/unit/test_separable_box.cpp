// A box whose conductances are products, solved directly, against the solver for any conductances.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "mesh/parallel/index.h"
#include "solver/linear/flow_solver.h"
#include "solver/linear/separable_box.h"

namespace updraught {
namespace {

int count(const BoxLine& line) {
  return static_cast<int>(line.widths.size());
}

/// Widths from 1 to 20 mm; ends are closed or lead a cell further.
BoxLine random_line(int cells, bool closed_low, bool closed_high, std::mt19937_64& random) {
  std::uniform_real_distribution<double> width(0.001, 0.02);
  BoxLine line;
  for (int n = 0; n < cells; ++n) line.widths.push_back(width(random));
  line.links.push_back(closed_low ? 0.0 : 1.0 / width(random));
  for (int n = 1; n < cells; ++n) line.links.push_back(2.0 / (line.widths[at(n - 1)] + line.widths[at(n)]));
  line.links.push_back(closed_high ? 0.0 : 1.0 / width(random));
  return line;
}

/// The first layer of n by multigrid: u along x, n along y, v along z.
std::vector<double> by_multigrid(const BoxLine& u, const BoxLine& v, const BoxLine& n,
                                 const std::vector<double>& sources) {
  FlowOperator a;
  a.nx = count(u);
  a.ny = count(n);
  a.nz = count(v);
  for (auto* field : {&a.x, &a.y, &a.z, &a.robin}) field->assign(at(a.cells()), 0.0);
  const auto ends = [](const BoxLine& line, int cell) {
    return (cell == 0 ? line.links.front() : 0.0) + (cell + 1 == count(line) ? line.links.back() : 0.0);
  };
  for (int j = 0; j < a.ny; ++j)
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const std::size_t c = at((j * a.nz + k) * a.nx + i);
        const double across_u = v.widths[at(k)] * n.widths[at(j)],
                     across_v = u.widths[at(i)] * n.widths[at(j)],
                     across_n = u.widths[at(i)] * v.widths[at(k)];
        if (i > 0) a.x[c] = across_u * u.links[at(i)];
        if (j > 0) a.y[c] = across_n * n.links[at(j)];
        if (k > 0) a.z[c] = across_v * v.links[at(k)];
        a.robin[c] = across_u * ends(u, i) + across_v * ends(v, k) + across_n * ends(n, j);
      }
  FlowSolver solver;
  solver.prepare(a);
  std::vector<double> found(sources.size(), 0.0);
  EXPECT_LT(solver.solve(sources, found, {1e-13, 0.0, 400}).residual, 1e-12);
  found.resize(at(a.nx * a.nz));
  return found;
}

TEST(SeparableBox, FindsWhatMultigridFinds) {
  std::mt19937_64 random(7);
  std::normal_distribution<double> source(0.0, 1.0);
  struct Shape {
    int u, v, n;
    bool low, high;
  };
  for (const Shape& s : {Shape{9, 12, 6, false, false}, Shape{5, 14, 8, true, false},
                         Shape{13, 3, 1, true, true}, Shape{1, 11, 7, true, true}}) {
    const BoxLine u = random_line(s.u, s.u == 1 || s.low, s.u == 1 || s.high, random);
    const BoxLine v = random_line(s.v, s.high, s.low, random);
    const BoxLine n = random_line(s.n, true, false, random);
    std::vector<double> sources(at(s.u * s.v * s.n));
    for (double& one : sources) one = source(random);
    const std::vector<double> expected = by_multigrid(u, v, n, sources);
    const std::vector<double> found = SeparableBox(u, v, n).first_layer(sources);
    ASSERT_EQ(found.size(), expected.size());
    double largest = 0.0;
    for (const double one : expected) largest = std::max(largest, std::abs(one));
    for (std::size_t c = 0; c < found.size(); ++c)
      EXPECT_NEAR(found[c], expected[c], 1e-10 * largest) << s.u << " x " << s.v << " x " << s.n << ", " << c;
  }
}

TEST(SeparableBox, RefusesWidthsThatAreNoNumbers) {
  std::mt19937_64 random(7);
  const BoxLine line = random_line(4, true, false, random);
  BoxLine broken = line;
  broken.widths[2] = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(SeparableBox(line, broken, line), std::invalid_argument);
}

}  // namespace
}  // namespace updraught
