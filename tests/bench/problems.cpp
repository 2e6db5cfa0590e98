#include "problems.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

#include "mesh/parallel/index.h"
#include "mesh/parallel/rows.h"

namespace updraught::bench {

namespace {

constexpr double mobility_scale =
    5e-4;                      ///< k0 / viscosity of air, m2/(Pa s): k0 = 1e-8 m2 (our choice, loose bed)
constexpr double lift = 0.04;  ///< buoyancy of warm air, Pa/(m K): rho g / T, rounded
constexpr double diffusivity = 6e-6;  ///< of oxygen in a bed, m2/s (our choice: air's 2e-5 times 0.3)

/// Cell widths of a brick of n^3 cells on a base of 1 m.
struct Brick {
  int n;
  double flat;  ///< how many times a cell is flatter than wide
  double h() const { return 1.0 / n; }
  double dz() const { return h() / flat; }
  int cell(int i, int j, int k) const { return (j * n + k) * n + i; }
};

double harmonic(double a, double b) {
  return 2.0 * a * b / (a + b);
}

/// Excess temperature at a face of the layers, K: a smooth bump of 60 K; heights as shares of the brick's.
double bump(double x, double y, double z) {
  const double r2 = (x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5) + (z - 0.5) * (z - 0.5);
  return 60.0 * std::exp(-r2 / (2.0 * 0.2 * 0.2));
}

std::vector<double> lognormal_mobility(int n, double sigma) {
  std::mt19937_64 random(20240611);
  std::normal_distribution<double> normal;
  std::vector<double> mobility(at(n * n * n));
  for (int j = 0; j < n; ++j)
    for (int k = 0; k < n; ++k)
      for (int i = 0; i < n; ++i)
        mobility[at((j * n + k) * n + i)] =
            mobility_scale * std::exp(-3.0 * (1.0 - (k + 0.5) / n) + sigma * normal(random));
  return mobility;
}

/// Operator with harmonic faces, pressure given on the top and, where `open_floor` says so, at the floor.
template <class OpenFloor>
FlowOperator assemble(const Brick& brick, const std::vector<double>& mobility, const OpenFloor& open_floor) {
  const int n = brick.n;
  const double side = brick.dz();                           // area over distance of the x and y faces
  const double level = brick.h() * brick.h() / brick.dz();  // the same of the z faces
  FlowOperator a;
  a.nx = a.ny = a.nz = n;
  for (auto* field : {&a.x, &a.y, &a.z, &a.robin}) field->resize(at(a.cells()));
  for_rows(n, at(a.cells()), [&](int j) {
    for (int k = 0; k < n; ++k)
      for (int i = 0; i < n; ++i) {
        const int c = brick.cell(i, j, k);
        const double here = mobility[at(c)];
        a.x[at(c)] = i > 0 ? side * harmonic(here, mobility[at(c - 1)]) : 0.0;
        a.y[at(c)] = j > 0 ? side * harmonic(here, mobility[at(c - n * n)]) : 0.0;
        a.z[at(c)] = k > 0 ? level * harmonic(here, mobility[at(c - n)]) : 0.0;
        a.robin[at(c)] = (k == n - 1 ? 2.0 * level * here : 0.0) + (k == 0 ? open_floor(i, j, here) : 0.0);
      }
  });
  return a;
}

/// Source that the lift of the bump makes: what it drives in through the lower face less what it drives out.
std::vector<double> buoyant_source(const Brick& brick, const FlowOperator& a) {
  const int n = brick.n;
  std::vector<double> b(at(a.cells()));
  for (int j = 0; j < n; ++j)
    for (int k = 0; k < n; ++k)
      for (int i = 0; i < n; ++i) {
        const int c = brick.cell(i, j, k);
        const double x = (i + 0.5) / n, y = (j + 0.5) / n;
        // Half a cell lies between a face with given pressure and the centre.
        const double below = k > 0 ? a.z[at(c)] * brick.dz() : a.robin[at(c)] * 0.5 * brick.dz();
        const double above = k + 1 < n ? a.z[at(c + n)] * brick.dz() : a.robin[at(c)] * 0.5 * brick.dz();
        b[at(c)] = lift * (below * bump(x, y, double(k) / n) - above * bump(x, y, double(k + 1) / n));
      }
  return b;
}

bool on_patch(int i, int j, int n) {
  const auto inside = [n](int m) { return std::abs((m + 0.5) / n - 0.5) < 0.2; };
  return inside(i) && inside(j);
}

}  // namespace

FlowProblem warm_cube(int n, double sigma) {
  const Brick brick{n, 1.0};
  FlowProblem problem;
  problem.name = sigma > 1.0 ? "P1b" : "P1";
  problem.a = assemble(brick, lognormal_mobility(n, sigma), [&](int i, int j, double here) {
    return on_patch(i, j, n) ? 2.0 * brick.h() * here : 0.0;
  });
  problem.b = buoyant_source(brick, problem.a);
  return problem;
}

FlowProblem flat_cells(int n, const std::string& kind) {
  const Brick brick{n, 20.0};
  const double level = brick.h() * brick.h() / brick.dz();
  std::vector<double> mobility(at(n * n * n), mobility_scale);
  const auto band = [n](int m) { return m * 8 / n; };
  for (int j = 0; j < n; ++j)
    for (int k = 0; k < n; ++k)
      for (int i = 0; i < n; ++i) {
        const bool tight = kind == "layers"   ? band(k) % 2 == 1
                           : kind == "blocks" ? (band(i) + band(j) + band(k)) % 2 == 1
                                              : false;
        if (tight) mobility[at(brick.cell(i, j, k))] *= 1e-6;
      }
  if (kind == "flat") mobility = lognormal_mobility(n, 1.0);
  FlowProblem problem;
  problem.name = "P3-" + kind;
  problem.a = assemble(brick, mobility, [&](int i, int j, double here) {
    if (kind == "opening") return i == n / 3 && j == n / 3 ? 1e6 * level * here : 0.0;
    return on_patch(i, j, n) ? 2.0 * level * here : 0.0;
  });
  problem.b = buoyant_source(brick, problem.a);
  return problem;
}

TransportProblem transport_step(const FlowProblem& flow, const std::vector<double>& p, double courant) {
  const FlowOperator& f = flow.a;
  const int n = f.nx;
  const double h = 1.0 / n;
  const double volume = h * h * h;
  const double exchange = diffusivity * h;
  TransportProblem problem;
  problem.name = "P2-" + std::to_string(static_cast<int>(courant));
  TransportOperator& a = problem.a;
  a.nx = a.ny = a.nz = n;
  for (auto* field : {&a.diagonal, &a.up_x, &a.down_x, &a.up_y, &a.down_y, &a.up_z, &a.down_z})
    field->resize(at(a.cells()));
  problem.b.resize(at(a.cells()));
  problem.guess.resize(at(a.cells()));
  std::vector<double> outflow(at(a.cells())), inflow(at(a.cells()));
  const auto face = [&](int c, int low, double stream, std::vector<double>& up, std::vector<double>& down) {
    up[at(c)] = exchange + std::max(stream, 0.0);
    down[at(c)] = exchange + std::max(-stream, 0.0);
    outflow[at(low)] += std::max(stream, 0.0);
    outflow[at(c)] += std::max(-stream, 0.0);
    a.diagonal[at(low)] += up[at(c)];
    a.diagonal[at(c)] += down[at(c)];
  };
  for (int j = 0; j < n; ++j)
    for (int k = 0; k < n; ++k)
      for (int i = 0; i < n; ++i) {
        const int c = (j * n + k) * n + i;
        const double x = (i + 0.5) / n, y = (j + 0.5) / n;
        const auto across = [&](double conductance, int low) {
          return conductance * (p[at(low)] - p[at(c)]);
        };
        if (i > 0) face(c, c - 1, across(f.x[at(c)], c - 1), a.up_x, a.down_x);
        if (j > 0) face(c, c - n * n, across(f.y[at(c)], c - n * n), a.up_y, a.down_y);
        if (k > 0)
          face(c, c - n, across(f.z[at(c)], c - n) + f.z[at(c)] * h * lift * bump(x, y, double(k) / n),
               a.up_z, a.down_z);
        if (f.robin[at(c)] > 0.0) {  // an open top or floor: air goes out, or comes in with the value 1
          const double up = k == 0 ? -1.0 : 1.0;
          const double out =
              f.robin[at(c)] * (p[at(c)] + up * 0.5 * h * lift * bump(x, y, double(k == 0 ? 0 : n) / n));
          a.diagonal[at(c)] += 2.0 * exchange + std::max(out, 0.0);
          outflow[at(c)] += std::max(out, 0.0);
          inflow[at(c)] += 2.0 * exchange + std::max(-out, 0.0);
        }
      }
  const double dt = courant * volume / *std::max_element(outflow.begin(), outflow.end());
  for (int c = 0; c < a.cells(); ++c) {
    const int i = c % n, k = (c / n) % n, j = c / (n * n);
    a.diagonal[at(c)] += volume / dt;
    problem.guess[at(c)] = bump((i + 0.5) / n, (j + 0.5) / n, (k + 0.5) / n) / 60.0;
    problem.b[at(c)] = volume / dt * problem.guess[at(c)] + inflow[at(c)];
  }
  return problem;
}

}  // namespace updraught::bench
