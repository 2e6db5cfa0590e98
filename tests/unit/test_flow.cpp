// The flow at given gas densities: what enters leaves, and what drives it (theory 5).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/air/flow.h"
#include "tests/unit/reader_helpers.h"
#include "tests/unit/ready_bed.h"
#include "tests/unit/settled_flow.h"

namespace updraught {
namespace {

using step_tests::even_gas;
using step_tests::outside_density;
using step_tests::outside_dry;
using step_tests::problem_of;
using step_tests::Ready;
using step_tests::settled_flow;
using step_tests::viscosity;

/// Prescribed column of 1 m x 0.5 m with other lines added.
std::string column(const std::string& lines) {
  return "bin = { shape = \"box\", width = \"1 m\", length = \"0.5 m\", height = \"1 m\" }\nmode = "
         "\"slice\"\n"
         "cells = [6, 12]\nhold_temperature = \"40 degC\"\n"
         "prescribed = { permeability = \"1e-8 m2\", porosity = 0.4, density = \"600 kg/m3\", conductivity = "
         "\"0.4 W/mK\", heat_capacity = \"3000 J/kgK\", diffusivity = \"5e-6 m2/s\" }\n" +
         lines;
}

const char* const open_column =
    "base = { kind = \"raised\", inlet = \"open\" }\nlid = \"none\"\n"
    "air_in = [ { where = \"base\", kind = \"open\" } ]\nair_out = [ { where = \"top\", kind = \"open\" } "
    "]\n";

const char* const boxed_column =
    "base = { kind = \"raised\", height = \"10 cm\", inlet = \"50 cm2\" }\nlid = \"closed\"\n"
    "air_in = [ { where = \"base\", kind = \"mesh\", open = 0.2 } ]\n"
    "air_out = [ { where = \"lid\", kind = \"gap\", size = \"5 mm\" } ]\n";

/// What a cell or space gets from faces and openings less what it gives (mol/s).
std::vector<double> gains(const Ready& ready, const std::vector<AirPath>& paths, const Flow& flow) {
  std::vector<double> gain;
  divergence(ready.bed.grid, flow.faces, gain);
  for (double& value : gain) value = -value;
  gain.resize(flow.pressure.size(), 0.0);
  for (std::size_t n = 0; n < paths.size(); ++n) {
    gain[at(paths[n].inner)] -= flow.net[n];
    if (paths[n].outer >= 0) gain[at(paths[n].outer)] += flow.net[n];
  }
  return gain;
}

double largest_net(const Flow& flow) {
  double largest = 0.0;
  for (double net : flow.net) largest = std::max(largest, std::abs(net));
  return largest;
}

TEST(Flow, WhatIsStoredIsWhatEntersMoreThanLeaves) {
  Ready ready(problem_of(column(boxed_column)));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const GasState gas = even_gas(ready, 0.1);
  StorageRate storage(gas.density.size());
  for (std::size_t c = 0; c < storage.size(); ++c) storage[c] = 1e-5 * std::sin(static_cast<double>(c));
  const Flow flow = settled_flow(ready, gas, paths, storage);
  const auto gain = gains(ready, paths, flow);
  ASSERT_EQ(ready.bed.setup->nodes.size(), 2u);
  for (std::size_t c = 0; c < gain.size(); ++c)
    EXPECT_NEAR(gain[c], storage[c], 1e-7 * largest_net(flow)) << c;
}

TEST(Flow, OpenColumnFollowsDarcysLaw) {
  Ready ready(problem_of(column(open_column)));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const Flow flow = settled_flow(ready, even_gas(ready, 0.1), paths);
  const Grid& g = ready.bed.grid;
  const double expected = outside_dry * 1e-8 / viscosity * 0.1 * gravity;
  for (int i = 0; i < g.nx; ++i)
    EXPECT_NEAR(flow.faces.z[at(g.cell(i, 0, 6))] / g.area_z(i, 0, 6), expected, 1e-7 * expected);
}

TEST(Flow, ClosedBedOfEvenLayersRestsExactly) {
  Ready ready(problem_of(column("base = { kind = \"closed\" }\nlid = \"on the bed\"\n")));
  GasState gas = even_gas(ready, 0.0);
  const Grid& g = ready.bed.grid;
  for (int k = 0; k < g.nz; ++k)
    for (int i = 0; i < g.nx; ++i) gas.density[at(g.cell(i, 0, k))] = 1.2 - 0.1 * std::sin(1.3 * k);
  const Flow flow = settled_flow(ready, gas, {});
  for (const auto* faces : {&flow.faces.x, &flow.faces.z})
    for (double value : *faces) EXPECT_EQ(value, 0.0);
}

TEST(Flow, InertiaSlowsAFastFlowByForchheimersLaw) {
  std::string text = column(open_column);
  text.replace(text.find("porosity"), 8, "inertia = \"5e5 1/m\", porosity");
  Ready ready(problem_of(text));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const double lighter = 0.3;
  const Flow flow = settled_flow(ready, even_gas(ready, lighter), paths);
  const Grid& g = ready.bed.grid;
  const double u = flow.faces.z[at(g.cell(2, 0, 6))] / g.area_z(2, 0, 6) / outside_dry;
  const double density = outside_density - lighter;
  // Half a cell at either end passes gas of the mean density of both sides.
  EXPECT_NEAR(viscosity / 1e-8 * u + density * 5e5 * u * u, lighter * gravity, 0.01 * lighter * gravity);
  EXPECT_LT(u, 0.9 * lighter * gravity * 1e-8 / viscosity);
}

TEST(Flow, AirThatInertiaAloneSlowsFindsItsSpeedInThreePasses) {
  // At the last speed's resistance such air would let through a lot and a little in turn, for ever.
  std::string text = column(open_column);
  text.replace(text.find("porosity"), 8, "inertia = \"1e7 1/m\", porosity");
  text.replace(text.find("1e-8 m2"), 7, "1e-6 m2");
  Ready ready(problem_of(text));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const double lighter = 0.3;
  const GasState gas = even_gas(ready, lighter);
  const StorageRate nothing(gas.density.size(), 0.0);
  const Grid& g = ready.bed.grid;
  const auto speed = [&](int passes) {
    const Flow flow = settled_flow(ready, gas, paths, nothing, passes);
    return flow.faces.z[at(g.cell(2, 0, 6))] / g.area_z(2, 0, 6) / outside_dry;
  };
  const double u = speed(40);
  EXPECT_NEAR((outside_density - lighter) * 1e7 * u * u, lighter * gravity, 0.02 * lighter * gravity);
  for (const int passes : {3, 4}) EXPECT_NEAR(speed(passes), u, 0.01 * u) << passes;
}

TEST(Flow, ImposedPressureDrivesAirWithoutWarmth) {
  std::string text = column(open_column);
  const std::string base = "{ where = \"base\", kind = \"open\"";
  text.replace(text.find(base), base.size(), base + ", pressure = \"2 Pa\"");
  Ready ready(problem_of(text));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const Flow flow = settled_flow(ready, even_gas(ready, 0.0), paths);
  const Grid& g = ready.bed.grid;
  const double expected = outside_dry * 1e-8 / viscosity * 2.0;
  EXPECT_NEAR(flow.faces.z[at(g.cell(2, 0, 6))] / g.area_z(2, 0, 6), expected, 1e-7 * expected);
}

TEST(Flow, SpaceUnderTheFloorPassesOnWhatItsInletBrings) {
  Ready ready(problem_of(column(boxed_column)));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  const Flow flow = settled_flow(ready, even_gas(ready, 0.2), paths);
  const int node = ready.bed.grid.cells() + node_index(ready.bed, NodeKind::floor_space);
  double inlet = 0.0, floor = 0.0;
  for (std::size_t n = 0; n < paths.size(); ++n) {
    if (paths[n].inner == node) inlet -= flow.net[n];
    if (paths[n].outer == node) floor -= flow.net[n];
  }
  EXPECT_GT(inlet, 0.0);
  EXPECT_NEAR(floor, inlet, 1e-6 * inlet);
}

TEST(Flow, PrescribedSpeedIsTheSameAtEveryHeight) {
  std::string text = column(open_column);
  const std::string k = "permeability = \"1e-8 m2\"";
  text.replace(text.find(k), k.size(), "air_speed = \"2 mm/s\"");
  Ready ready(problem_of(text));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  Flow flow;
  prescribe_flow(ready.bed, even_gas(ready, 0.1), paths, 2e-3, flow);
  for (double gain : gains(ready, paths, flow)) EXPECT_NEAR(gain, 0.0, 1e-15);
  const Grid& g = ready.bed.grid;
  EXPECT_NEAR(flow.faces.z[at(g.cell(1, 0, 3))] / g.area_z(1, 0, 3), 2e-3 * outside_dry, 1e-12);
}

TEST(Flow, PrescribedSpeedPassesThroughTheSpaceUnderALid) {
  std::string text = column(boxed_column);
  const std::string k = "permeability = \"1e-8 m2\"";
  text.replace(text.find(k), k.size(), "air_speed = \"2 mm/s\"");
  Ready ready(problem_of(text));
  const auto paths = air_paths(ready.bed, ready.work.frame.now);
  Flow flow;
  prescribe_flow(ready.bed, even_gas(ready, 0.1), paths, 2e-3, flow);
  const double all = 2e-3 * outside_dry * ready.bed.grid.layer_area(0);
  double in = 0.0, out = 0.0;
  for (std::size_t n = 0; n < paths.size(); ++n) {
    if (paths[n].outer >= 0) continue;
    in -= std::min(flow.net[n], 0.0);
    out += std::max(flow.net[n], 0.0);
  }
  EXPECT_NEAR(in, all, 1e-12 * all);
  EXPECT_NEAR(out, all, 1e-12 * all);
}

}  // namespace
}  // namespace updraught
