// Manufactured solutions of heat: a turning air flow, variable conductivity, heat taken up by the bed. Once
// where conduction resolves the cells, once where the air rules and its change is limited; there the warmth
// rises along every line, since a limiter cuts peaks.
#include <gtest/gtest.h>

#include <numbers>

#include "solver/step/step_work.h"
#include "solver/transport/heat.h"
#include "tests/order/roll.h"

namespace updraught {

namespace {

using order::Place;
using order::span;
using order::swing;
constexpr double pi = std::numbers::pi;
constexpr double taken_up = 20.0;  // W/(m3 K) that warms the bed in the step

/// Which of the two ways of carrying heat rules.
enum class Rules { conduction, air };

order::Roll roll_of(Mode mode) {
  return {mode, 0.05};
}

double conductivity(Rules rules, const Place& p) {
  return (rules == Rules::conduction ? 0.5 : 1e-5) * (1.0 + 0.5 * std::sin(2.0 * p.x + p.z));
}

/// Warmth (degC): level at all outer faces where conduction rules, rising along every line where the air
/// does.
double warmth(Mode mode, Rules rules, const Place& p) {
  const double u = p.x / span(mode), v = p.z / order::height,
               s = mode == Mode::whole ? p.y / order::width : 0.0;
  if (rules == Rules::conduction)
    return 30.0 + 12.0 * std::cos(pi * u) * std::cos(pi * v) * swing(mode, p.y) +
           4.0 * std::cos(2.0 * pi * u) + 3.0 * std::cos(2.0 * pi * v);
  return 20.0 + 9.0 * u + 6.0 * u * u + 8.0 * std::expm1(v) + 3.0 * u * v + 2.0 * s * (1.0 + s);
}

double flux(const Bed& bed, Rules rules, const Place& p, int direction) {
  constexpr double d = 1e-5;
  const Mode mode = bed.grid.mode;
  Place low = p, high = p;
  (direction == 0 ? low.x : direction == 1 ? low.y : low.z) -= d;
  (direction == 0 ? high.x : direction == 1 ? high.y : high.z) += d;
  const double slope = (warmth(mode, rules, high) - warmth(mode, rules, low)) / (2.0 * d);
  return roll_of(mode).flux(p, direction) * bed.setup->gas.enthalpy(warmth(mode, rules, p), 0.0) -
         conductivity(rules, p) * slope;
}

/// Heat conducted out through the outer faces of a cell by the exact solution (W): the computed bed is
/// insulated there.
double conducted_out(const Grid& g, Rules rules, int i, int j, int k) {
  constexpr double d = 1e-4;
  const auto out = [&](const Place& face, int direction, double sign, double area) {
    const auto inward = [&](double distance) {
      Place p = face;
      (direction == 0 ? p.x : direction == 1 ? p.y : p.z) -= sign * distance;
      return warmth(g.mode, rules, p);
    };
    const double slope = (4.0 * inward(d) - inward(2.0 * d) - 3.0 * inward(0.0)) / (2.0 * d);
    return conductivity(rules, face) * area * slope;
  };
  const auto edge = [](const std::vector<double>& e, int n) { return e[static_cast<std::size_t>(n)]; };
  const Place p = order::centre(g, i, j, k);
  const double breadth = g.mode == Mode::rings ? 2.0 * pi * g.x.back() : g.dy(j);
  const double dz = g.dz[static_cast<std::size_t>(k)];
  double sum = 0.0;
  if (i == 0 && g.mode != Mode::rings) sum += out({0.0, p.y, p.z}, 0, -1.0, breadth * dz);
  if (i == g.nx - 1) sum += out({edge(g.x, i + 1), p.y, p.z}, 0, 1.0, breadth * dz);
  if (k == 0) sum += out({p.x, p.y, 0.0}, 2, -1.0, g.area_z(i, j, 0));
  if (k == g.nz - 1) sum += out({p.x, p.y, edge(g.z, k + 1)}, 2, 1.0, g.area_z(i, j, g.nz));
  if (g.mode == Mode::whole && j == 0) sum += out({p.x, 0.0, p.z}, 1, -1.0, g.dx(i) * dz);
  if (g.mode == Mode::whole && j == g.ny - 1) sum += out({p.x, edge(g.y, j + 1), p.z}, 1, 1.0, g.dx(i) * dz);
  return sum;
}

double error_on(Mode mode, Rules rules, int n, bool uniform) {
  Laid laid = order::bed_of(mode, n, uniform);
  const Bed& bed = laid.bed;
  State& old = laid.state;
  const Grid& g = bed.grid;
  const auto cells = static_cast<std::size_t>(g.cells());
  StepWork w;
  compute_properties(bed, old, w.frame.now);
  // One second, over which the bed takes up heat from 0 degC on; the carried change stands for the source.
  w.frame.rule = {1.0, 1.0, 1.0};
  w.trial.temperature.assign(cells, 30.0);
  w.trial.vapour_ratio.assign(cells, 0.0);
  w.trial.activity.assign(cells, 1.0);
  w.trial.yielding.assign(cells, 1.0F);
  w.trial.oxygen.assign(cells, air_oxygen);
  w.trial.dry_gas.assign(cells, 0.0);
  w.trial.used.assign(cells, 0.0);
  w.trial.water.assign(cells, 0.0);
  w.frame.drained.assign(cells, 0.0);
  w.trial.gas.dry_density.assign(cells, bed.setup->gas.dry_density(10.0, 0.0));
  old.temperature.assign(cells, 0.0);
  old.dry_gas.assign(cells, 0.0);
  old.last_heat.resize(cells);
  roll_of(g.mode).fill(g, w.trial.flow.faces);
  std::vector<double> exact(cells);
  const auto exact_flux = [&](const Place& p, int direction) { return flux(bed, rules, p, direction); };
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = static_cast<std::size_t>(g.cell(i, j, k));
        const Place p = order::centre(g, i, j, k);
        w.frame.now.conductivity[c] = conductivity(rules, p);
        w.frame.now.dry_mass[c] = taken_up * g.volume(i, j, k) / bed.setup->dry_heat_capacity;
        exact[c] = warmth(mode, rules, p);
        old.last_heat[c] =
            (order::divergence_at(mode, p, exact_flux) + taken_up * exact[c]) * g.volume(i, j, k) -
            conducted_out(g, rules, i, j, k);
      }
  refresh_vapour(bed, w.trial);
  // The second-order part of what the air carries is lagged; repeat until it stands.
  double moved = 1.0;
  for (int pass = 0; pass < 400 && moved >= 1e-8; ++pass) {
    const std::vector<double> before = w.trial.temperature;
    solve_heat(bed, old, w.frame, w.trial, w.books, w.transport, w.memory);
    moved = 0.0;
    for (std::size_t c = 0; c < before.size(); ++c)
      moved = std::max(moved, std::abs(w.trial.temperature[c] - before[c]));
  }
  double volume = 0.0, square = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = static_cast<std::size_t>(g.cell(i, j, k));
        volume += g.volume(i, j, k);
        square +=
            g.volume(i, j, k) * (w.trial.temperature[c] - exact[c]) * (w.trial.temperature[c] - exact[c]);
      }
  return std::sqrt(square / volume);
}

void expect_second_order(Mode mode, Rules rules, bool uniform, const std::vector<int>& cells,
                         const char* what) {
  std::vector<double> errors;
  for (int n : cells) errors.push_back(error_on(mode, rules, n, uniform));
  EXPECT_NEAR(order::observed_order(what, cells, errors), 2.0, 0.1);
}

}  // namespace

TEST(HeatOrder, ConductionInAWholeBedIsSecondOrder) {
  expect_second_order(Mode::whole, Rules::conduction, true, {12, 24, 48}, "heat, whole");
}

TEST(HeatOrder, ConductionInRingsIsSecondOrder) {
  expect_second_order(Mode::rings, Rules::conduction, true, {16, 32, 64, 128}, "heat, rings");
}

TEST(HeatOrder, ConductionInAGradedSliceIsSecondOrder) {
  expect_second_order(Mode::slice, Rules::conduction, false, {16, 32, 64, 128}, "heat, slice, graded");
}

TEST(HeatOrder, AirInAWholeBedIsSecondOrder) {
  expect_second_order(Mode::whole, Rules::air, true, {12, 24, 48}, "heat carried by air, whole");
}

TEST(HeatOrder, AirInRingsIsSecondOrder) {
  expect_second_order(Mode::rings, Rules::air, true, {16, 32, 64, 128}, "heat carried by air, rings");
}

TEST(HeatOrder, AirInASliceIsSecondOrder) {
  expect_second_order(Mode::slice, Rules::air, true, {16, 32, 64, 128}, "heat carried by air, slice");
}

TEST(HeatOrder, AirInAGradedSliceIsSecondOrder) {
  expect_second_order(Mode::slice, Rules::air, false, {16, 32, 64, 128},
                      "heat carried by air, slice, graded");
}

}  // namespace updraught
