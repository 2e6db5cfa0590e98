#include "solver/output/measures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>

#include "mesh/parallel/index.h"
#include "solver/linear/transport_solver.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

constexpr double seconds_per_hour = 3600.0;

/// Largest departure of a value from the cell's mean towards its neighbours, half way: |d|/2 summed over
/// directions.
double half_range(const Grid& g, const std::vector<double>& v, int i, int j, int k) {
  const double here = v[at(g.cell(i, j, k))];
  const auto slope = [&](int n, int count, auto&& cell_at) {
    const bool below = n > 0 && g.open(cell_at(n - 1)), above = n < count - 1 && g.open(cell_at(n + 1));
    const double low = below ? here - v[at(cell_at(n - 1))] : 0.0;
    const double high = above ? v[at(cell_at(n + 1))] - here : 0.0;
    return !below ? high : !above ? low : 0.5 * (low + high);
  };
  const double x = slope(i, g.nx, [&](int n) { return g.cell(n, j, k); });
  // Beyond the middle of a mirrored bed lies the same again.
  const double y =
      slope(j, g.mirrored ? g.ny + 1 : g.ny, [&](int n) { return g.cell(i, std::min(n, g.ny - 1), k); });
  const double z = slope(k, g.nz, [&](int n) { return g.cell(i, j, n); });
  return 0.5 * (std::abs(x) + std::abs(y) + std::abs(z));
}

double plan_mean_of_layer(const Grid& g, const std::vector<double>& v, int k) {
  double sum = 0.0, area = 0.0;
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i) {
      const int cell = g.cell(i, j, k);
      const double open = g.plan_area[at(g.column(i, j))] * double(g.fraction[at(cell)]);
      sum += v[at(cell)] * open;
      area += open;
    }
  return sum / area;
}

/// Superficial velocity at the middle of a cell from the flows through its faces (m/s).
std::array<double, 3> cell_velocity(const Bed& bed, const State& s, const std::vector<double>& dry_density,
                                    int i, int j, int k) {
  const Grid& g = bed.grid;
  const auto c = at(g.cell(i, j, k));
  const auto mean = [](double low, double low_area, double high, double high_area) {
    double sum = 0.0;
    int n = 0;
    if (low_area > 0.0) sum += low / low_area, ++n;
    if (high_area > 0.0) sum += high / high_area, ++n;
    return n > 0 ? sum / n : 0.0;
  };
  const bool right = i < g.nx - 1, back = j < g.ny - 1;
  const double x = mean(s.flux_x[c], g.area_x(i, j, k), right ? s.flux_x[c + 1] : 0.0,
                        right ? g.area_x(i + 1, j, k) : 0.0);
  const double y = mean(s.flux_y[c], g.area_y(i, j, k), back ? s.flux_y[at(g.cell(i, j + 1, k))] : 0.0,
                        back         ? g.area_y(i, j + 1, k)
                        : g.mirrored ? g.area_y(i, j, k)
                                     : 0.0);
  const bool top = k == g.nz - 1 || !g.open(g.cell(i, j, k + 1));
  const double high = top ? s.flux_top[at(g.column(i, j))] : s.flux_z[at(g.cell(i, j, k + 1))];
  const double high_area = top ? g.plan_area[at(g.column(i, j))] : g.area_z(i, j, k + 1);
  const double z = mean(s.flux_z[c], k > 0 ? g.area_z(i, j, k) : 0.0, high, high_area);
  return {x / dry_density[c], y / dry_density[c], z / dry_density[c]};
}

std::vector<double> dry_density_of(const Bed& bed, const State& s, const Properties& now) {
  std::vector<double> c(s.temperature.size());
  for_items(c.size(), [&](std::size_t n) {
    c[n] = bed.setup->gas.dry_density(s.temperature[n],
                                      bed.setup->gas.vapour_ratio(s.temperature[n], now.activity[n]));
  });
  return c;
}

std::vector<double> oxygen_fraction(const State& s) {
  std::vector<double> x(s.oxygen.size());
  for_items(x.size(), [&](std::size_t c) { x[c] = s.oxygen[c] / s.dry_gas[c]; });
  return x;
}

/// Smallest and largest of a field over the open cells.
std::pair<double, double> ends(const Grid& g, const std::vector<double>& v) {
  constexpr double huge = std::numeric_limits<double>::infinity();
  std::vector<std::pair<double, double>> part(at(g.ny), {huge, -huge});
  for_rows(g.ny, v.size(), [&](int j) {
    auto& [low, high] = part[at(j)];
    for (int cell = g.cell(0, j, 0); cell < g.cell(0, j, 0) + g.nx * g.nz; ++cell) {
      if (!g.open(cell)) continue;
      low = std::min(low, v[at(cell)]);
      high = std::max(high, v[at(cell)]);
    }
  });
  std::pair<double, double> all = part.front();
  for (const auto& [low, high] : part) all = {std::min(all.first, low), std::max(all.second, high)};
  return all;
}

/// m3/h of moist outside air per mol/s of dry gas.
double outside_volume(const Trial& trial) {
  return seconds_per_hour / trial.gas.outside_dry_density;
}

/// A flow for each opening, through which nothing passes yet.
std::vector<OpeningFlow> no_flows(const Problem& p) {
  std::vector<OpeningFlow> out;
  for (const Opening& o : p.openings)
    out.push_back({.name = o.name, .opening = static_cast<int>(out.size())});
  return out;
}

void opening_flows(const Bed& bed, const State& s, const StepDone& step, SeriesRow& row) {
  const auto& [frame, trial, books, memory] = step;
  const Problem& p = bed.setup->problem;
  row.openings = no_flows(p);
  bool inlet = false;
  OpeningFlow slots{.name = "inlet of the raised base"};
  const double scale = outside_volume(trial) * p.plan_scale;
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    if (path.opening < 0 && path.outer >= 0) continue;
    if (path.opening < 0) inlet = true;
    OpeningFlow& flow = path.opening < 0 ? slots : row.openings[at(path.opening)];
    const double net = trial.flow.net[n];
    flow.air_in += scale * (std::max(-net, 0.0) + trial.flow.exchange[n]);
    flow.air_out += scale * (std::max(net, 0.0) + trial.flow.exchange[n]);
    flow.exchange += scale * trial.flow.exchange[n];
    flow.heat += p.plan_scale * (books.path_heat[n] - net * frame.outside.enthalpy);
    if (path.outer < 0) row.air_in += scale * std::max(-net, 0.0);
  }
  if (inlet) row.openings.push_back(slots);
  for (int n = 0; n < static_cast<int>(p.openings.size()); ++n)
    if (p.openings[at(n)].where == Opening::Where::side)
      row.openings[at(n)].near_wall = near_wall_share(bed, s, step, n, 0.10);
}

/// Heat that leaves through each wall, as booked: parts of the path "walls".
void heat_by_wall(const Bed& bed, const Frame& frame, const Trial& trial, SeriesRow& row) {
  const std::vector<Side>& walls = sides_of(bed.grid.mode);
  if (walls.size() < 2) return;
  constexpr std::array names{"wall_left", "wall_right", "wall_front", "wall_back"};
  std::array<double, names.size()> heat{};
  for (const ConductingPatch& patch : frame.heat)
    if (patch.boundary == Boundary::wall)
      heat[static_cast<std::size_t>(patch.side)] +=
          patch.conductance * (trial.temperature[at(patch.cell)] - patch.far) - patch.flux_in;
  // The back of a mirrored bed is its front once more.
  if (bed.grid.mirrored) {
    const double front = heat[static_cast<std::size_t>(Side::front)];
    for (const auto wall : {Side::front, Side::back}) heat[static_cast<std::size_t>(wall)] = 0.5 * front;
  }
  for (const Side side : walls)
    row.heat_by_path[names[static_cast<std::size_t>(side)]] =
        bed.setup->problem.plan_scale * heat[static_cast<std::size_t>(side)];
}

}  // namespace

double share_above(const Grid& g, const std::vector<double>& oxygen, const std::vector<double>& weight,
                   double threshold) {
  std::vector<double> above(at(g.ny), 0.0), total(at(g.ny), 0.0);
  for_rows(g.ny, at(g.cells()), [&](int j) {
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) {
        const auto c = at(g.cell(i, j, k));
        const double half = half_range(g, oxygen, i, j, k);
        const double over = oxygen[c] - threshold;
        const double share =
            half > 0.0 ? std::clamp(0.5 + 0.5 * over / half, 0.0, 1.0) : (over > 0.0 ? 1.0 : 0.0);
        above[at(j)] += share * weight[c];
        total[at(j)] += weight[c];
      }
  });
  const double whole = tree_sum(total);
  return whole > 0.0 ? tree_sum(above) / whole : 0.0;
}

double near_wall_share(const Bed& bed, const State& s, const StepDone& step, int opening, double reach) {
  const auto& [frame, trial, books, memory] = step;
  const Grid& g = bed.grid;
  const auto cells = at(g.cells());
  const auto in_core = [&](int c) { return g.coordinates().to_wall(c % g.nx, c / (g.nx * g.nz)) > reach; };
  double entering = 0.0;
  TransportOperator a;
  a.nx = g.nx;
  a.ny = g.ny;
  a.nz = g.nz;
  for (auto* field : {&a.up_x, &a.down_x, &a.up_y, &a.down_y, &a.up_z, &a.down_z}) field->assign(cells, 0.0);
  a.diagonal.assign(cells, 1e-30);
  std::vector<double> b(cells, 0.0), tracer(cells, 0.0);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    if (frame.paths[n].inner >= g.cells()) continue;
    const auto c = at(frame.paths[n].inner);
    a.diagonal[c] += std::max(trial.flow.net[n], 0.0);
    if (frame.paths[n].opening != opening || in_core(frame.paths[n].inner)) continue;
    b[c] += std::max(-trial.flow.net[n], 0.0);
    entering += std::max(-trial.flow.net[n], 0.0);
  }
  if (entering <= 0.0) return std::numeric_limits<double>::quiet_NaN();
  // Cells of the core swallow the tracer: they feed nothing back.
  for (int direction = 0; direction < 3; ++direction) {
    const int stride = direction == 0 ? 1 : direction == 1 ? g.nx * g.nz : g.nx;
    const auto& flow = direction == 0 ? s.flux_x : direction == 1 ? s.flux_y : s.flux_z;
    auto& up = direction == 0 ? a.up_x : direction == 1 ? a.up_y : a.up_z;
    auto& down = direction == 0 ? a.down_x : direction == 1 ? a.down_y : a.down_z;
    for (int c = 0; c < g.cells(); ++c) {
      const double q = flow[at(c)];
      if (q == 0.0) continue;
      const int low = c - stride;
      a.diagonal[at(q > 0.0 ? low : c)] += std::abs(q);
      if (q > 0.0 && !in_core(low)) up[at(c)] = q;
      if (q < 0.0 && !in_core(c)) down[at(c)] = -q;
    }
  }
  if (!solve_once(a, b, tracer, StoppingCriterion{1e-6, 0.0, 200}, memory).converged)
    return std::numeric_limits<double>::quiet_NaN();
  double swallowed = 0.0;
  for (int c = 0; c < g.cells(); ++c)
    if (in_core(c)) swallowed += a.diagonal[at(c)] * tracer[at(c)];
  return std::clamp(1.0 - swallowed / entering, 0.0, 1.0);
}

std::vector<std::array<double, 3>> cell_velocities(const Bed& bed, const State& s, const Properties& now) {
  const Grid& g = bed.grid;
  const std::vector<double> c_dry = dry_density_of(bed, s, now);
  std::vector<std::array<double, 3>> out(at(g.cells()));
  for_rows(g.ny, at(g.cells()), [&](int j) {
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i) out[at(g.cell(i, j, k))] = cell_velocity(bed, s, c_dry, i, j, k);
  });
  return out;
}

SeriesRow series_row(const Bed& bed, const State& s, const Properties& now, const StepDone* step) {
  const Grid& g = bed.grid;
  const Problem& p = bed.setup->problem;
  const auto cells = at(g.cells());
  SeriesRow row;
  row.time = s.time();
  row.step = s.clock.last_step;
  row.height = g.height();
  std::tie(row.coldest, row.hottest) = ends(g, s.temperature);
  row.coldest_hours_hot = ends(g, s.hours_hot).first;
  row.dry_mass = p.plan_scale * ordered_sum(cells, [&](std::size_t c) { return dry_of(s, c); });
  row.water = p.plan_scale * ordered_sum(cells, [&](std::size_t c) { return s.water[c]; });
  row.mean_temperature = ordered_sum(cells, [&](std::size_t c) { return now.volume[c] * s.temperature[c]; }) /
                         ordered_sum(cells, [&](std::size_t c) { return now.volume[c]; });
  std::vector<double> solids(cells);
  for_items(cells, [&](std::size_t c) { solids[c] = volatile_solids_of(s, c); });
  const std::vector<double> oxygen = oxygen_fraction(s);
  row.aired_share = share_above(g, oxygen, now.volume, 0.05);
  row.well_aired_share = share_above(g, oxygen, now.volume, 0.10);
  row.aired_share_solids = share_above(g, oxygen, bed.setup->blends.empty() ? now.volume : solids, 0.05);
  row.outside_temperature = outside_temperature(p.outside, s.time());
  row.base_air_between = plan_mean_of_layer(g, now.between, 0);
  row.top_air_between = plan_mean_of_layer(g, now.between, g.nz - 1);
  row.base_permeability = plan_mean_of_layer(g, now.across, 0);
  row.base_stress = s.stress.front();
  row.leachate = p.plan_scale * s.booked[water_drained];
  row.filled = p.plan_scale * (s.booked[dry_filled] + s.booked[water_filled]);
  row.filled_dry = p.plan_scale * s.booked[dry_filled];
  for (const auto& v : cell_velocities(bed, s, now))
    row.largest_velocity =
        std::max(row.largest_velocity, 1e3 * std::sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]));
  if (step == nullptr) {
    row.openings = no_flows(p);
    return row;
  }
  row.oxygen_uptake =
      p.plan_scale * step->books.rates[oxygen_used] * molar_oxygen * 1000.0 * seconds_per_hour;
  row.heat_made = p.plan_scale * step->books.rates[heat_made];
  row.heat_by_path = {{"walls", p.plan_scale * step->books.rates[heat_walls]},
                      {"floor", p.plan_scale * step->books.rates[heat_floor]},
                      {"top", p.plan_scale * step->books.rates[heat_top]},
                      {"air", p.plan_scale * step->books.rates[heat_air]}};
  heat_by_wall(bed, step->frame, step->trial, row);
  opening_flows(bed, s, *step, row);
  return row;
}

}  // namespace updraught
