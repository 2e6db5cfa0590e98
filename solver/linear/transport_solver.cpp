#include "solver/linear/transport_solver.h"

#include <omp.h>

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "solver/linear/bicgstab.h"
#include "solver/linear/line_gauss_seidel.h"
#include "solver/linear/multigrid.h"

namespace updraught {

namespace {

/// Iterations after which multigrid must have gained two digits (our choice: where it works it needs 2 to 8).
constexpr int patience = 12;
/// Residuals below this share of the right-hand side are rounding (our choice: 64 units of the last place;
/// single rows with many links were seen to keep 45): no other method gains a digit there.
constexpr double rounding = 64.0 * std::numeric_limits<double>::epsilon();
/// What set-up takes beyond the operator on large grids, and what each scalar does; padding adds a little on
/// small ones.
constexpr std::size_t bytes_per_cell = 97;
constexpr std::size_t bytes_per_scalar = 39;

}  // namespace

struct TransportSolver::Work {
  SolverMemory* memory = nullptr;
  const TransportOperator* a = nullptr;
  RedBlackSchur system;
  ColumnMultigrid multigrid;
  ColumnSweeps sweeps;  ///< prepared when first needed
  SlabLoop loop;
  std::vector<TransportScalar> scalars;
  std::vector<TransportScalar*> active;
  std::vector<VCycle> cycles;
  std::vector<ReducedProduct> products;
  double setup_seconds = 0.0;

  void make_room(std::size_t count);
  bool reached(const TransportScalar& s, const StoppingCriterion& rule) const;
  template <class Member>
  void precondition(Member from, Member to);
  template <class Keep>
  void filter(const Keep& keep);
  void descend(const StoppingCriterion& rule);
  void follow_flow(TransportScalar& s, const std::vector<double>& b, std::vector<double>& v,
                   const StoppingCriterion& rule);
  bool rescue(TransportScalar& s, const std::vector<double>& b, std::vector<double>& v,
              const StoppingCriterion& rule);
  bool relax(TransportScalar& s, const std::vector<double>& b);
  void begin(TransportScalar& s, const std::vector<double>& b, const std::vector<double>& v,
             const StoppingCriterion& rule);
  void solve_active(const std::vector<const std::vector<double>*>& b,
                    const std::vector<std::vector<double>*>& v, const StoppingCriterion& rule);
};

void TransportSolver::Work::make_room(std::size_t count) {
  const std::size_t more = count - std::min(count, scalars.size());
  Arena arena(more * bytes_per_scalar * system.layout().cells(), memory);
  while (scalars.size() < count) {
    scalars.emplace_back();
    scalars.back().reset(system.layout(), system.nodes(), true, arena);
  }
  system.reserve(count, arena);
  multigrid.reserve(count, arena);
  active.reserve(count);
  cycles.reserve(count);
  products.reserve(count);
}

bool TransportSolver::Work::reached(const TransportScalar& s, const StoppingCriterion& rule) const {
  return s.size <= s.goal || (rule.absolute > 0.0 && largest(s.r) <= rule.absolute);
}

/// to = M from for all active scalars.
template <class Member>
void TransportSolver::Work::precondition(Member from, Member to) {
  cycles.clear();
  for (TransportScalar* s : active) cycles.push_back({&(s->*from), s->size, &s->rough});
  multigrid.cycle(cycles);
  for (TransportScalar* s : active) assign(loop, s->rough, s->*to);
}

/// Drops the scalars that `keep` no longer wants.
template <class Keep>
void TransportSolver::Work::filter(const Keep& keep) {
  std::size_t index = 0;
  active.erase(
      std::remove_if(active.begin(), active.end(), [&](TransportScalar* s) { return !keep(*s, index++); }),
      active.end());
}

/// Bi-conjugate gradients for all active scalars together, until each has reached its goal or broken down.
void TransportSolver::Work::descend(const StoppingCriterion& rule) {
  for (TransportScalar* s : active) s->start(loop);
  for (int n = 0; !active.empty(); ++n) {
    filter([&](TransportScalar& s, std::size_t) {
      const bool stalled = n >= patience && s.size > 1e-2 * s.started;
      if (stalled || s.iterations >= rule.most_iterations) return false;
      ++s.iterations;
      return true;
    });
    if (active.empty()) return;
    precondition(&TransportScalar::p, &TransportScalar::y);
    products.clear();
    for (TransportScalar* s : active) products.push_back({&s->y, &s->v, &s->shadow});
    system.apply(products);
    filter([&](TransportScalar& s, std::size_t index) {
      if (!s.step_back(loop, products[index].with_first)) return false;
      const bool done = s.size == 0.0 || reached(s, rule);
      if (done) s.advance(loop, 0.0);
      return !done;
    });
    if (active.empty()) return;
    precondition(&TransportScalar::r, &TransportScalar::z);
    products.clear();
    for (TransportScalar* s : active) products.push_back({&s->z, &s->t, &s->r, &s->t});
    system.apply(products);
    filter([&](TransportScalar& s, std::size_t index) {
      return s.step_on(loop, products[index].with_first, products[index].with_second) && !reached(s, rule);
    });
  }
}

/// Goes on with sweeps that follow the flow, from the iterate at hand; taken back when they do not help.
void TransportSolver::Work::follow_flow(TransportScalar& s, const std::vector<double>& b,
                                        std::vector<double>& v, const StoppingCriterion& rule) {
  if (!sweeps.ready()) sweeps.prepare(*a);
  system.residual(b, 0.0, s.x, s.r, &v);
  copy(loop, s.x, s.kept);
  SolveReport report;
  report.iterations = s.iterations;
  sweeps.solve(b, v, s.goal, rule, report);
  s.iterations = report.iterations;
  system.take(v, s.x);
  const Norms next = system.residual(b, 0.0, s.x, s.r, nullptr);
  if (!(next.two < s.norms.two)) copy(loop, s.kept, s.x);
}

/// One step x += M (b - A x), taken back when it does not help; tells whether it did.
bool TransportSolver::Work::relax(TransportScalar& s, const std::vector<double>& b) {
  s.norms = system.residual(b, 0.0, s.x, s.r, nullptr);
  s.size = s.norms.two;
  if (s.size == 0.0) return false;
  copy(loop, s.x, s.kept);
  active.assign(1, &s);
  precondition(&TransportScalar::r, &TransportScalar::y);
  active.clear();
  s.alpha = 1.0;
  s.advance(loop, 0.0);
  ++s.iterations;
  const Norms next = system.residual(b, 0.0, s.x, s.r, nullptr);
  const bool better = next.two < s.norms.two;
  if (!better) copy(loop, s.kept, s.x);
  return better;
}

/// After a start that gained little: other methods from the better iterate. Tells whether it pays to start
/// again.
bool TransportSolver::Work::rescue(TransportScalar& s, const std::vector<double>& b, std::vector<double>& v,
                                   const StoppingCriterion& rule) {
  const double before = s.norms.two;
  follow_flow(s, b, v, rule);
  for (int n = 0; n < 4 && s.iterations < rule.most_iterations; ++n)
    if (!relax(s, b)) break;
  s.norms = system.residual(b, 0.0, s.x, s.r, nullptr);
  s.size = s.norms.two;
  return s.size < 0.5 * before;
}

void TransportSolver::Work::begin(TransportScalar& s, const std::vector<double>& b,
                                  const std::vector<double>& v, const StoppingCriterion& rule) {
  const double norm_b = system.source_norm(b, 0.0);
  s.goal = rule.relative * norm_b;
  s.iterations = 0;
  system.take(v, s.x);
  s.norms = system.residual(b, 0.0, s.x, s.r, nullptr);
  s.size = s.norms.two;
}

/// Starts, checks by the true residual and starts again for as long as that helps.
void TransportSolver::Work::solve_active(const std::vector<const std::vector<double>*>& b,
                                         const std::vector<std::vector<double>*>& v,
                                         const StoppingCriterion& rule) {
  std::vector<char> open(b.size(), 1);
  for (bool more = true; more;) {
    active.clear();
    for (std::size_t n = 0; n < b.size(); ++n) {
      TransportScalar& s = scalars[n];
      open[n] = open[n] && s.iterations < rule.most_iterations && !reached(s, rule);
      if (open[n]) active.push_back(&s);
    }
    more = !active.empty();
    descend(rule);
    for (std::size_t n = 0; n < b.size(); ++n) {
      if (!open[n]) continue;
      TransportScalar& s = scalars[n];
      const double last = s.norms.two;
      s.norms = system.residual(*b[n], 0.0, s.x, s.r, nullptr);
      if (!(s.norms.two < last)) {
        copy(loop, s.kept, s.x);
        s.norms = system.residual(*b[n], 0.0, s.x, s.r, nullptr);
      }
      s.size = s.norms.two;
      if (s.size < 1e-2 * last || reached(s, rule)) continue;
      const bool spent = s.size * rule.relative < rounding * s.goal;
      open[n] = !spent && rescue(s, *b[n], *v[n], rule);
    }
  }
}

TransportSolver::TransportSolver(SolverMemory* memory) : work_(std::make_unique<Work>()) {
  work_->memory = memory;
}
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
  Arena arena(bytes_per_cell * static_cast<std::size_t>(a.cells()), w.memory);
  w.system.build(view(a), threads, arena);
  w.multigrid.build(w.system, threads, arena);
  w.loop = SlabLoop(w.system.layout(), w.system.blocks());
  for (TransportScalar& scalar : w.scalars)
    scalar.reset(w.system.layout(), a.nodes, w.system.layout() != before, arena);
  w.setup_seconds = seconds_since(start);
}

SolveReport TransportSolver::solve(const std::vector<const std::vector<double>*>& b,
                                   const std::vector<std::vector<double>*>& v,
                                   const StoppingCriterion& rule) {
  const auto start = std::chrono::steady_clock::now();
  Work& w = *work_;
  if (w.a == nullptr)
    throw std::invalid_argument("the transport solve was called before its operator was prepared");
  if (b.size() != v.size())
    throw std::invalid_argument("the transport solve needs one solution per right-hand side");
  const std::size_t size = w.system.layout().cells() + static_cast<std::size_t>(w.system.nodes());
  for (std::size_t n = 0; n < b.size(); ++n)
    if (b[n]->size() != size || v[n]->size() != size)
      throw std::invalid_argument("the transport solve got vectors of a wrong size");
  w.make_room(b.size());
  std::vector<double> first(b.size());
  for (std::size_t n = 0; n < b.size(); ++n) {
    const bool zero = std::all_of(b[n]->begin(), b[n]->end(), [](double value) { return value == 0.0; });
    if (zero) std::fill(v[n]->begin(), v[n]->end(), 0.0);
    w.begin(w.scalars[n], *b[n], *v[n], rule);
    first[n] = w.scalars[n].norms.two;
  }
  w.solve_active(b, v, rule);
  SolveReport report;
  report.converged = true;
  for (std::size_t n = 0; n < b.size(); ++n) {
    TransportScalar& s = w.scalars[n];
    s.norms = w.system.residual(*b[n], 0.0, s.x, s.r, v[n]);
    s.size = s.norms.two;
    report.converged = report.converged && w.reached(s, rule);
    report.iterations = std::max(report.iterations, s.iterations);
    if (s.goal > 0.0) report.residual = std::max(report.residual, s.size * rule.relative / s.goal);
    if (s.iterations > 0 && first[n] > 0.0)
      report.factor = std::max(report.factor, std::pow(s.size / first[n], 1.0 / s.iterations));
  }
  report.setup_seconds = w.setup_seconds;
  report.solve_seconds = seconds_since(start);
  return report;
}

SolveReport TransportSolver::solve(const std::vector<double>& b, std::vector<double>& v,
                                   const StoppingCriterion& rule) {
  return solve(std::vector<const std::vector<double>*>{&b}, std::vector<std::vector<double>*>{&v}, rule);
}

SolveReport solve_once(const TransportOperator& a, const std::vector<double>& b, std::vector<double>& v,
                       const StoppingCriterion& rule, SolverMemory& memory) {
  TransportSolver solver(&memory);
  solver.prepare(a);
  return solver.solve(b, v, rule);
}

double TransportSolver::bytes() const {
  const Work& w = *work_;
  double sum = w.system.bytes() + w.multigrid.bytes() + w.sweeps.bytes();
  for (const TransportScalar& scalar : w.scalars) sum += scalar.bytes();
  return sum;
}

}  // namespace updraught
