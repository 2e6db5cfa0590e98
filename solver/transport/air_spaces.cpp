#include "solver/transport/air_spaces.h"

#include <algorithm>
#include <cmath>

#include "mesh/parallel/index.h"
#include "solver/linear/newton.h"
#include "solver/transport/boundary_heat.h"

namespace updraught {

namespace {

double transfer_speed(const SurfaceState& s) {
  return s.convection / 1207.0;
}

/// Conductance for vapour that diffuses through a connection (mol/s per unit of vapour ratio).
double vapour_conductance(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t n) {
  const AirPath& path = frame.paths[n];
  if (bed.setup->gas.constant() || !path.diffuses || film_law(bed, path) || path.held_at) return 0.0;
  const double free = diffusivity_vapour(trial.temperature[at(path.inner)], bed.setup->gas.pressure());
  double resistance = path.diffusive_plate / free;
  if (path.inner < bed.grid.cells()) {
    const double ratio = frame.now.diffusion[at(path.inner)];
    const double inside = bed.setup->problem.prescribed.diffusivity ? ratio : ratio * free;
    if (inside <= 0.0) return 0.0;
    resistance += path.diffusive_bed / inside;
  }
  return resistance > 0.0 ? trial.gas.dry_density[at(path.inner)] / resistance : 0.0;
}

double beyond_ratio(const Frame& frame, const Trial& trial, const AirPath& path) {
  return path.outer < 0 ? frame.outside.vapour_ratio : trial.vapour_ratio[at(path.outer)];
}

double beyond_enthalpy(const Bed& bed, const Frame& frame, const Trial& trial, const AirPath& path) {
  if (path.outer < 0) return frame.outside.enthalpy;
  return bed.setup->gas.enthalpy(trial.temperature[at(path.outer)], trial.vapour_ratio[at(path.outer)]);
}

/// Temperature at which air leaves a cell through an open surface (degC): on the line through the cell and
/// the one behind it where conduction resolves them, the cell's own where the air sweeps it along (9.4).
double leaving_temperature(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t n) {
  const AirPath& path = frame.paths[n];
  const Grid& g = bed.grid;
  const auto self = at(path.inner);
  const double t = trial.temperature[self];
  if (!path.surface() || trial.flow.net[n] <= 0.0) return t;
  const int k = g.layer_of(path.inner);
  const bool top = at_top(bed, path);
  const int behind = top ? path.inner - g.nx : path.inner + g.nx;
  if ((top ? k == 0 : k == g.nz - 1) || !g.open(behind)) return t;
  const double half = 0.5 * g.dz[at(k)];
  const double apart = half + 0.5 * g.dz[at(top ? k - 1 : k + 1)];
  const double carried = trial.flow.net[n] * trial.enthalpy_slope[self];
  const double conducted = frame.now.conductivity[self] * path.face / (2.0 * half);
  const double resolved = std::clamp(2.0 - 0.5 * carried / conducted, 0.0, 1.0);
  return t + resolved * half / apart * (t - trial.temperature[at(behind)]);
}

/// What air carries as it leaves the inner end of a connection.
struct LeavingAir {
  double enthalpy = 0.0;  ///< J/mol dry
  double ratio = 0.0;     ///< mol/mol dry
};

LeavingAir leaving_air(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t n) {
  const auto self = at(frame.paths[n].inner);
  const bool cell = frame.paths[n].inner < bed.grid.cells();
  const double t = cell ? leaving_temperature(bed, frame, trial, n) : trial.temperature[self];
  const double ratio = t == trial.temperature[self] ? trial.vapour_ratio[self]
                                                    : bed.setup->gas.vapour_ratio(t, trial.activity[self]);
  return {bed.setup->gas.enthalpy(t, ratio), ratio};
}

/// Adds what one connection brings to a node and takes from it.
void add_path(const Bed& bed, const Frame& frame, const Trial& trial, int self, std::size_t n, NodeTerms& t) {
  const AirPath& path = frame.paths[n];
  const bool inner = path.inner == self;
  const double sign = inner ? 1.0 : -1.0;  // flow is positive from inner to outer
  const double out = std::max(sign * trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  const double in = std::max(-sign * trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  const double ratio = inner ? beyond_ratio(frame, trial, path) : trial.vapour_ratio[at(path.inner)];
  const LeavingAir entering =
      inner ? LeavingAir{beyond_enthalpy(bed, frame, trial, path), ratio} : leaving_air(bed, frame, trial, n);
  const double diffuse = vapour_conductance(bed, frame, trial, n);
  t.leaving += out;
  t.enthalpy += in * entering.enthalpy;
  t.vapour += in * entering.ratio + diffuse * ratio;
  t.vapour_out += diffuse;
  if (inner) {
    t.own_diffusion += diffuse;
    t.own_entering += diffuse * ratio;
  } else if (diffuse > 0.0) {
    const double carried = bed.setup->gas.vapour_enthalpy(trial.temperature[at(path.inner)]);
    t.enthalpy += diffuse * ratio * carried;
    t.other_diffusion += diffuse * carried;
  }
}

/// Whether a connection joins two air spaces, so that what it brings hangs on both.
bool between_nodes(const Bed& bed, const AirPath& path) {
  return path.inner >= bed.grid.cells() && path.outer >= 0;
}

/// Adds what the bed's surfaces exchange with the air space that they face.
void add_surfaces(const Bed& bed, const Frame& frame, const Trial& trial, int self, NodeTerms& t) {
  for (const SurfaceState& s : trial.surfaces) {
    const AirPath& path = frame.paths[s.path];
    if (path.outer != self) continue;
    const double film = (s.convection + film_radiation) * path.face;
    t.film += film;
    t.film_heat += film * s.surface;
    if (bed.setup->gas.constant()) continue;
    const double speed = transfer_speed(s) * path.face;
    const double enthalpy = bed.setup->gas.vapour_enthalpy(s.surface);
    t.transfer += speed;
    t.transfer_wet += speed * s.wet;
    t.transfer_enthalpy += speed * enthalpy;
    t.transfer_wet_enthalpy += speed * s.wet * enthalpy / molar_water;
  }
}

/// Vapour ratio that a node would have without condensing, at its gas density (mol/mol).
double free_ratio(const NodeTerms& t, double stored, double dry_gas, double dry_density, double time) {
  const double film = t.transfer * dry_density;
  return (stored + time * (t.vapour + t.transfer_wet / molar_water)) /
         (dry_gas + time * (t.leaving + t.vapour_out + film));
}

}  // namespace

std::vector<NodeTerms> terms_of_cells(const Bed& bed, const Frame& frame, const Trial& trial) {
  const int cells = bed.grid.cells();
  std::vector<NodeTerms> terms(bed.setup->nodes.size());
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    if (between_nodes(bed, path)) continue;
    const int self = path.inner >= cells ? path.inner : path.outer;
    if (self >= cells) add_path(bed, frame, trial, self, n, terms[at(self - cells)]);
  }
  return terms;
}

bool solve_node(const Bed& bed, const State& old, int node, const NodeTerms& of_cells, const Frame& frame,
                Trial& trial) {
  const auto self = at(bed.grid.cells() + node);
  const auto n = at(node);
  NodeTerms t = of_cells;
  for (std::size_t p = 0; p < frame.paths.size(); ++p) {
    const AirPath& path = frame.paths[p];
    if (between_nodes(bed, path) && (at(path.inner) == self || at(path.outer) == self))
      add_path(bed, frame, trial, static_cast<int>(self), p, t);
  }
  add_surfaces(bed, frame, trial, static_cast<int>(self), t);
  const double time = frame.rule.beta_dt;
  const bool first = old.last_water.empty();
  const double carried_vapour = first ? 0.0 : frame.rule.history * old.last_water[self];
  const double carried_heat = first ? 0.0 : frame.rule.history * old.last_heat[self];
  const double stored = std::max(old.node_vapour[n] + carried_vapour, 0.0) / molar_water;
  const double was = node_enthalpy(bed, old, node) + carried_heat;
  const double loss = node_conductance(bed, node);
  const double dry_gas = trial.dry_gas[self];

  // The film's driving density is taken at the pass's gas density, so that the vapour balance stays linear.
  const double density = trial.gas.dry_density[self];
  const double free = bed.setup->gas.constant() ? 0.0 : free_ratio(t, stored, dry_gas, density, time);
  double ratio = free;
  double condensed = 0.0;
  const auto condenses = [&](double temperature) {
    return free > bed.setup->gas.vapour_ratio(temperature, 1.0);
  };
  const auto imbalance = [&](double temperature, bool saturated) {
    ratio = free;
    condensed = 0.0;
    if (saturated) {
      const double most = bed.setup->gas.vapour_ratio(temperature, 1.0);
      condensed = molar_water * ((stored - dry_gas * most) / time + t.vapour + t.transfer_wet / molar_water -
                                 (t.leaving + t.vapour_out + t.transfer * density) * most);
      ratio = most;
    }
    const double enthalpy = bed.setup->gas.enthalpy(temperature, ratio);
    const double diffused =
        (t.own_diffusion * ratio - t.own_entering) * bed.setup->gas.vapour_enthalpy(temperature);
    return (dry_gas * enthalpy - was) / time - t.enthalpy + t.leaving * enthalpy + diffused +
           t.other_diffusion * ratio + t.film * temperature - t.film_heat - t.transfer_wet_enthalpy +
           density * ratio * t.transfer_enthalpy + condensed * heat_capacity_water * temperature +
           loss * (temperature - frame.outside.temperature);
  };
  constexpr AtRest rest{1e-10, 0.0, 60};
  const Root temperature = newton(trial.temperature[self], rest, [&](double guess) {
    // The slope of the branch that the guess lies on: one that straddles the dew point sends air that is just
    // saturated to and fro.
    constexpr double d = 1e-4;
    const bool saturated = condenses(guess);
    const double above = imbalance(guess + d, saturated);
    const double here = imbalance(guess, saturated);
    return -std::clamp(here * d / (above - here), -10.0, 10.0);
  });
  imbalance(temperature.value, condenses(temperature.value));
  trial.temperature[self] = temperature.value;
  trial.vapour_ratio[self] = ratio;
  trial.condensed[n] = std::max(condensed, 0.0);
  return temperature.found;
}

void book_surfaces(const Bed& bed, const Frame& frame, Trial& trial) {
  for (SurfaceState& s : trial.surfaces) {
    const AirPath& path = frame.paths[s.path];
    if (path.outer < 0) continue;
    const auto node = at(path.outer);
    s.evaporation = bed.setup->gas.constant()
                        ? 0.0
                        : transfer_speed(s) * path.face *
                              (s.wet - trial.gas.dry_density[node] * trial.vapour_ratio[node] * molar_water);
    s.heat = (s.convection + film_radiation) * path.face * (s.surface - trial.temperature[node]) +
             s.evaporation / molar_water * bed.setup->gas.vapour_enthalpy(s.surface);
  }
}

namespace {

/// Books an amount of heat that leaves with the air (negative: enters).
void book_air(Books& books, double heat) {
  book_heat(books, heat_air, heat);
}

void book_water(Books& books, double leaving) {
  books.rates[at(leaving > 0.0 ? water_out : water_in)] += std::abs(leaving);
}

/// Gross flows of a connection whose outer end is the outside.
void book_outside(const Frame& frame, Trial& trial, Books& books, std::size_t n, const PathFlux& flux) {
  const double out = std::max(trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  const double in = std::max(-trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  books.rates[at(gas_out)] += out;
  books.rates[at(gas_in)] += in;
  if (frame.paths[n].held_at) {
    book_air(books, flux.heat);
    book_water(books, flux.water);
    return;
  }
  book_air(books, -in * frame.outside.enthalpy);
  book_air(books, flux.heat + in * frame.outside.enthalpy);
  book_water(books, -in * frame.outside.vapour_ratio * molar_water);
  book_water(books, flux.water + in * frame.outside.vapour_ratio * molar_water);
}

}  // namespace

PathFlux through_path(const Bed& bed, const Frame& frame, const Trial& trial, std::size_t n) {
  const AirPath& path = frame.paths[n];
  const auto self = at(path.inner);
  const bool cell = path.inner < bed.grid.cells();
  const double out = std::max(trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  const double in = std::max(-trial.flow.net[n], 0.0) + trial.flow.exchange[n];
  if (path.held_at && cell) {
    const double ratio = bed.setup->gas.vapour_ratio(*path.held_at, trial.activity[self]);
    const double conductance = frame.now.conductivity[self] / path.diffusive_bed;
    return {trial.flow.net[n] * bed.setup->gas.enthalpy(*path.held_at, ratio) +
                conductance * (trial.temperature[self] - *path.held_at),
            trial.flow.net[n] * ratio * molar_water, conductance};
  }
  const double diffuse = vapour_conductance(bed, frame, trial, n);
  const double vapour = diffuse * (trial.vapour_ratio[self] - beyond_ratio(frame, trial, path));
  const double carried = bed.setup->gas.vapour_enthalpy(trial.temperature[self]);
  const LeavingAir leaving = leaving_air(bed, frame, trial, n);
  PathFlux flux;
  flux.heat = out * leaving.enthalpy - in * beyond_enthalpy(bed, frame, trial, path) + vapour * carried;
  flux.water = molar_water * (out * leaving.ratio - in * beyond_ratio(frame, trial, path) + vapour);
  flux.slope = cell ? out * trial.enthalpy_slope[self] + diffuse * trial.vapour_slope[self] * carried : 0.0;
  return flux;
}

void book_paths(const Bed& bed, const Frame& frame, Trial& trial, Books& books,
                std::vector<double>& heat_leaving, std::vector<double>& water_leaving) {
  books.path_heat.assign(frame.paths.size(), 0.0);
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    const PathFlux flux = through_path(bed, frame, trial, n);
    books.path_heat[n] = flux.heat;
    heat_leaving[at(path.inner)] += flux.heat;
    water_leaving[at(path.inner)] += flux.water;
    if (path.outer >= 0) {
      heat_leaving[at(path.outer)] -= flux.heat;
      water_leaving[at(path.outer)] -= flux.water;
    } else {
      book_outside(frame, trial, books, n, flux);
    }
  }
  for (const SurfaceState& s : trial.surfaces) {
    const AirPath& path = frame.paths[s.path];
    heat_leaving[at(path.inner)] += s.heat;
    water_leaving[at(path.inner)] += s.evaporation;
    const double carried = s.evaporation / molar_water * bed.setup->gas.vapour_enthalpy(s.surface);
    books.path_heat[s.path] += carried;
    if (path.outer >= 0) {
      heat_leaving[at(path.outer)] -= s.heat;
      water_leaving[at(path.outer)] -= s.evaporation;
    } else {
      book_heat(books, at_top(bed, path) ? heat_top : heat_floor, s.heat - carried);
      book_air(books, carried);
      book_water(books, s.evaporation);
    }
  }
}

void book_nodes(const Bed& bed, const Frame& frame, Trial& trial, Books& books,
                std::vector<double>& heat_leaving, std::vector<double>& water_leaving) {
  const Grid& g = bed.grid;
  const double top_area = g.area_of(Boundary::top);
  for (std::size_t n = 0; n < bed.setup->nodes.size(); ++n) {
    const int node = static_cast<int>(n);
    const auto self = at(g.cells()) + n;
    const bool lid = bed.setup->nodes[n] == NodeKind::lid_space;
    const double loss = node_conductance(bed, node) * (trial.temperature[self] - frame.outside.temperature);
    heat_leaving[self] += loss;
    book_heat(books, lid ? heat_top : heat_floor, loss);
    const double carried = trial.condensed[n] * heat_capacity_water * trial.temperature[self];
    heat_leaving[self] += carried;
    water_leaving[self] += trial.condensed[n];
    if (!lid || !bed.setup->problem.lid.drip_back) {
      books.rates[at(water_drained)] += trial.condensed[n];
      book_heat(books, lid ? heat_top : heat_floor, carried);
      continue;
    }
    for (const Patch& patch : g.patches) {
      if (patch.boundary != Boundary::top) continue;
      const double share = patch.area / top_area;
      heat_leaving[at(patch.cell)] -= share * carried;
      water_leaving[at(patch.cell)] -= share * trial.condensed[n];
    }
  }
}

void apply_node_fluxes(const Bed& bed, const State& old, const Frame& frame,
                       const std::vector<double>& heat_leaving, const std::vector<double>& water_leaving,
                       State& next) {
  const bool first = old.last_water.empty();
  for (std::size_t n = 0; n < bed.setup->nodes.size(); ++n) {
    const auto self = at(bed.grid.cells()) + n;
    const double water =
        (first ? 0.0 : frame.rule.history * old.last_water[self]) - frame.rule.beta_dt * water_leaving[self];
    const double heat =
        (first ? 0.0 : frame.rule.history * old.last_heat[self]) - frame.rule.beta_dt * heat_leaving[self];
    next.last_heat[self] = heat;
    next.node_vapour[n] = old.node_vapour[n] + water;
    // h is linear in T at a given vapour content, so two values give the temperature exactly.
    const double ratio = next.node_vapour[n] / (next.node_dry_gas[n] * molar_water);
    const double at_zero = bed.setup->gas.enthalpy(0.0, ratio);
    const double per_degree = bed.setup->gas.enthalpy(1.0, ratio) - at_zero;
    const double enthalpy = node_enthalpy(bed, old, static_cast<int>(n)) + heat;
    next.node_temperature[n] = (enthalpy / next.node_dry_gas[n] - at_zero) / per_degree;
  }
}

double node_enthalpy(const Bed& bed, const State& s, int node) {
  const auto n = at(node);
  const double ratio = s.node_vapour[n] / (s.node_dry_gas[n] * molar_water);
  return s.node_dry_gas[n] * bed.setup->gas.enthalpy(s.node_temperature[n], ratio);
}

}  // namespace updraught
