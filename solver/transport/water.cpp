#include "solver/transport/water.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "mesh/parallel/index.h"
#include "solver/transport/air_spaces.h"

namespace updraught {

namespace {

/// Free water leaves the pores with this time constant (s); our choice, range 1 h to 1 d.
constexpr double drain_time = 6.0 * 3600.0;

/// Share of the pores in which air stays when water fills them from above: entrapped, 0.05 to 0.15 in soils
/// (textbooks, from memory).
constexpr double entrapped_air = 0.05;

/// Below this content (kg/kg dry) the pore air over a cell may be drier than saturated.
constexpr double sorption_limit = 0.6;

/// Vapour that a cell gives off per unit of its own vapour ratio (mol/s): flow, exchange and diffusion.
double vapour_outflow(const Bed& bed, const Trial& trial, const TransportWork& work, int cell) {
  const Grid& g = bed.grid;
  const int i = cell % g.nx, k = (cell / g.nx) % g.nz, j = cell / (g.nx * g.nz);
  const int slab = g.nx * g.nz;
  const Faces& q = trial.flow.faces;
  const Faces& d = work.vapour_flow;
  const auto low = [&](const std::vector<double>& flow, const std::vector<double>& spread) {
    return std::max(-flow[at(cell)], 0.0) + spread[at(cell)];
  };
  const auto high = [&](const std::vector<double>& flow, const std::vector<double>& spread, int step) {
    return std::max(flow[at(cell + step)], 0.0) + spread[at(cell + step)];
  };
  double sum = low(q.x, d.x) + low(q.y, d.y) + low(q.z, d.z);
  if (i < g.nx - 1) sum += high(q.x, d.x, 1);
  if (j < g.ny - 1) sum += high(q.y, d.y, slab);
  if (k < g.nz - 1) sum += high(q.z, d.z, g.nx);
  return sum;
}

/// Water of a drying cell at the end of the step: what it gives off falls with its own water activity, so the
/// two are found together. `freely` is the water left if the activity stayed as it is, `loss` the water lost
/// per unit of vapour ratio (kg).
double drying_water(const Bed& bed, double dry, double temperature, double ratio, double freely,
                    double loss) {
  const auto excess = [&](double water) {
    return water - freely +
           loss * (bed.setup->gas.vapour_ratio(temperature, water_activity(water / dry)) - ratio);
  };
  double low = 0.0, high = std::max(freely + loss * ratio, 1e-12);
  if (excess(high) <= 0.0) return high;
  double water = std::clamp(freely, low, high);
  for (int pass = 0; pass < 60 && high - low > 1e-13 * high; ++pass) {
    (excess(water) < 0.0 ? low : high) = water;
    water = 0.5 * (low + high);
  }
  return water;
}

/// Water that the pores of a cell still take beside what lies free in them (kg).
double room_for_water(const Properties& now, double water, std::size_t c) {
  const double air = 1000.0 * now.between[c] * now.volume[c];
  return std::max(air - entrapped_air * (air + water), 0.0);
}

}  // namespace

void water_of_cells(const Bed& bed, const Frame& frame, Trial& trial, TransportWork& work,
                    const std::vector<double>& warmer, std::vector<double>& leaving) {
  const Grid& g = bed.grid;
  const auto rise = [&](std::size_t c) { return warmer.empty() ? 0.0 : trial.vapour_slope[c] * warmer[c]; };
  second_order_part(g, trial.flow.faces, trial.temperature, &trial.vapour_slope, &trial.enthalpy_slope,
                    work.spreading, FirstCell::linear, work.correction);
  for_faces(g, [&](auto direction, const FacePair& f) {
    const auto lo = at(f.low), hi = at(f.high);
    const double q = along(trial.flow.faces, direction)[hi];
    const double low = trial.vapour_ratio[lo] + rise(lo), high = trial.vapour_ratio[hi] + rise(hi);
    along(work.correction, direction)[hi] +=
        q * (q > 0.0 ? low : high) + along(work.vapour_flow, direction)[hi] * (low - high);
  });
  divergence(g, work.correction, leaving);
  for_items(leaving.size(), [&](std::size_t c) {
    leaving[c] = leaving[c] * molar_water - consumed_mass(bed, trial, c).water + frame.drained[c] -
                 drained_into(frame, g, static_cast<int>(c));
  });
}

void update_water(const Bed& bed, const State& old, const Frame& frame, Trial& trial, TransportWork& work) {
  if (bed.setup->gas.constant()) return;
  const auto cells = at(bed.grid.cells());
  std::vector<double>& leaving = work.rhs;
  std::vector<double>& outflow = work.scratch;
  water_of_cells(bed, frame, trial, work, {}, leaving);
  outflow.assign(cells, 0.0);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    if (at(frame.paths[n].inner) >= cells) continue;
    leaving[at(frame.paths[n].inner)] += through_path(bed, frame, trial, n).water;
    outflow[at(frame.paths[n].inner)] += std::max(trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  }
  for (const SurfaceState& s : trial.surfaces) leaving[at(frame.paths[s.path].inner)] += s.evaporation;
  for_rows(bed.grid.ny, cells, [&](int j) {
    const int slab = bed.grid.nx * bed.grid.nz;
    for (int cell = j * slab; cell < (j + 1) * slab; ++cell) {
      const auto c = at(cell);
      const double carried = old.last_water.empty() ? 0.0 : frame.rule.history * old.last_water[c];
      trial.water[c] = old.water[c] + carried - frame.rule.beta_dt * leaving[c];
      const double dry = frame.now.dry_mass[c];
      trial.yielding[c] = 1.0F;
      if (dry <= 0.0 || std::min(trial.water[c], old.water[c]) > sorption_limit * dry) continue;
      const double loss =
          frame.rule.beta_dt * molar_water * (outflow[c] + vapour_outflow(bed, trial, work, cell));
      trial.water[c] =
          drying_water(bed, dry, trial.temperature[c], trial.vapour_ratio[c], trial.water[c], loss);
      trial.activity[c] = water_activity(trial.water[c] / dry);
      const double whole = 1.0 + bed.setup->gas.vapour_ratio(trial.temperature[c], trial.activity[c]);
      const double per_activity =
          whole * whole * saturation_pressure(trial.temperature[c]) / bed.setup->gas.pressure();
      const double held_back = loss * per_activity * water_activity_slope(trial.water[c] / dry) / dry;
      trial.yielding[c] = static_cast<float>(1.0 / (1.0 + held_back));
    }
  });
  refresh_vapour(bed, trial);
}

void drain(const Bed& bed, const State& foreseen, Frame& frame) {
  const Grid& g = bed.grid;
  frame.drained.assign(at(g.cells()), 0.0);
  if (bed.setup->blends.empty()) return;
  // From extrapolated amounts the rates are of second order in the step; beyond the time constant they would
  // swing.
  const double time = std::max(drain_time, frame.rule.dt);
  // From the floor up: water stands above pores that are full, instead of lifting the bed.
  for_rows(g.ny, at(g.cells()), [&](int j) {
    std::vector<double> taken(at(g.nx),
                              std::numeric_limits<double>::infinity());  // by what lies below (kg/s)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const int cell = g.cell(i, j, k);
        const double water = free_water(bed, foreseen, cell);
        double& drained = frame.drained[at(cell)];
        drained = std::min(water / time, taken[at(i)]);
        taken[at(i)] = drained + room_for_water(frame.now, water, at(cell)) / time;
      }
  });
}

double drained_into(const Frame& frame, const Grid& grid, int cell) {
  const bool top = grid.layer_of(cell) == grid.nz - 1;
  return top ? 0.0 : frame.drained[at(cell + grid.nx)];
}

}  // namespace updraught
