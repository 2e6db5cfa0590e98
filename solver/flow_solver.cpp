#include "solver/flow_solver.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>

#include "mesh/rows.h"

namespace updraught {

namespace {

std::size_t at(int n) {
  return static_cast<std::size_t>(n);
}

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  return ordered_sum(a.size(), [&](std::size_t n) { return a[n] * b[n]; });
}

double largest(const std::vector<double>& a) {
  double most = 0.0;
  for (const double value : a) most = std::max(most, std::abs(value));
  return most;
}

/// One level of the hierarchy, in single precision. Vectors u (correction) and f (right-hand side).
struct Level {
  int nx = 0, ny = 0, nz = 0;
  std::vector<float> x, y, z, robin;
  std::vector<float> inverse;  ///< inverse pivots of the columns' tridiagonal systems
  std::vector<float> u, f;

  int cells() const { return nx * ny * nz; }
  int slab() const { return nx * nz; }
};

void resize(Level& level, int nx, int ny, int nz) {
  level.nx = nx;
  level.ny = ny;
  level.nz = nz;
  const std::size_t n = at(level.cells());
  for (auto* field : {&level.x, &level.y, &level.z, &level.robin, &level.inverse, &level.u, &level.f})
    field->assign(n, 0.0F);
}

void factorise(Level& a) {
  for_rows(a.ny, at(a.cells()), [&](int j) {
    for (int i = 0; i < a.nx; ++i) {
      double below = 0.0;  // inverse pivot of the cell below
      for (int k = 0; k < a.nz; ++k) {
        const int c = (j * a.nz + k) * a.nx + i;
        double diagonal =
            double(a.robin[at(c)]) + double(a.x[at(c)]) + double(a.y[at(c)]) + double(a.z[at(c)]);
        if (i + 1 < a.nx) diagonal += double(a.x[at(c + 1)]);
        if (j + 1 < a.ny) diagonal += double(a.y[at(c + a.slab())]);
        if (k + 1 < a.nz) diagonal += double(a.z[at(c + a.nx)]);
        const double pivot = diagonal - double(a.z[at(c)]) * double(a.z[at(c)]) * below;
        below = pivot > 1e-7 * diagonal ? 1.0 / pivot : 0.0;
        a.inverse[at(c)] = static_cast<float>(below);
      }
    }
  });
}

/// Sum of what the plan neighbours of cell c send to it.
float plan_inflow(const Level& a, int i, int j, int c) {
  float sum = 0.0F;
  if (i > 0) sum += a.x[at(c)] * a.u[at(c - 1)];
  if (i + 1 < a.nx) sum += a.x[at(c + 1)] * a.u[at(c + 1)];
  if (j > 0) sum += a.y[at(c)] * a.u[at(c - a.slab())];
  if (j + 1 < a.ny) sum += a.y[at(c + a.slab())] * a.u[at(c + a.slab())];
  return sum;
}

/// Solves the columns of one colour exactly with the values of the other colour.
void relax(Level& a, int colour) {
  for_rows(a.ny, at(a.cells()), [&](int j) {
    const int first = (j + colour) & 1;
    for (int k = 0; k < a.nz; ++k)
      for (int i = first; i < a.nx; i += 2) {
        const int c = (j * a.nz + k) * a.nx + i;
        float rhs = a.f[at(c)] + plan_inflow(a, i, j, c);
        if (k > 0) rhs += a.z[at(c)] * a.u[at(c - a.nx)];
        a.u[at(c)] = a.inverse[at(c)] * rhs;
      }
    for (int k = a.nz - 2; k >= 0; --k)
      for (int i = first; i < a.nx; i += 2) {
        const int c = (j * a.nz + k) * a.nx + i;
        a.u[at(c)] += a.inverse[at(c)] * a.z[at(c + a.nx)] * a.u[at(c + a.nx)];
      }
  });
}

void coarsen(const Level& fine, Level& coarse) {
  const int step_x = fine.nx > 1 ? 2 : 1;
  const int step_y = fine.ny > 1 ? 2 : 1;
  resize(coarse, (fine.nx + step_x - 1) / step_x, (fine.ny + step_y - 1) / step_y, fine.nz);
  for (int j = 0; j < fine.ny; ++j)
    for (int k = 0; k < fine.nz; ++k)
      for (int i = 0; i < fine.nx; ++i) {
        const std::size_t c = at((j * fine.nz + k) * fine.nx + i);
        const std::size_t big = at(((j / step_y) * coarse.nz + k) * coarse.nx + i / step_x);
        // A coarse face lies twice as far from the centres as the fine faces that it is made of.
        if (i % step_x == 0) coarse.x[big] += 0.5F * fine.x[c];
        if (j % step_y == 0) coarse.y[big] += 0.5F * fine.y[c];
        coarse.z[big] += fine.z[c];
        coarse.robin[big] += fine.robin[c];
      }
}

/// After a red and a black sweep from zero only the red columns have a residual: what black sends to them.
void restrict_residual(const Level& fine, Level& coarse) {
  const int step_x = fine.nx > 1 ? 2 : 1;
  const int step_y = fine.ny > 1 ? 2 : 1;
  for_rows(coarse.ny, at(fine.cells()), [&](int big_j) {
    std::fill_n(coarse.f.begin() + big_j * coarse.slab(), coarse.slab(), 0.0F);
    std::fill_n(coarse.u.begin() + big_j * coarse.slab(), coarse.slab(), 0.0F);
    for (int j = big_j * step_y; j < std::min(fine.ny, (big_j + 1) * step_y); ++j)
      for (int k = 0; k < fine.nz; ++k)
        for (int i = j & 1; i < fine.nx; i += 2) {
          const int c = (j * fine.nz + k) * fine.nx + i;
          coarse.f[at((big_j * coarse.nz + k) * coarse.nx + i / step_x)] += plan_inflow(fine, i, j, c);
        }
  });
}

void add_correction(const Level& coarse, Level& fine) {
  const int step_x = fine.nx > 1 ? 2 : 1;
  const int step_y = fine.ny > 1 ? 2 : 1;
  for_rows(fine.ny, at(fine.cells()), [&](int j) {
    for (int k = 0; k < fine.nz; ++k)
      for (int i = 0; i < fine.nx; ++i)
        fine.u[at((j * fine.nz + k) * fine.nx + i)] +=
            coarse.u[at(((j / step_y) * coarse.nz + k) * coarse.nx + i / step_x)];
  });
}

}  // namespace

struct FlowSolver::Work {
  const FlowOperator* a = nullptr;
  std::vector<Level> levels;
  std::vector<double> node_inverse;
  std::vector<double> r, z, p, q, rhs;
  std::vector<char> open;  ///< 1 where the unknown has any coefficient
  double open_count = 0.0;
  bool floating = false;  ///< nothing is tied to a fixed potential
  double setup_seconds = 0.0;

  /// z = M r with one V(1,1) cycle from zero; symmetric: red, black down and black, red up.
  void cycle() {
    const int cells = a->cells();
    Level& top = levels[0];
    for_rows(a->ny, at(cells), [&](int j) {
      for (int c = j * top.slab(); c < (j + 1) * top.slab(); ++c) {
        top.f[at(c)] = static_cast<float>(r[at(c)]);
        top.u[at(c)] = 0.0F;
      }
    });
    for (std::size_t l = 0; l + 1 < levels.size(); ++l) {
      relax(levels[l], 0);
      relax(levels[l], 1);
      restrict_residual(levels[l], levels[l + 1]);
    }
    relax(levels.back(), 0);
    for (std::size_t l = levels.size() - 1; l-- > 0;) {
      add_correction(levels[l + 1], levels[l]);
      relax(levels[l], 1);
      relax(levels[l], 0);
    }
    for_rows(a->ny, at(cells), [&](int j) {
      for (int c = j * top.slab(); c < (j + 1) * top.slab(); ++c) z[at(c)] = double(top.u[at(c)]);
    });
    for (int n = 0; n < a->nodes; ++n) z[at(cells + n)] = node_inverse[at(n)] * r[at(cells + n)];
    if (floating) remove_mean(z);
  }

  void find_constant() {
    const FlowOperator& m = *a;
    const int cells = m.cells();
    open.assign(at(m.unknowns()), 0);
    floating = true;
    const auto join = [&](int c, int other, double conductance) {
      if (conductance > 0.0) open[at(c)] = open[at(other)] = 1;
    };
    for (int c = 0; c < cells; ++c) {
      if (m.x[at(c)] > 0.0) join(c, c - 1, m.x[at(c)]);
      if (m.y[at(c)] > 0.0) join(c, c - m.nx * m.nz, m.y[at(c)]);
      if (m.z[at(c)] > 0.0) join(c, c - m.nx, m.z[at(c)]);
      if (m.robin[at(c)] > 0.0) {
        open[at(c)] = 1;
        floating = false;
      }
    }
    for (const Link& link : m.links) join(link.cell, cells + link.node, link.conductance);
    for (int i = 0; i < m.nodes; ++i) {
      double row = 0.0;
      for (int j = 0; j < m.nodes; ++j) row += m.node_matrix[at(i * m.nodes + j)];
      const double diagonal = m.node_matrix[at(i * m.nodes + i)];
      if (diagonal > 0.0) open[at(cells + i)] = 1;
      if (row > 1e-12 * diagonal) floating = false;
    }
    open_count = 0.0;
    for (const char is_open : open) open_count += is_open;
  }

  void remove_mean(std::vector<double>& v) const {
    if (open_count == 0.0) return;
    const double mean =
        ordered_sum(v.size(), [&](std::size_t n) { return open[n] ? v[n] : 0.0; }) / open_count;
    for (std::size_t n = 0; n < v.size(); ++n)
      if (open[n]) v[n] -= mean;
  }
};

FlowSolver::FlowSolver() : work_(std::make_unique<Work>()) {}
FlowSolver::~FlowSolver() = default;
FlowSolver::FlowSolver(FlowSolver&&) noexcept = default;
FlowSolver& FlowSolver::operator=(FlowSolver&&) noexcept = default;

void FlowSolver::prepare(const FlowOperator& a) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  w.a = &a;
  const std::size_t cells = at(a.cells());
  if (w.levels.empty()) w.levels.resize(1);
  resize(w.levels[0], a.nx, a.ny, a.nz);
  Level& top = w.levels[0];
  for (std::size_t c = 0; c < cells; ++c) {
    top.x[c] = static_cast<float>(a.x[c]);
    top.y[c] = static_cast<float>(a.y[c]);
    top.z[c] = static_cast<float>(a.z[c]);
    top.robin[c] = static_cast<float>(a.robin[c]);
  }
  std::vector<double> node_diagonal(at(a.nodes));
  for (int n = 0; n < a.nodes; ++n) node_diagonal[at(n)] = a.node_matrix[at(n * a.nodes + n)];
  for (const Link& link : a.links) {
    top.robin[at(link.cell)] += static_cast<float>(link.conductance);
    node_diagonal[at(link.node)] += link.conductance;
  }
  w.node_inverse.assign(at(a.nodes), 0.0);
  for (int n = 0; n < a.nodes; ++n)
    if (node_diagonal[at(n)] > 0.0) w.node_inverse[at(n)] = 1.0 / node_diagonal[at(n)];

  std::size_t depth = 1;
  while (w.levels[depth - 1].nx > 1 || w.levels[depth - 1].ny > 1) {
    if (w.levels.size() == depth) w.levels.emplace_back();
    coarsen(w.levels[depth - 1], w.levels[depth]);
    ++depth;
  }
  w.levels.resize(depth);
  for (Level& level : w.levels) factorise(level);
  w.find_constant();
  for (auto* v : {&w.r, &w.z, &w.p, &w.q, &w.rhs}) v->resize(at(a.unknowns()));
  w.setup_seconds = seconds_since(start);
}

SolveReport FlowSolver::solve(const std::vector<double>& b, std::vector<double>& p, const StopRule& rule) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  if (w.a == nullptr)
    throw std::invalid_argument("the flow solve was called before its operator was prepared");
  const FlowOperator& a = *w.a;
  const std::size_t n = at(a.unknowns());
  if (b.size() != n || p.size() != n)
    throw std::invalid_argument("the flow solve got vectors of a wrong size");
  SolveReport report;
  report.setup_seconds = w.setup_seconds;

  w.rhs = b;
  for (std::size_t c = 0; c < n; ++c)
    if (!w.open[c]) w.rhs[c] = p[c] = 0.0;
  if (w.floating) w.remove_mean(w.rhs);
  const double norm_b = std::sqrt(dot(w.rhs, w.rhs));
  const double goal = rule.relative * norm_b;
  if (norm_b == 0.0) {
    std::fill(p.begin(), p.end(), 0.0);
    report.converged = true;
    report.solve_seconds = seconds_since(start);
    return report;
  }
  apply(a, p, w.q);
  for (std::size_t c = 0; c < n; ++c) w.r[c] = w.rhs[c] - w.q[c];
  const double first = std::sqrt(dot(w.r, w.r));
  double norm = first;
  const auto reached = [&] { return norm <= goal || (rule.absolute > 0.0 && largest(w.r) <= rule.absolute); };
  double before = 0.0;
  report.converged = reached();
  while (!report.converged && report.iterations < rule.most_iterations) {
    w.cycle();
    const double rz = dot(w.r, w.z);
    const double beta = report.iterations == 0 ? 0.0 : rz / before;
    before = rz;
    for (std::size_t c = 0; c < n; ++c) w.p[c] = w.z[c] + (report.iterations == 0 ? 0.0 : beta * w.p[c]);
    apply(a, w.p, w.q);
    const double curvature = dot(w.p, w.q);
    if (!(curvature > 0.0)) break;
    const double step = rz / curvature;
    for (std::size_t c = 0; c < n; ++c) {
      p[c] += step * w.p[c];
      w.r[c] -= step * w.q[c];
    }
    ++report.iterations;
    norm = std::sqrt(dot(w.r, w.r));
    report.converged = reached();
  }
  if (w.floating) w.remove_mean(p);
  report.residual = norm / norm_b;
  if (report.iterations > 0) report.factor = std::pow(norm / first, 1.0 / report.iterations);
  report.solve_seconds = seconds_since(start);
  return report;
}

double FlowSolver::bytes() const {
  const Work& w = *work_;
  double sum = 0.0;
  for (const Level& level : w.levels) sum += 7.0 * sizeof(float) * double(level.x.size());
  return sum + sizeof(double) * double(w.r.size() + w.z.size() + w.p.size() + w.q.size() + w.rhs.size()) +
         double(w.open.size());
}

}  // namespace updraught
