#include "solver/linear/flow_solver.h"

#include <omp.h>

#include <algorithm>
#include <stdexcept>

#include "solver/linear/krylov.h"
#include "solver/linear/multigrid.h"

namespace updraught {

namespace {

/// What set-up and solve take beyond the operator on large grids; padding adds a little on small ones.
constexpr std::size_t bytes_per_cell = 84;

}  // namespace

struct FlowSolver::Work {
  SolverMemory* memory = nullptr;
  bool ready = false;
  RedBlackSchur system;
  ColumnMultigrid multigrid;
  SlabLoop loop;
  RedVector x, r, p, q;
  RoughVector z;
  std::vector<VCycle> cycles;            ///< the one cycle z = M r
  std::vector<ReducedProduct> products;  ///< the one product q = S p
  double setup_seconds = 0.0;

  double step_back(double alpha);
  void next_direction(double alpha, double beta);
  void advance(double alpha);
  void centre(std::vector<double>& p_all);
  double descend(const StoppingCriterion& rule, double goal, double norm, SolveReport& report);
};

/// r -= alpha q; returns |r|.
double FlowSolver::Work::step_back(double alpha) {
  double* __restrict res = r.cells.data();
  const double* __restrict image = q.cells.data();
  double square = loop.sum([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) res[n] -= alpha * image[n];
    return lane_sum(begin, end, [&](std::size_t n) { return res[n] * res[n]; });
  });
  for (std::size_t n = 0; n < r.nodes.size(); ++n) {
    r.nodes[n] -= alpha * q.nodes[n];
    square += r.nodes[n] * r.nodes[n];
  }
  return std::sqrt(square);
}

/// x += alpha p for the step before, then p = z + beta p: one pass over both.
void FlowSolver::Work::next_direction(double alpha, double beta) {
  double* __restrict direction = p.cells.data();
  double* __restrict solution = x.cells.data();
  const float* __restrict rough = z.cells.data();
  const double scale = z.scale;
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) {
      solution[n] += alpha * direction[n];
      direction[n] = scale * double(rough[n]) + beta * direction[n];
    }
  });
  for (std::size_t n = 0; n < p.nodes.size(); ++n) {
    x.nodes[n] += alpha * p.nodes[n];
    p.nodes[n] = z.nodes[n] + beta * p.nodes[n];
  }
}

/// x += alpha p.
void FlowSolver::Work::advance(double alpha) {
  double* __restrict solution = x.cells.data();
  const double* __restrict direction = p.cells.data();
  loop.each([&](std::size_t begin, std::size_t end) {
    for (std::size_t n = begin; n < end; ++n) solution[n] += alpha * direction[n];
  });
  for (std::size_t n = 0; n < x.nodes.size(); ++n) x.nodes[n] += alpha * p.nodes[n];
}

/// Takes the mean over the open unknowns out of p; closed ones stay 0.
void FlowSolver::Work::centre(std::vector<double>& p_all) {
  const double mean = system.mean_source(p_all);
  system.shift_open(p_all, -mean);
}

/// Preconditioned conjugate gradients from the residual r of size `norm`; returns the last size.
double FlowSolver::Work::descend(const StoppingCriterion& rule, double goal, double norm,
                                 SolveReport& report) {
  double alpha = 0.0;
  double before = 1.0;
  bool first = true;
  while (report.iterations < rule.most_iterations && norm > 0.0) {
    cycles[0].size = norm;
    multigrid.cycle(cycles);
    const double now = cycles[0].product;
    next_direction(alpha, first ? 0.0 : now / before);
    system.apply(products);
    const double curvature = products[0].with_first;
    if (!(curvature > 0.0)) return norm;  // the directions are spent: what is left is rounding
    alpha = now / curvature;
    before = now;
    first = false;
    norm = step_back(alpha);
    ++report.iterations;
    if (norm <= goal || (rule.absolute > 0.0 && largest(r) <= rule.absolute)) break;
  }
  advance(alpha);
  return norm;
}

FlowSolver::FlowSolver(SolverMemory* memory) : work_(std::make_unique<Work>()) {
  work_->memory = memory;
}
FlowSolver::~FlowSolver() = default;
FlowSolver::FlowSolver(FlowSolver&&) noexcept = default;
FlowSolver& FlowSolver::operator=(FlowSolver&&) noexcept = default;

void FlowSolver::prepare(const FlowOperator& a) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  const int threads = omp_get_max_threads();
  const ColumnLayout before = w.system.layout();
  Arena arena(bytes_per_cell * static_cast<std::size_t>(a.cells()), w.memory);
  w.system.build(view(a), threads, arena);
  w.multigrid.build(w.system, threads, arena);
  const ColumnLayout& layout = w.system.layout();
  w.loop = SlabLoop(layout, w.system.blocks());
  for (RedVector* v : {&w.x, &w.r, &w.p, &w.q}) v->reset(layout, a.nodes, layout != before, arena);
  w.z.reset(layout, a.nodes, layout != before, arena);
  w.cycles = {{&w.r, 1.0, &w.z}};
  w.products = {{&w.p, &w.q, &w.p}};
  w.ready = true;
  w.setup_seconds = seconds_since(start);
}

SolveReport FlowSolver::solve(const std::vector<double>& b, std::vector<double>& p,
                              const StoppingCriterion& rule) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  if (!w.ready) throw std::invalid_argument("the flow solve was called before its operator was prepared");
  const std::size_t size = w.system.layout().cells() + static_cast<std::size_t>(w.system.nodes());
  if (b.size() != size || p.size() != size)
    throw std::invalid_argument("the flow solve got vectors of a wrong size");
  SolveReport report;
  report.setup_seconds = w.setup_seconds;
  const double shift = w.system.floating() ? w.system.mean_source(b) : 0.0;
  const double norm_b = w.system.source_norm(b, shift);
  if (norm_b == 0.0) {
    std::fill(p.begin(), p.end(), 0.0);
    report.converged = true;
    report.solve_seconds = seconds_since(start);
    return report;
  }
  const double goal = rule.relative * norm_b;
  w.system.take(p, w.x);
  Norms norms = w.system.residual(b, shift, w.x, w.r, &p);
  const double first = norms.two;
  const auto reached = [&] {
    return norms.two <= goal || (rule.absolute > 0.0 && norms.largest <= rule.absolute);
  };
  // The recursion's residual drifts from the true one by rounding: the true one decides, and a new start goes
  // on from it for as long as that helps.
  while (!reached() && report.iterations < rule.most_iterations) {
    const double last = norms.two;
    w.descend(rule, 0.999 * goal, last, report);
    norms = w.system.residual(b, shift, w.x, w.r, &p);
    if (!(norms.two < 0.5 * last)) break;
  }
  report.converged = reached();
  if (w.system.floating()) w.centre(p);
  report.residual = norms.two / norm_b;
  if (report.iterations > 0 && first > 0.0)
    report.factor = std::pow(norms.two / first, 1.0 / report.iterations);
  report.solve_seconds = seconds_since(start);
  return report;
}

double FlowSolver::bytes() const {
  const Work& w = *work_;
  return w.system.bytes() + w.multigrid.bytes() + bytes_of(w.x, w.r, w.p, w.q, w.z);
}

}  // namespace updraught
