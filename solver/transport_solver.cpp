#include "solver/transport_solver.h"

#include <omp.h>

#include <algorithm>
#include <stdexcept>

#include "solver/krylov.h"
#include "solver/krylov_sweeps.h"
#include "solver/multigrid.h"

namespace updraught {

namespace {

/// Iterations after which multigrid must have gained two digits (our choice: where it works it needs 2 to 5).
constexpr int patience = 12;

}  // namespace

struct TransportSolver::Work {
  bool ready = false;
  ReducedSystem system;
  ColumnMultigrid multigrid;
  SlabLoop loop;
  KeptVector x, r, shadow, p, v, t, y, z;
  KeptVector kept;  ///< the iterate that a start began with
  RoughVector rough;
  const TransportOperator* a = nullptr;
  ColumnSweeps sweeps;  ///< prepared when first needed
  double setup_seconds = 0.0;

  bool reached(double two, const KeptVector& residual, double goal, const StopRule& rule) const;
  void precondition(const KeptVector& from, double size, KeptVector& to);
  double step_back(double alpha);
  void advance(double alpha, double omega);
  Products step_on(double omega);
  void turn(double beta, double omega);
  void descend(const StopRule& rule, double goal, double norm, SolveReport& report);
  void follow_flow(const std::vector<double>& b, std::vector<double>& v_all, const StopRule& rule,
                   double goal, Norms& norms, SolveReport& report);
  void sweep(const std::vector<double>& b, Norms& norms);
};

bool TransportSolver::Work::reached(double two, const KeptVector& residual, double goal,
                                    const StopRule& rule) const {
  return two <= goal || (rule.absolute > 0.0 && largest(residual) <= rule.absolute);
}

/// to = M from.
void TransportSolver::Work::precondition(const KeptVector& from, double size, KeptVector& to) {
  multigrid.cycle(from, size, rough.cells, rough.nodes);
  rough.scale = multigrid.scale();
  assign(loop, rough, to);
}

/// r -= alpha v; returns |r|.
double TransportSolver::Work::step_back(double alpha) {
  double* __restrict res = r.cells.data();
  const double* __restrict image = v.cells.data();
  double square = loop.sum([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) res[n] -= alpha * image[n];
    return lane_sum(begin, end, [&](std::size_t n) { return res[n] * res[n]; });
  });
  for (std::size_t n = 0; n < r.nodes.size(); ++n) {
    r.nodes[n] -= alpha * v.nodes[n];
    square += r.nodes[n] * r.nodes[n];
  }
  return std::sqrt(square);
}

/// x += alpha y + omega z.
void TransportSolver::Work::advance(double alpha, double omega) {
  double* __restrict solution = x.cells.data();
  const double* __restrict first = y.cells.data();
  const double* __restrict second = z.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) solution[n] += alpha * first[n] + omega * second[n];
  });
  for (std::size_t n = 0; n < x.nodes.size(); ++n) x.nodes[n] += alpha * y.nodes[n] + omega * z.nodes[n];
}

/// r -= omega t; returns r . r and r . shadow.
Products TransportSolver::Work::step_on(double omega) {
  double* __restrict res = r.cells.data();
  const double* __restrict image = t.cells.data();
  const double* __restrict fixed = shadow.cells.data();
  Products sum;
  sum.first = loop.sum([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) res[n] -= omega * image[n];
    return lane_sum(begin, end, [&](std::size_t n) { return res[n] * res[n]; });
  });
  sum.second = loop.sum([&](std::size_t begin, std::size_t end) {
    return lane_sum(begin, end, [&](std::size_t n) { return res[n] * fixed[n]; });
  });
  for (std::size_t n = 0; n < r.nodes.size(); ++n) {
    r.nodes[n] -= omega * t.nodes[n];
    sum.first += r.nodes[n] * r.nodes[n];
    sum.second += r.nodes[n] * shadow.nodes[n];
  }
  return sum;
}

/// p = r + beta (p - omega v).
void TransportSolver::Work::turn(double beta, double omega) {
  double* __restrict direction = p.cells.data();
  const double* __restrict res = r.cells.data();
  const double* __restrict image = v.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n)
      direction[n] = res[n] + beta * (direction[n] - omega * image[n]);
  });
  for (std::size_t n = 0; n < p.nodes.size(); ++n)
    p.nodes[n] = r.nodes[n] + beta * (p.nodes[n] - omega * v.nodes[n]);
}

/// Bi-conjugate gradients, stabilised (van der Vorst 1992, from memory), preconditioned from the right, from
/// the residual r of size `norm`. Returns when the goal is reached or the method breaks down; x is then the
/// last good iterate.
void TransportSolver::Work::descend(const StopRule& rule, double goal, double norm, SolveReport& report) {
  copy(loop, r, shadow);
  copy(loop, r, p);
  double rho = norm * norm;
  const double shadow_size = norm;
  const int begun = report.iterations;
  while (report.iterations < rule.most_iterations) {
    ++report.iterations;
    precondition(p, norm, y);
    const double along = system.apply(y, v, &shadow, nullptr).first;
    if (!std::isfinite(along) || along == 0.0) return;
    const double alpha = rho / along;
    const double half = step_back(alpha);
    if (!std::isfinite(half)) return;
    if (half == 0.0 || reached(half, r, goal, rule)) {
      advance(alpha, 0.0);
      return;
    }
    precondition(r, half, z);
    const Products image = system.apply(z, t, &r, &t);
    const double omega = image.second > 0.0 ? image.first / image.second : 0.0;
    if (!std::isfinite(omega)) return;
    const Products rest = step_on(omega);
    norm = std::sqrt(rest.first);
    if (!std::isfinite(norm)) return;
    advance(alpha, omega);
    if (norm == 0.0 || reached(norm, r, goal, rule)) return;
    const bool spent = std::abs(rest.second) < 1e-14 * shadow_size * norm;
    const bool stalled = report.iterations - begun >= patience && norm > 1e-2 * shadow_size;
    if (omega == 0.0 || spent || stalled) return;
    turn(rest.second / rho * (alpha / omega), omega);
    rho = rest.second;
  }
}

/// Goes on with sweeps that follow the flow, from the iterate at hand.
void TransportSolver::Work::follow_flow(const std::vector<double>& b, std::vector<double>& v_all,
                                        const StopRule& rule, double goal, Norms& norms,
                                        SolveReport& report) {
  if (!sweeps.ready()) sweeps.prepare(*a);
  system.residual(b, 0.0, x, r, &v_all);
  copy(loop, x, kept);
  sweeps.solve(b, v_all, goal, rule, report);
  system.take(v_all, x);
  const Norms next = system.residual(b, 0.0, x, r, nullptr);
  if (next.two < norms.two) {
    norms = next;
  } else {
    copy(loop, kept, x);
    norms = system.residual(b, 0.0, x, r, nullptr);
  }
}

/// One step x += M (b - A x), taken back when it does not help.
void TransportSolver::Work::sweep(const std::vector<double>& b, Norms& norms) {
  copy(loop, x, kept);
  precondition(r, norms.two, y);
  advance(1.0, 0.0);
  const Norms next = system.residual(b, 0.0, x, r, nullptr);
  if (next.two < norms.two) {
    norms = next;
  } else {
    copy(loop, kept, x);
    norms = system.residual(b, 0.0, x, r, nullptr);
  }
}

TransportSolver::TransportSolver() : work_(std::make_unique<Work>()) {}
TransportSolver::~TransportSolver() = default;
TransportSolver::TransportSolver(TransportSolver&&) noexcept = default;
TransportSolver& TransportSolver::operator=(TransportSolver&&) noexcept = default;

void TransportSolver::prepare(const TransportOperator& a) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  const int threads = omp_get_max_threads();
  const ColumnLayout before = w.system.layout();
  w.a = &a;
  w.sweeps.forget();
  w.system.build(view(a), threads);
  w.multigrid.build(w.system, threads);
  const ColumnLayout& layout = w.system.layout();
  const bool fresh = layout != before;
  w.loop = SlabLoop(layout, w.system.blocks());
  int stagger = 3;
  for (KeptVector* v : {&w.x, &w.r, &w.shadow, &w.p, &w.v, &w.t, &w.y, &w.z, &w.kept})
    v->reset(layout, a.nodes, stagger++, fresh);
  w.rough.cells.reset(layout.half(), stagger, fresh);
  w.rough.nodes.assign(static_cast<std::size_t>(a.nodes), 0.0);
  w.ready = true;
  w.setup_seconds = seconds_since(start);
}

SolveReport TransportSolver::solve(const std::vector<double>& b, std::vector<double>& v,
                                   const StopRule& rule) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  if (!w.ready)
    throw std::invalid_argument("the transport solve was called before its operator was prepared");
  const std::size_t size = w.system.layout().cells() + static_cast<std::size_t>(w.system.nodes());
  if (b.size() != size || v.size() != size)
    throw std::invalid_argument("the transport solve got vectors of a wrong size");
  SolveReport report;
  report.setup_seconds = w.setup_seconds;
  const double norm_b = w.system.source_norm(b, 0.0);
  if (norm_b == 0.0) {
    std::fill(v.begin(), v.end(), 0.0);
    report.converged = true;
    report.solve_seconds = seconds_since(start);
    return report;
  }
  const double goal = rule.relative * norm_b;
  w.system.take(v, w.x);
  Norms norms = w.system.residual(b, 0.0, w.x, w.r, nullptr);
  const double first = norms.two;
  // A start that does not help is taken back; column sweeps go on from there, and then a new start.
  while (!w.reached(norms.two, w.r, goal, rule) && report.iterations < rule.most_iterations) {
    const double last = norms.two;
    copy(w.loop, w.x, w.kept);
    w.descend(rule, 0.999 * goal, last, report);
    norms = w.system.residual(b, 0.0, w.x, w.r, nullptr);
    if (!(norms.two < last)) {
      copy(w.loop, w.kept, w.x);
      norms = w.system.residual(b, 0.0, w.x, w.r, nullptr);
    }
    if (norms.two < 1e-2 * last) continue;
    if (!w.reached(norms.two, w.r, goal, rule)) w.follow_flow(b, v, rule, goal, norms, report);
    if (norms.two < 0.5 * last) continue;
    const double before = norms.two;
    for (int n = 0; n < 4 && norms.two > goal && report.iterations < rule.most_iterations; ++n) {
      ++report.iterations;
      w.sweep(b, norms);
    }
    if (!(norms.two < 0.9 * before)) break;
  }
  norms = w.system.residual(b, 0.0, w.x, w.r, &v);
  report.converged = w.reached(norms.two, w.r, goal, rule);
  report.residual = norms.two / norm_b;
  if (report.iterations > 0 && first > 0.0)
    report.factor = std::pow(norms.two / first, 1.0 / report.iterations);
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
  return w.system.bytes() + w.multigrid.bytes() +
         bytes_of(w.x, w.r, w.shadow, w.p, w.v, w.t, w.y, w.z, w.kept, w.rough) + w.sweeps.bytes();
}

}  // namespace updraught
