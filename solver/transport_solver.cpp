#include "solver/transport_solver.h"

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

double norm(const std::vector<double>& a) {
  return std::sqrt(dot(a, a));
}

double largest(const std::vector<double>& a) {
  double most = 0.0;
  for (const double value : a) most = std::max(most, std::abs(value));
  return most;
}

}  // namespace

struct TransportSolver::Work {
  const TransportOperator* a = nullptr;
  std::vector<double> inverse;       ///< inverse pivots of the columns' tridiagonal systems
  std::vector<double> node_inverse;  ///< inverse of the node matrix, row by row
  std::vector<int> link_begin;       ///< first link of each cell in `link_order`; empty without nodes
  std::vector<int> link_order;
  std::vector<double> r, shadow, p, s, t, v, y, z, best;
  std::vector<double> column, node_sum;
  double setup_seconds = 0.0;

  void factorise();
  void invert_nodes();
  void sort_links();
  void solve_column(const std::vector<double>& rhs, std::vector<double>& u, int i, int j);
  void solve_nodes(const std::vector<double>& rhs, std::vector<double>& u);
  void precondition(const std::vector<double>& rhs, std::vector<double>& u);
  void residual(const std::vector<double>& b, const std::vector<double>& x);
  bool reached(const std::vector<double>& residual, double norm_b, const StopRule& rule) const;
  void krylov(const std::vector<double>& b, std::vector<double>& x, double norm_b, const StopRule& rule,
              SolveReport& report);
  void sweep_on(const std::vector<double>& b, std::vector<double>& x, double norm_b, const StopRule& rule,
                SolveReport& report);
};

void TransportSolver::Work::factorise() {
  const TransportOperator& m = *a;
  inverse.resize(at(m.cells()));
  for_rows(m.ny, at(m.cells()), [&](int j) {
    for (int k = 0; k < m.nz; ++k)
      for (int i = 0; i < m.nx; ++i) {
        const int c = (j * m.nz + k) * m.nx + i;
        const double below = k > 0 ? inverse[at(c - m.nx)] : 0.0;
        const double pivot = m.diagonal[at(c)] - m.up_z[at(c)] * m.down_z[at(c)] * below;
        inverse[at(c)] = pivot > 1e-14 * m.diagonal[at(c)] ? 1.0 / pivot : 0.0;
      }
  });
}

void TransportSolver::Work::sort_links() {
  link_begin.clear();
  link_order.clear();
  if (a->links.empty()) return;
  link_begin.assign(at(a->cells() + 1), 0);
  for (const TransportLink& link : a->links) ++link_begin[at(link.cell + 1)];
  for (int c = 0; c < a->cells(); ++c) link_begin[at(c + 1)] += link_begin[at(c)];
  std::vector<int> next(link_begin.begin(), link_begin.end() - 1);
  link_order.resize(a->links.size());
  for (std::size_t l = 0; l < a->links.size(); ++l) link_order[at(next[at(a->links[l].cell)]++)] = int(l);
}

/// Gauss-Jordan with row exchange; a node without any exchange keeps 0.
void TransportSolver::Work::invert_nodes() {
  const int n = a->nodes;
  std::vector<double> m = a->node_matrix;
  node_inverse.assign(at(n * n), 0.0);
  for (int i = 0; i < n; ++i) node_inverse[at(i * n + i)] = 1.0;
  for (int i = 0; i < n; ++i) {
    int pivot_row = i;
    for (int r_ = i + 1; r_ < n; ++r_)
      if (std::abs(m[at(r_ * n + i)]) > std::abs(m[at(pivot_row * n + i)])) pivot_row = r_;
    const double pivot = m[at(pivot_row * n + i)];
    for (int c = 0; c < n; ++c) {
      std::swap(m[at(pivot_row * n + c)], m[at(i * n + c)]);
      std::swap(node_inverse[at(pivot_row * n + c)], node_inverse[at(i * n + c)]);
    }
    const double scale = pivot != 0.0 ? 1.0 / pivot : 0.0;
    for (int c = 0; c < n; ++c) {
      m[at(i * n + c)] *= scale;
      node_inverse[at(i * n + c)] *= scale;
    }
    for (int r_ = 0; r_ < n; ++r_) {
      const double share = m[at(r_ * n + i)];
      if (r_ == i || share == 0.0) continue;
      for (int c = 0; c < n; ++c) {
        m[at(r_ * n + c)] -= share * m[at(i * n + c)];
        node_inverse[at(r_ * n + c)] -= share * node_inverse[at(i * n + c)];
      }
    }
  }
}

void TransportSolver::Work::solve_column(const std::vector<double>& rhs, std::vector<double>& u, int i,
                                         int j) {
  const TransportOperator& m = *a;
  const int row = m.nx;
  const int slab = m.nx * m.nz;
  const int base = j * slab + i;
  double below = 0.0;
  for (int k = 0; k < m.nz; ++k) {
    const int c = base + k * row;
    double sum = rhs[at(c)] + m.up_z[at(c)] * below;
    if (i > 0) sum += m.up_x[at(c)] * u[at(c - 1)];
    if (i + 1 < m.nx) sum += m.down_x[at(c + 1)] * u[at(c + 1)];
    if (j > 0) sum += m.up_y[at(c)] * u[at(c - slab)];
    if (j + 1 < m.ny) sum += m.down_y[at(c + slab)] * u[at(c + slab)];
    if (!link_begin.empty())
      for (int l = link_begin[at(c)]; l < link_begin[at(c + 1)]; ++l) {
        const TransportLink& link = m.links[at(link_order[at(l)])];
        sum += link.to_cell * u[at(m.cells() + link.node)];
      }
    below = inverse[at(c)] * sum;
    u[at(c)] = below;
  }
  for (int k = m.nz - 2; k >= 0; --k) {
    const int c = base + k * row;
    u[at(c)] += inverse[at(c)] * m.down_z[at(c + row)] * u[at(c + row)];
  }
}

void TransportSolver::Work::solve_nodes(const std::vector<double>& rhs, std::vector<double>& u) {
  const int n = a->nodes;
  const int cells = a->cells();
  for (int i = 0; i < n; ++i) node_sum[at(i)] = rhs[at(cells + i)];
  for (const TransportLink& link : a->links) node_sum[at(link.node)] += link.to_node * u[at(link.cell)];
  for (int i = 0; i < n; ++i) {
    double sum = 0.0;
    for (int k = 0; k < n; ++k) sum += node_inverse[at(i * n + k)] * node_sum[at(k)];
    u[at(cells + i)] = sum;
  }
}

/// u = M rhs: four sweeps over whole columns, so that the flow is followed whatever its direction in plan.
void TransportSolver::Work::precondition(const std::vector<double>& rhs, std::vector<double>& u) {
  const TransportOperator& m = *a;
  std::fill(u.begin(), u.end(), 0.0);
  const int turns = m.ny > 1 ? 2 : 1;
  for (int turn = 0; turn < turns; ++turn)
    for (int back = 0; back < 2; ++back) {
      solve_nodes(rhs, u);
      for (int n = 0; n < m.ny; ++n) {
        const int j = back == 0 ? n : m.ny - 1 - n;
        for (int l = 0; l < m.nx; ++l) solve_column(rhs, u, (back == 0) == (turn == 0) ? l : m.nx - 1 - l, j);
      }
    }
  solve_nodes(rhs, u);
}

void TransportSolver::Work::residual(const std::vector<double>& b, const std::vector<double>& x) {
  apply(*a, x, r);
  for (std::size_t n = 0; n < r.size(); ++n) r[n] = b[n] - r[n];
}

bool TransportSolver::Work::reached(const std::vector<double>& res, double norm_b,
                                    const StopRule& rule) const {
  return norm(res) <= rule.relative * norm_b || (rule.absolute > 0.0 && largest(res) <= rule.absolute);
}

/// Bi-conjugate gradients, stabilised (van der Vorst 1992, from memory), preconditioned from the right.
/// Returns early on breakdown; x then holds the last good iterate.
void TransportSolver::Work::krylov(const std::vector<double>& b, std::vector<double>& x, double norm_b,
                                   const StopRule& rule, SolveReport& report) {
  const std::size_t n = b.size();
  residual(b, x);
  shadow = r;
  double rho = dot(shadow, r);
  p = r;
  while (report.iterations < rule.most_iterations) {
    ++report.iterations;
    precondition(p, y);
    apply(*a, y, v);
    const double denominator = dot(shadow, v);
    if (!std::isfinite(denominator) || denominator == 0.0) return;
    const double alpha = rho / denominator;
    for (std::size_t c = 0; c < n; ++c) s[c] = r[c] - alpha * v[c];
    precondition(s, z);
    apply(*a, z, t);
    const double tt = dot(t, t);
    const double omega = tt > 0.0 ? dot(t, s) / tt : 0.0;
    for (std::size_t c = 0; c < n; ++c) r[c] = s[c] - omega * t[c];
    if (!std::isfinite(alpha) || !std::isfinite(omega) || !std::isfinite(norm(r))) return;
    for (std::size_t c = 0; c < n; ++c) x[c] += alpha * y[c] + omega * z[c];
    if (reached(r, norm_b, rule)) return;
    const double rho_next = dot(shadow, r);
    if (omega == 0.0 || std::abs(rho_next) < 1e-14 * norm(shadow) * norm(r)) return;
    const double beta = rho_next / rho * (alpha / omega);
    rho = rho_next;
    for (std::size_t c = 0; c < n; ++c) p[c] = r[c] + beta * (p[c] - omega * v[c]);
  }
}

/// The stationary iteration x += M (b - A x), for as long as it helps.
void TransportSolver::Work::sweep_on(const std::vector<double>& b, std::vector<double>& x, double norm_b,
                                     const StopRule& rule, SolveReport& report) {
  residual(b, x);
  double before = norm(r);
  while (report.iterations < rule.most_iterations && !reached(r, norm_b, rule)) {
    ++report.iterations;
    precondition(r, y);
    best = x;
    for (std::size_t c = 0; c < x.size(); ++c) x[c] += y[c];
    residual(b, x);
    const double now = norm(r);
    if (!(now < before)) {
      x = best;
      residual(b, x);
      return;
    }
    before = now;
  }
}

TransportSolver::TransportSolver() : work_(std::make_unique<Work>()) {}
TransportSolver::~TransportSolver() = default;
TransportSolver::TransportSolver(TransportSolver&&) noexcept = default;
TransportSolver& TransportSolver::operator=(TransportSolver&&) noexcept = default;

void TransportSolver::prepare(const TransportOperator& a) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  w.a = &a;
  w.factorise();
  w.invert_nodes();
  w.sort_links();
  const std::size_t n = at(a.unknowns());
  for (auto* field : {&w.r, &w.shadow, &w.p, &w.s, &w.t, &w.v, &w.y, &w.z, &w.best}) field->resize(n);
  w.node_sum.resize(at(a.nodes));
  w.setup_seconds = seconds_since(start);
}

SolveReport TransportSolver::solve(const std::vector<double>& b, std::vector<double>& v,
                                   const StopRule& rule) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  if (w.a == nullptr)
    throw std::invalid_argument("the transport solve was called before its operator was prepared");
  const std::size_t n = at(w.a->unknowns());
  if (b.size() != n || v.size() != n)
    throw std::invalid_argument("the transport solve got vectors of a wrong size");
  SolveReport report;
  report.setup_seconds = w.setup_seconds;
  const double norm_b = norm(b);
  if (norm_b == 0.0) {
    std::fill(v.begin(), v.end(), 0.0);
    report.converged = true;
    return report;
  }
  w.residual(b, v);
  const double first = norm(w.r);
  double last = first;
  report.converged = w.reached(w.r, norm_b, rule);
  while (!report.converged && report.iterations < rule.most_iterations) {
    w.best = v;
    w.krylov(b, v, norm_b, rule, report);
    w.residual(b, v);
    const double now = norm(w.r);
    report.converged = w.reached(w.r, norm_b, rule);
    if (!report.converged &&
        !(now < 0.5 * last)) {  // the Krylov space broke down: sweep from the better of the two
      if (!(now < last)) v = w.best;
      const int before = report.iterations;
      w.sweep_on(b, v, norm_b, rule, report);
      report.converged = w.reached(w.r, norm_b, rule);
      if (!report.converged && report.iterations - before < 2) break;
    }
    last = norm(w.r);
  }
  last = norm(w.r);
  report.residual = last / norm_b;
  if (report.iterations > 0 && first > 0.0) report.factor = std::pow(last / first, 1.0 / report.iterations);
  report.solve_seconds = seconds_since(start);
  return report;
}

SolveReport TransportSolver::solve(const std::vector<const std::vector<double>*>& b,
                                   const std::vector<std::vector<double>*>& v, const StopRule& rule) {
  if (b.size() != v.size())
    throw std::invalid_argument("the transport solve needs one solution per right-hand side");
  SolveReport all;
  all.converged = true;
  for (std::size_t s = 0; s < b.size(); ++s) {
    const SolveReport one = solve(*b[s], *v[s], rule);
    all.iterations = std::max(all.iterations, one.iterations);
    all.factor = std::max(all.factor, one.factor);
    all.residual = std::max(all.residual, one.residual);
    all.converged = all.converged && one.converged;
    all.setup_seconds = one.setup_seconds;
    all.solve_seconds += one.solve_seconds;
  }
  return all;
}

double TransportSolver::bytes() const {
  const Work& w = *work_;
  return sizeof(double) *
             (double(w.inverse.size()) + 9.0 * double(w.r.size()) + double(w.node_inverse.size())) +
         sizeof(int) * double(w.link_begin.size() + w.link_order.size());
}

}  // namespace updraught
