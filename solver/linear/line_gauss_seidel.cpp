#include "solver/linear/line_gauss_seidel.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"
#include "solver/linear/krylov.h"

namespace updraught {

namespace {

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  return ordered_sum(a.size(), [&](std::size_t n) { return a[n] * b[n]; });
}

double size_of(const std::vector<double>& a) {
  return std::sqrt(dot(a, a));
}

}  // namespace

void ColumnSweeps::prepare(const TransportOperator& a) {
  a_ = &a;
  factorise();
  sort_links();
  node_inverse_ = inverse_of(a.node_matrix, a.nodes);
  node_sum_.resize(at(a.nodes));
  for (auto* vector : {&r_, &shadow_, &p_, &t_, &v_, &y_, &z_}) vector->resize(at(a.unknowns()));
}

void ColumnSweeps::factorise() {
  const TransportOperator& a = *a_;
  inverse_.resize(at(a.cells()));
  for_rows(a.ny, at(a.cells()), [&](int j) {
    for (int k = 0; k < a.nz; ++k)
      for (int i = 0; i < a.nx; ++i) {
        const int c = (j * a.nz + k) * a.nx + i;
        const double below = k > 0 ? inverse_[at(c - a.nx)] : 0.0;
        const double pivot = a.diagonal[at(c)] - a.up_z[at(c)] * a.down_z[at(c)] * below;
        inverse_[at(c)] = pivot > 1e-14 * a.diagonal[at(c)] ? 1.0 / pivot : 0.0;
      }
  });
}

void ColumnSweeps::sort_links() {
  link_begin_.clear();
  link_order_.clear();
  if (a_->links.empty()) return;
  link_begin_.assign(at(a_->cells() + 1), 0);
  for (const TransportCoupling& link : a_->links) ++link_begin_[at(link.cell + 1)];
  for (int c = 0; c < a_->cells(); ++c) link_begin_[at(c + 1)] += link_begin_[at(c)];
  std::vector<std::size_t> next(link_begin_.begin(), link_begin_.end() - 1);
  link_order_.resize(a_->links.size());
  for (std::size_t l = 0; l < a_->links.size(); ++l) link_order_[next[at(a_->links[l].cell)]++] = l;
}

void ColumnSweeps::solve_column(const std::vector<double>& rhs, std::vector<double>& u, int i, int j) const {
  const TransportOperator& a = *a_;
  const int row = a.nx;
  const int slab = a.nx * a.nz;
  const int base = j * slab + i;
  double below = 0.0;
  for (int k = 0; k < a.nz; ++k) {
    const int c = base + k * row;
    double sum = rhs[at(c)] + a.up_z[at(c)] * below;
    if (i > 0) sum += a.up_x[at(c)] * u[at(c - 1)];
    if (i + 1 < a.nx) sum += a.down_x[at(c + 1)] * u[at(c + 1)];
    if (j > 0) sum += a.up_y[at(c)] * u[at(c - slab)];
    if (j + 1 < a.ny) sum += a.down_y[at(c + slab)] * u[at(c + slab)];
    if (!link_begin_.empty())
      for (std::size_t l = link_begin_[at(c)]; l < link_begin_[at(c + 1)]; ++l) {
        const TransportCoupling& link = a.links[link_order_[l]];
        sum += link.to_cell * u[at(a.cells() + link.node)];
      }
    below = inverse_[at(c)] * sum;
    u[at(c)] = below;
  }
  for (int k = a.nz - 2; k >= 0; --k) {
    const int c = base + k * row;
    u[at(c)] += inverse_[at(c)] * a.down_z[at(c + row)] * u[at(c + row)];
  }
}

void ColumnSweeps::solve_nodes(const std::vector<double>& rhs, std::vector<double>& u) {
  const int n = a_->nodes;
  const int cells = a_->cells();
  for (int i = 0; i < n; ++i) node_sum_[at(i)] = rhs[at(cells + i)];
  for (const TransportCoupling& link : a_->links) node_sum_[at(link.node)] += link.to_node * u[at(link.cell)];
  for (int i = 0; i < n; ++i) {
    double sum = 0.0;
    for (int m = 0; m < n; ++m) sum += node_inverse_[at(i * n + m)] * node_sum_[at(m)];
    u[at(cells + i)] = sum;
  }
}

/// u = M rhs: sweeps towards the four corners of the plan, so that the flow is followed whatever its
/// direction.
void ColumnSweeps::precondition(const std::vector<double>& rhs, std::vector<double>& u) {
  std::fill(u.begin(), u.end(), 0.0);
  const int nx = a_->nx;
  const int ny = a_->ny;
  const int turns = ny > 1 ? 2 : 1;
  for (int turn = 0; turn < turns; ++turn)
    for (const bool back : {false, true}) {
      solve_nodes(rhs, u);
      for (int n = 0; n < ny; ++n) {
        const int j = back ? ny - 1 - n : n;
        for (int m = 0; m < nx; ++m) solve_column(rhs, u, back == (turn == 1) ? m : nx - 1 - m, j);
      }
    }
  solve_nodes(rhs, u);
}

bool ColumnSweeps::reached(double goal, const StoppingCriterion& rule) const {
  if (size_of(r_) <= goal) return true;
  double most = 0.0;
  for (const double value : r_) most = std::max(most, std::abs(value));
  return rule.absolute > 0.0 && most <= rule.absolute;
}

void ColumnSweeps::solve(const std::vector<double>& b, std::vector<double>& x, double goal,
                         const StoppingCriterion& rule, SolveReport& report) {
  const std::size_t count = b.size();
  apply(*a_, x, r_);
  for (std::size_t n = 0; n < count; ++n) r_[n] = b[n] - r_[n];
  shadow_ = r_;
  p_ = r_;
  double rho = dot(shadow_, r_);
  while (report.iterations < rule.most_iterations && !reached(goal, rule)) {
    ++report.iterations;
    precondition(p_, y_);
    apply(*a_, y_, v_);
    const double along = dot(shadow_, v_);
    if (!std::isfinite(along) || along == 0.0) return;
    const double alpha = rho / along;
    for (std::size_t n = 0; n < count; ++n) r_[n] -= alpha * v_[n];
    precondition(r_, z_);
    apply(*a_, z_, t_);
    const double square = dot(t_, t_);
    const double omega = square > 0.0 ? dot(t_, r_) / square : 0.0;
    for (std::size_t n = 0; n < count; ++n) r_[n] -= omega * t_[n];
    if (!std::isfinite(size_of(r_)) || !std::isfinite(omega)) return;
    for (std::size_t n = 0; n < count; ++n) x[n] += alpha * y_[n] + omega * z_[n];
    const double next = dot(shadow_, r_);
    if (omega == 0.0 || std::abs(next) < 1e-14 * size_of(shadow_) * size_of(r_)) return;
    const double beta = next / rho * (alpha / omega);
    rho = next;
    for (std::size_t n = 0; n < count; ++n) p_[n] = r_[n] + beta * (p_[n] - omega * v_[n]);
  }
}

double ColumnSweeps::bytes() const {
  return double(sizeof(double)) * (double(inverse_.size()) + 7.0 * double(r_.size())) +
         double(sizeof(std::size_t)) * double(link_begin_.size() + link_order_.size());
}

}  // namespace updraught
