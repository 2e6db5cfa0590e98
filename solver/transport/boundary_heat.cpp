#include "solver/transport/boundary_heat.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/parallel/index.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;
/// Transmittance of the skirt round a raised floor (W/(m2 K)): one board and its films; our choice.
constexpr double skirt = 3.0;

double vapour_density(const Gas& gas, double temperature, double vapour_ratio) {
  return gas.dry_density(temperature, vapour_ratio) * vapour_ratio * molar_water;
}

/// h_c/(rho c_p) with rho c_p of air at 20 degC (m/s); 1.2 x 1006 J/(m3 K).
double transfer_speed(double convection) {
  return convection / 1207.0;
}

double evaporation(const Gas& gas, double surface, double activity, const AirBeside& air, double convection) {
  const double wet = vapour_density(gas, surface, gas.vapour_ratio(surface, activity));
  return transfer_speed(convection) * (wet - vapour_density(gas, air.temperature, air.vapour_ratio));
}

double latent(double temperature) {
  return evaporation_enthalpy + heat_capacity_vapour * temperature;
}

/// Resistance of the ground under a disc of the bin's plan area, for heat that spreads into deep soil (m2
/// K/W): pi sqrt(A/pi)/(4 lambda).
double ground_resistance(const Bed& bed) {
  const double area = bed.grid.layer_area(0);
  return pi * std::sqrt(area / pi) / (4.0 * bed.problem.base.ground_conductivity);
}

HeatLink boundary_link(int cell, HeatLink::Path path, double area, double half, const HeatBoundary& b,
                       double film, double outside) {
  HeatLink link{cell, path, 0.0, outside, 0.0};
  switch (b.kind) {
    case HeatBoundary::Kind::insulated:
      break;
    case HeatBoundary::Kind::held_at:
      link.conductance = area / half;
      link.far = b.temperature;
      break;
    case HeatBoundary::Kind::flux:
      link.flux_in = b.flux * area;
      break;
    case HeatBoundary::Kind::film:
      link.conductance = area / (half + 1.0 / b.film);
      link.far = b.to_outside ? outside : b.temperature;
      break;
    case HeatBoundary::Kind::layers:
      link.conductance = area / (half + b.resistance + film);
      link.far = b.to_outside ? outside : b.temperature;
      break;
  }
  return link;
}

bool free_surface(const HeatBoundary& b) {
  return b.kind == HeatBoundary::Kind::layers && b.resistance == 0.0;
}

}  // namespace

SurfaceFlux surface_flux(const Gas& gas, double temperature, double activity, double bed_resistance,
                         const AirBeside& air, double convection, double guess) {
  const double film = convection + film_radiation;
  // The surface's temperature balances conduction from below with film and evaporation, by Newton.
  double t = guess;
  double loss_slope = film;
  for (int pass = 0; pass < 20; ++pass) {
    const double wet = gas.constant() ? 0.0 : evaporation(gas, t, activity, air, convection) * latent(t);
    const double loss = film * (t - air.temperature) + wet;
    constexpr double d = 1e-3;
    const double wet_above =
        gas.constant() ? 0.0 : evaporation(gas, t + d, activity, air, convection) * latent(t + d);
    loss_slope = film + (wet_above - wet) / d;
    const double step = ((temperature - t) / bed_resistance - loss) / (1.0 / bed_resistance + loss_slope);
    t += step;
    if (std::abs(step) < 1e-9) break;
  }
  SurfaceFlux out;
  out.surface = t;
  out.evaporation = gas.constant() ? 0.0 : evaporation(gas, t, activity, air, convection);
  out.heat = film * (t - air.temperature) + out.evaporation * latent(t);
  out.slope = 1.0 / (bed_resistance + 1.0 / loss_slope);
  return out;
}

std::vector<HeatLink> heat_links(const Bed& bed, const Properties& now, const std::vector<Connection>& links,
                                 double outside) {
  const Grid& g = bed.grid;
  const Problem& p = bed.problem;
  std::vector<HeatLink> out;
  for (const WallFace& face : g.wall) {
    const double area = p.wall_scale * face.width * g.dz[at((face.cell / g.nx) % g.nz)];
    const double half = face.distance / now.conductivity[at(face.cell)];
    const HeatBoundary& b = p.sides[static_cast<std::size_t>(face.side)];
    out.push_back(boundary_link(face.cell, HeatLink::Path::wall, area, half, b, 1.0 / p.outer_film, outside));
    out.back().side = face.side;
  }
  // Floor and top columns that a film law or a held face already covers.
  std::vector<bool> floor_done(at(g.columns()), false), top_done(at(g.columns()), false);
  for (const Connection& link : links) {
    if (!link.surface || link.inner >= g.cells()) continue;
    const int column = link.inner % g.nx + g.nx * (link.inner / (g.nx * g.nz));
    if (link.held_at || film_law(bed, link)) (link.height > 0.0 ? top_done : floor_done)[at(column)] = true;
  }
  HeatBoundary floor = p.floor;
  double floor_film = resistance_down + 1.0 / p.outer_film;
  if (p.base.kind != Base::Kind::raised && floor.kind == HeatBoundary::Kind::layers) {
    floor_film = ground_resistance(bed);
    floor.to_outside = false;
    floor.temperature = p.outside.ground_temperature;
  }
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i) {
      const auto column = at(g.column(i, j));
      const int low = g.cell(i, j, 0), high = g.cell(i, j, g.nz - 1);
      if (!floor_done[column])
        out.push_back(boundary_link(low, HeatLink::Path::floor, g.area_z(i, j, 0),
                                    0.5 * g.dz.front() / now.conductivity[at(low)], floor, floor_film,
                                    outside));
      if (!top_done[column])
        out.push_back(boundary_link(high, HeatLink::Path::top, g.area_z(i, j, g.nz),
                                    0.5 * g.dz.back() / now.conductivity[at(high)], p.lid_heat,
                                    resistance_up + 1.0 / p.outer_film, outside));
    }
  return out;
}

bool film_law(const Bed& bed, const Connection& link) {
  if (!link.surface || link.held_at) return false;
  return link.outer >= 0 || free_surface(link.height > 0.0 ? bed.problem.lid_heat : bed.problem.floor);
}

double outside_temperature(const Surroundings& s, double time) {
  if (!s.table_time.empty()) {
    const Prescribed::ByHeight table{s.table_time, s.table_temperature};
    return table.at(time);
  }
  const double clock = s.start_hour + time / 3600.0;
  return s.temperature + s.daily_swing * std::cos(2.0 * pi * (clock - 15.0) / 24.0);
}

double node_conductance(const Bed& bed, int node) {
  const Grid& g = bed.grid;
  if (bed.nodes[at(node)] == NodeKind::floor_space) {
    const double sides = bed.problem.wall_scale * g.perimeter(0) * bed.problem.base.height * skirt;
    return sides + g.layer_area(0) / (resistance_down + ground_resistance(bed));
  }
  const HeatBoundary& lid = bed.problem.lid_heat;
  const double outside = 1.0 / bed.problem.outer_film;
  const double area = g.layer_area(g.nz - 1);
  const double rest = std::max(bed.problem.bin.height - g.height(), 0.0);
  double conductance =
      lid.kind == HeatBoundary::Kind::layers ? area / (resistance_up + lid.resistance + outside) : 0.0;
  // The bin's wall above the bed belongs to the space under the lid.
  for (const WallFace& face : g.wall) {
    if ((face.cell / g.nx) % g.nz != g.nz - 1) continue;
    const HeatBoundary& side = bed.problem.sides[static_cast<std::size_t>(face.side)];
    if (side.kind == HeatBoundary::Kind::layers)
      conductance +=
          bed.problem.wall_scale * face.width * rest / (resistance_level + side.resistance + outside);
  }
  return conductance;
}

}  // namespace updraught
