#include "solver/transport/boundary_heat.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/parallel/index.h"
#include "solver/linear/newton.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;
/// Transmittance of the skirt round a raised floor (W/(m2 K)): one board and its films; our choice.
constexpr double skirt = 3.0;

/// h_c/(rho c_p) with rho c_p of air at 20 degC (m/s); 1.2 x 1006 J/(m3 K).
double transfer_speed(double convection) {
  return convection / 1207.0;
}

double latent(double temperature) {
  return evaporation_enthalpy + heat_capacity_vapour * temperature;
}

/// Resistance of the ground under a disc of the bin's plan area, for heat that spreads into deep soil (m2
/// K/W): pi sqrt(A/pi)/(4 lambda).
double ground_resistance(const Bed& bed) {
  const double area = bed.grid.area_of(Boundary::floor) * bed.setup->problem.plan_scale;
  return pi * std::sqrt(area / pi) / (4.0 * bed.setup->problem.base.ground_conductivity);
}

ConductingPatch boundary_link(const Patch& patch, double area, double half, const HeatBoundary& b,
                              double film, double outside) {
  ConductingPatch path{patch.cell, patch.boundary, 0.0, outside, 0.0, patch.side};
  switch (b.kind) {
    case HeatBoundary::Kind::insulated:
      break;
    case HeatBoundary::Kind::held_at:
      path.conductance = area / half;
      path.far = b.temperature;
      break;
    case HeatBoundary::Kind::flux:
      path.flux_in = b.flux * area;
      break;
    case HeatBoundary::Kind::film:
      path.conductance = area / (half + 1.0 / b.film);
      path.far = b.to_outside ? outside : b.temperature;
      break;
    case HeatBoundary::Kind::layers:
      path.conductance = area / (half + b.resistance + film);
      path.far = b.to_outside ? outside : b.temperature;
      break;
  }
  return path;
}

bool free_surface(const HeatBoundary& b) {
  return b.kind == HeatBoundary::Kind::layers && b.resistance == 0.0;
}

}  // namespace

SurfaceFlux surface_flux(const Gas& gas, double temperature, double activity, double bed_resistance,
                         const AirBeside& air, double convection, double guess) {
  const double film = convection + film_radiation;
  const double speed = gas.constant() ? 0.0 : transfer_speed(convection);
  const double in_air =
      gas.constant() ? 0.0
                     : gas.dry_density(air.temperature, air.vapour_ratio) * air.vapour_ratio * molar_water;
  // The surface's temperature balances conduction from below with film and evaporation, by Newton: a step of
  // a millionth leaves a billionth of it.
  double loss_slope = film;
  constexpr AtRest rest{1e-6, 0.0, 20};
  const Root found = newton(guess, rest, [&](double t) {
    const Gas::VapourDensity wet = gas.vapour_density(t, activity);
    const double evaporates = speed * (wet.value - in_air);
    const double loss = film * (t - air.temperature) + evaporates * latent(t);
    loss_slope = film + speed * wet.slope * latent(t) + evaporates * heat_capacity_vapour;
    return ((temperature - t) / bed_resistance - loss) / (1.0 / bed_resistance + loss_slope);
  });
  const double t = found.value;
  SurfaceFlux out;
  out.found = found.found;
  out.surface = t;
  out.wet = gas.vapour_density(t, activity).value;
  out.evaporation = speed * (out.wet - in_air);
  out.heat = film * (t - air.temperature) + out.evaporation * latent(t);
  out.slope = 1.0 / (bed_resistance + 1.0 / loss_slope);
  return out;
}

std::vector<ConductingPatch> conducting_patches(const Bed& bed, const Properties& now,
                                                const std::vector<AirPath>& paths, double outside) {
  const Grid& g = bed.grid;
  const Problem& p = bed.setup->problem;
  // Patches that a film law or a held face already covers.
  std::vector<bool> done(g.patches.size(), false);
  for (const AirPath& path : paths)
    if (path.surface() && (path.held_at || film_law(bed, path))) done[at(path.patch)] = true;
  HeatBoundary floor = p.floor;
  double floor_film = resistance_down + 1.0 / p.outer_film;
  if (p.base.kind != Base::Kind::raised && floor.kind == HeatBoundary::Kind::layers) {
    floor_film = ground_resistance(bed);
    floor.to_outside = false;
    floor.temperature = p.outside.ground_temperature;
  }
  std::vector<ConductingPatch> out;
  for (std::size_t n = 0; n < g.patches.size(); ++n) {
    if (done[n]) continue;
    const Patch& patch = g.patches[n];
    const double half = patch.distance / now.conductivity[at(patch.cell)];
    if (patch.boundary == Boundary::wall)
      out.push_back(boundary_link(patch, p.wall_scale * patch.area, half,
                                  p.sides[static_cast<std::size_t>(patch.side)], 1.0 / p.outer_film,
                                  outside));
    else if (patch.boundary == Boundary::floor)
      out.push_back(boundary_link(patch, patch.area, half, floor, floor_film, outside));
    else
      out.push_back(
          boundary_link(patch, patch.area, half, p.lid_heat, resistance_up + 1.0 / p.outer_film, outside));
  }
  return out;
}

bool film_law(const Bed& bed, const AirPath& path) {
  if (!path.surface() || path.held_at) return false;
  return path.outer >= 0 ||
         free_surface(at_top(bed, path) ? bed.setup->problem.lid_heat : bed.setup->problem.floor);
}

void prepare_surfaces(const Bed& bed, const Frame& frame, Trial& trial) {
  if (!trial.surfaces.empty()) return;
  for (std::size_t n = 0; n < frame.paths.size(); ++n) {
    const AirPath& path = frame.paths[n];
    if (!film_law(bed, path)) continue;
    SurfaceState s;
    s.path = n;
    s.convection = at_top(bed, path) ? film_up : film_down;
    s.surface = trial.temperature[at(path.inner)];
    trial.surfaces.push_back(s);
  }
}

void update_surfaces(const Bed& bed, const Frame& frame, Trial& trial) {
  for_rows(static_cast<int>(trial.surfaces.size()), trial.surfaces.size() * 32, [&](int n) {
    SurfaceState& s = trial.surfaces[at(n)];
    const AirPath& path = frame.paths[s.path];
    const auto c = at(path.inner);
    const double half = path.diffusive_bed * path.face / frame.now.conductivity[c];
    const AirBeside air =
        path.outer < 0 ? AirBeside{frame.outside.temperature, frame.outside.vapour_ratio}
                       : AirBeside{trial.temperature[at(path.outer)], trial.vapour_ratio[at(path.outer)]};
    const SurfaceFlux flux = surface_flux(bed.setup->gas, trial.temperature[c], trial.activity[c], half, air,
                                          s.convection, s.surface);
    s.surface = flux.surface;
    s.found = flux.found;
    s.heat = flux.heat * path.face;
    s.evaporation = flux.evaporation * path.face;
    s.slope = flux.slope * path.face;
    s.wet = flux.wet;
  });
}

double outside_temperature(const Surroundings& s, double time) {
  if (!s.table_time.empty()) {
    const Prescribed::ByHeight table{s.table_time, s.table_temperature};
    return table.at(time);
  }
  const double clock = s.start_hour + time / 3600.0;
  return s.temperature + s.daily_swing * std::cos(2.0 * pi * (clock - 15.0) / 24.0);
}

OutsideAir outside_air(const Bed& bed, double time) {
  const Surroundings& s = bed.setup->problem.outside;
  const Gas& gas = bed.setup->gas;
  OutsideAir air;
  air.temperature = outside_temperature(s, time);
  air.vapour_ratio = gas.vapour_ratio(air.temperature, s.humidity);
  air.enthalpy = gas.enthalpy(air.temperature, air.vapour_ratio);
  return air;
}

double node_conductance(const Bed& bed, int node) {
  const Grid& g = bed.grid;
  if (bed.setup->nodes[at(node)] == NodeKind::floor_space) {
    const double sides =
        bed.setup->problem.wall_scale * g.perimeter(0) * bed.setup->problem.base.height * skirt;
    return sides + g.area_of(Boundary::floor) / (resistance_down + ground_resistance(bed));
  }
  const HeatBoundary& lid = bed.setup->problem.lid_heat;
  const double outside = 1.0 / bed.setup->problem.outer_film;
  const double area = g.area_of(Boundary::top);
  const double rest = std::max(bed.setup->problem.bin.height - g.height(), 0.0);
  double conductance =
      lid.kind == HeatBoundary::Kind::layers ? area / (resistance_up + lid.resistance + outside) : 0.0;
  // The bin's wall above the bed belongs to the space under the lid.
  for (const Patch& patch : g.patches) {
    if (patch.boundary != Boundary::wall || g.layer_of(patch.cell) != g.nz - 1) continue;
    const HeatBoundary& side = bed.setup->problem.sides[static_cast<std::size_t>(patch.side)];
    if (side.kind == HeatBoundary::Kind::layers)
      conductance +=
          bed.setup->problem.wall_scale * patch.width * rest / (resistance_level + side.resistance + outside);
  }
  return conductance;
}

}  // namespace updraught
