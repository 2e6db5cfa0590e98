// The script that recomputes the balances from a store: it passes a run that closes and fails one that leaks.
#include <gtest/gtest.h>

#include "post/store/store_write.h"
#include "solver/bed/bed.h"
#include "solver/material/moist_air.h"
#include "tests/unit/made_up_result.h"
#include "tests/unit/run_python.h"

namespace updraught {
namespace {

using made_up::Folder;

/// Heat of cells and nodes by the solver's own gas (J).
double stored_heat(const Gas& gas, const State& s) {
  double heat = 0.0;
  for (std::size_t c = 0; c < s.temperature.size(); ++c) {
    const double dry = s.chips_ash[c] + s.soft_ash[c] + volatile_solids_of(s, c);
    const double t = s.temperature[c], w = gas.vapour_ratio(t, water_activity(s.water[c] / dry));
    const double liquid = s.water[c] - s.dry_gas[c] * w * molar_water;
    heat += dry * heat_capacity_dry_matter * t + liquid * heat_capacity_water * t +
            s.dry_gas[c] * gas.enthalpy(t, w);
  }
  for (std::size_t n = 0; n < s.node_temperature.size(); ++n)
    heat += s.node_dry_gas[n] *
            gas.enthalpy(s.node_temperature[n], s.node_vapour[n] / (molar_water * s.node_dry_gas[n]));
  return heat;
}

/// Two states that differ by what is booked between them.
struct Ends {
  Grid grid = made_up::grid();
  State first;
  State last;
};

Ends balanced_run(const Gas& gas) {
  Ends run;
  State s = made_up::state(run.grid, 0.0);
  for (std::size_t c = 0; c < s.temperature.size(); ++c) {
    const double wave = made_up::scatter(c, 0.5) / 43.7;
    s.temperature[c] = 40.0 + 20.0 * wave;
    s.dry_gas[c] = 1.5 + 0.2 * wave;
    s.oxygen[c] = 0.1 + 0.05 * wave;
    s.water[c] = 0.3 + 0.25 * wave;  // from wet to nearly dry
    s.chips_ash[c] = 0.01;
    s.soft_ash[c] = 0.04;
    for (auto& pool : s.pool) pool[c] = 0.2 + 0.1 * wave;
  }
  s.node_temperature = {12.0, 35.0};
  s.node_dry_gas = {2.0, 3.0};
  s.node_oxygen = {0.4, 0.5};
  s.node_vapour = {0.0003, 0.0012};
  for (double& sum : s.booked) sum = 1000.0;  // only differences count
  run.first = s;
  s.clock.time = 86400.0;
  s.dry_gas[3] += 7.0 - 6.5 + 0.25;
  s.oxygen[4] += 1.5 - 1.0 - 0.6 + 0.02;
  s.node_vapour[1] += 0.001;
  s.water[5] += 0.4 - 0.3 + 0.05 - 0.01 - 0.001;
  s.pool[pool_of::wood][6] -= 0.125;
  s.temperature[7] += 15.0;
  const double gained = stored_heat(gas, s) - stored_heat(gas, run.first);
  s.booked[gas_in] += 7.0, s.booked[gas_out] += 6.5, s.booked[gas_made] += 0.25;
  s.booked[oxygen_in] += 1.5, s.booked[oxygen_out] += 1.0, s.booked[oxygen_used] += 0.6;
  s.booked[oxygen_clipped] += 0.02;
  s.booked[water_in] += 0.4, s.booked[water_out] += 0.3, s.booked[water_made] += 0.05;
  s.booked[water_drained] += 0.01;
  s.booked[dry_lost] += 0.125;
  s.booked[heat_in] += 2000.0, s.booked[heat_made] += 5000.0 + gained, s.booked[heat_out] += 7000.0;
  run.last = s;
  return run;
}

made_up::Printed recompute(const Ends& run) {
  const Folder folder;
  StoreFacts facts = made_up::facts(run.grid);
  facts.constants = {{"constant_air", 0.0},
                     {"site_pressure", 95000.0},
                     {"heat_capacity_dry_matter", heat_capacity_dry_matter},
                     {"heat_capacity_water", heat_capacity_water},
                     {"heat_capacity_vapour", heat_capacity_vapour},
                     {"evaporation_enthalpy", evaporation_enthalpy},
                     {"heat_capacity_dry_gas", 29.14},
                     {"molar_mass_water", molar_water}};
  StoreWriter writer(folder.path(), facts);
  writer.write_time(run.first, run.grid, nullptr, made_up::row(0.0));
  writer.write_time(run.last, run.grid, nullptr, made_up::row(86400.0));
  writer.finish(made_up::ended(0));
  return made_up::run_python(std::string(UPDRAUGHT_SOURCE_DIR) + "/tests/whole/recompute_balances.py " +
                             writer.path().string());
}

Gas gas_at_height() {
  Problem problem;
  problem.outside.pressure = 95000.0;
  return gas_of(problem);
}

TEST(RecomputeBalances, RunThatClosesPasses) {
  if (!made_up::python_has("h5py")) GTEST_SKIP() << made_up::python << " has no h5py";
  const made_up::Printed printed = recompute(balanced_run(gas_at_height()));
  EXPECT_EQ(printed.status, 0) << printed.text;
  for (const char* name : {"dry_gas", "oxygen", "heat", "water", "dry_mass"})
    EXPECT_LT(std::stod(printed[name]), 1e-9) << printed.text;
}

TEST(RecomputeBalances, LeakOfAMillionthFailsEachBalance) {
  if (!made_up::python_has("h5py")) GTEST_SKIP() << made_up::python << " has no h5py";
  const std::map<std::string, Booked> leaks{{"dry_gas", gas_in},
                                            {"oxygen", oxygen_in},
                                            {"heat", heat_made},
                                            {"water", water_in},
                                            {"dry_mass", dry_lost}};
  for (const auto& [name, entry] : leaks) {
    Ends run = balanced_run(gas_at_height());
    double& sum = run.last.booked[static_cast<std::size_t>(entry)];
    sum += 1e-6 * (sum - run.first.booked[static_cast<std::size_t>(entry)]);
    const made_up::Printed printed = recompute(run);
    EXPECT_NE(printed.status, 0) << name << "\n" << printed.text;
    EXPECT_GT(std::stod(printed[name]), 1e-7) << printed.text;
  }
}

TEST(RecomputeBalances, WhatIsSealedInIsMeasuredByWhatIsThere) {
  if (!made_up::python_has("h5py")) GTEST_SKIP() << made_up::python << " has no h5py";
  Ends run = balanced_run(gas_at_height());
  run.last = run.first;
  run.last.clock.time = 86400.0;
  EXPECT_EQ(recompute(run).status, 0);
  double all = 0.0;
  for (const double part : run.first.dry_gas) all += part;
  for (const double part : run.first.node_dry_gas) all += part;
  run.last.dry_gas[3] += 1e-9 * all;
  const made_up::Printed printed = recompute(run);
  EXPECT_NE(printed.status, 0) << printed.text;
  EXPECT_NEAR(std::stod(printed["dry_gas"]), 1e-9, 1e-11) << printed.text;
}

}  // namespace
}  // namespace updraught
