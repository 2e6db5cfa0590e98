// Manufactured solutions of transport with reaction: a turning velocity field, variable diffusivity,
// first-order uptake.
#include <gtest/gtest.h>

#include <numbers>

#include "solver/step/step_work.h"
#include "solver/transport/gases.h"
#include "tests/order/roll.h"

namespace updraught {

namespace {

using order::Place;
using order::span;
using order::swing;
constexpr double pi = std::numbers::pi;
constexpr double uptake_rate = 4e-4;  // 1/s on the moles in the gas
constexpr double gas_density = 1.2 / molar_dry_air;

order::Roll roll_of(Mode mode) {
  return {mode, 0.012};
}

double diffusivity(const Place& p) {
  return 1e-5 * (1.0 + 0.5 * std::sin(2.0 * p.x + p.z));
}

double exact_share(Mode mode, const Place& p) {
  const double u = p.x / span(mode), v = p.z / order::height;
  return 0.10 + 0.05 * std::cos(pi * u) * std::cos(pi * v) * swing(mode, p.y) +
         0.012 * std::cos(2.0 * pi * u) + 0.008 * std::cos(2.0 * pi * v);
}

double flux(Mode mode, const Place& p, int direction) {
  constexpr double d = 1e-5;
  Place low = p, high = p;
  (direction == 0 ? low.x : direction == 1 ? low.y : low.z) -= d;
  (direction == 0 ? high.x : direction == 1 ? high.y : high.z) += d;
  const double slope = (exact_share(mode, high) - exact_share(mode, low)) / (2.0 * d);
  return roll_of(mode).flux(p, direction) * exact_share(mode, p) - gas_density * diffusivity(p) * slope;
}

double error_on(Mode mode, int n, bool uniform) {
  Laid laid = order::bed_of(mode, n, uniform);
  const Bed& bed = laid.bed;
  State& old = laid.state;
  const Grid& g = bed.grid;
  const auto cells = static_cast<std::size_t>(g.cells());
  StepWork w;
  compute_properties(bed, old, w.frame.now);
  w.frame.rule = {1.0, 1.0, 0.0};
  w.trial.temperature.assign(cells, 10.0);
  w.trial.vapour_ratio.assign(cells, 0.0);
  w.trial.oxygen.assign(cells, 0.10);
  // Almost no gas is stored: what the step adds stands for the source, the state is steady.
  w.trial.dry_gas.assign(cells, 1e-12);
  w.trial.gas.dry_density.assign(cells, gas_density);
  roll_of(mode).fill(g, w.trial.flow.faces);
  w.trial.uptake.potential.resize(cells);
  w.trial.uptake.rim.assign(cells, 0.0);
  w.trial.uptake.mixture.assign(cells, 0);
  w.trial.uptake.by_mixture = {OxygenResponse{OxygenResponse::Law::proportional}};
  std::vector<double> exact(cells);
  const auto exact_flux = [&](const Place& p, int direction) { return flux(mode, p, direction); };
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = static_cast<std::size_t>(g.cell(i, j, k));
        const Place p = order::centre(g, i, j, k);
        w.frame.now.diffusion[c] = diffusivity(p);
        w.trial.uptake.potential[c] = uptake_rate * gas_density * g.volume(i, j, k);
        exact[c] = exact_share(mode, p);
        old.oxygen[c] = order::divergence_at(mode, p, exact_flux) * g.volume(i, j, k) +
                        w.trial.uptake.potential[c] * exact[c];
      }
  // The second-order part of the advection is lagged; repeat until it stands.
  for (int pass = 0; pass < 200; ++pass)
    if (solve_oxygen(bed, old, w.frame, w.trial, w.books, w.transport, w.memory) < 1e-10) break;
  double volume = 0.0, square = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = static_cast<std::size_t>(g.cell(i, j, k));
        volume += g.volume(i, j, k);
        square += g.volume(i, j, k) * (w.trial.oxygen[c] - exact[c]) * (w.trial.oxygen[c] - exact[c]);
      }
  return std::sqrt(square / volume);
}

void expect_second_order(Mode mode, bool uniform, const std::vector<int>& cells, const char* what) {
  std::vector<double> errors;
  for (int n : cells) errors.push_back(error_on(mode, n, uniform));
  EXPECT_NEAR(order::observed_order(what, cells, errors), 2.0, 0.1);
}

}  // namespace

TEST(TransportOrder, WholeBedIsSecondOrder) {
  expect_second_order(Mode::whole, true, {16, 32, 64}, "transport, whole");
}

TEST(TransportOrder, RingsAreSecondOrder) {
  expect_second_order(Mode::rings, true, {16, 32, 64, 128}, "transport, rings");
}

TEST(TransportOrder, SliceIsSecondOrder) {
  expect_second_order(Mode::slice, true, {16, 32, 64, 128}, "transport, slice");
}

TEST(TransportOrder, SliceOnAGradedGridIsSecondOrder) {
  expect_second_order(Mode::slice, false, {16, 32, 64, 128}, "transport, slice, graded");
}

}  // namespace updraught
