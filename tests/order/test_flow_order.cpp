// Manufactured solutions of the flow: variable mobility and gas density, buoyancy, no flow through the outer
// faces.
#include <gtest/gtest.h>

#include <numbers>

#include "solver/air/flow.h"
#include "tests/order/manufactured.h"

namespace updraught {

namespace {

using order::Place;
constexpr double pi = std::numbers::pi;
constexpr double outside_density = 1.2;
constexpr double viscosity = 1.8e-5;

double span(Mode mode) {
  return mode == Mode::rings ? order::radius : order::width;
}

double pressure(Mode mode, const Place& p) {
  const double across = mode == Mode::whole ? 1.0 + 0.5 * std::cos(pi * p.y / order::width) : 1.0;
  return 0.4 * std::cos(pi * p.x / span(mode)) * std::cos(2.0 * pi * p.z / order::height) * across;
}

/// Lighter than outside by this (kg/m3); nothing at floor and top, so that nothing flows through them.
double lightness(Mode mode, const Place& p) {
  return 0.25 * std::sin(pi * p.z / order::height) * (1.0 + 0.5 * std::cos(pi * p.x / span(mode)));
}

double permeability(const Place& p) {
  return 1e-8 * std::exp(-2.0 * (order::height - p.z) + 0.8 * std::sin(3.0 * p.x));
}

double dry_density(const Place& p) {
  return 40.0 * (1.0 - 0.2 * p.z + 0.1 * p.x * p.x);
}

double flux(Mode mode, const Place& p, int direction) {
  constexpr double d = 1e-5;
  Place low = p, high = p;
  (direction == 0 ? low.x : direction == 1 ? low.y : low.z) -= d;
  (direction == 0 ? high.x : direction == 1 ? high.y : high.z) += d;
  double drive = -(pressure(mode, high) - pressure(mode, low)) / (2.0 * d);
  if (direction == 2) drive += gravity * lightness(mode, p);
  return dry_density(p) * permeability(p) / viscosity * drive;
}

double error_on(Mode mode, int n, bool uniform) {
  const Laid laid = order::bed_of(mode, n, uniform);
  const Bed& bed = laid.bed;
  const State& state = laid.state;
  const Grid& g = bed.grid;
  Properties now;
  compute_properties(bed, state, now);
  const auto cells = static_cast<std::size_t>(g.cells());
  GasState gas;
  gas.density.resize(cells);
  gas.dry_density.resize(cells);
  gas.viscosity.assign(cells, viscosity);
  gas.outside_density = outside_density;
  StorageRate storage(cells);
  std::vector<double> exact(cells);
  double sum = 0.0, volume = 0.0;
  const auto exact_flux = [&](const Place& p, int direction) { return flux(mode, p, direction); };
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = static_cast<std::size_t>(g.cell(i, j, k));
        const Place p = order::centre(g, i, j, k);
        now.across[c] = now.along[c] = permeability(p);
        gas.dry_density[c] = dry_density(p);
        gas.density[c] = outside_density - lightness(mode, p);
        exact[c] = pressure(mode, p);
        storage[c] = -order::divergence_at(mode, p, exact_flux) * g.volume(i, j, k);
        sum += storage[c];
        volume += g.volume(i, j, k);
      }
  // Midpoint sources leave a remainder of second order that a closed bed cannot take.
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i)
        storage[static_cast<std::size_t>(g.cell(i, j, k))] -= sum * g.volume(i, j, k) / volume;
  Flow flow;
  flow.faces.assign(cells, 0.0);
  flow.pressure.assign(cells, 0.0);
  SolverMemory memory;
  FlowEngine engine(memory);
  engine.solve(bed, now, gas, {}, storage, true, flow);
  return order::difference(g, flow.pressure, exact);
}

void expect_second_order(Mode mode, bool uniform, const std::vector<int>& cells, const char* what) {
  std::vector<double> errors;
  for (int n : cells) errors.push_back(error_on(mode, n, uniform));
  EXPECT_NEAR(order::observed_order(what, cells, errors), 2.0, 0.1);
}

}  // namespace

TEST(FlowOrder, WholeBedIsSecondOrder) {
  expect_second_order(Mode::whole, true, {12, 24, 48}, "flow, whole");
}

TEST(FlowOrder, WholeBedOnAGradedGridIsSecondOrder) {
  expect_second_order(Mode::whole, false, {12, 24, 48}, "flow, whole, graded");
}

TEST(FlowOrder, RingsAreSecondOrder) {
  expect_second_order(Mode::rings, true, {16, 32, 64, 128}, "flow, rings");
}

TEST(FlowOrder, RingsOnAGradedGridAreSecondOrder) {
  expect_second_order(Mode::rings, false, {16, 32, 64, 128}, "flow, rings, graded");
}

TEST(FlowOrder, SliceIsSecondOrder) {
  expect_second_order(Mode::slice, true, {16, 32, 64, 128}, "flow, slice");
}

}  // namespace updraught
