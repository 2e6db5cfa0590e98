#include "solver/air/air_paths.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/parallel/index.h"
#include "solver/air/wall_air_paths.h"
#include "solver/air/wind.h"
#include "solver/bed/plates.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;
/// Width of the meshes of pest mesh where a case does not say it (m); common practice: 6 mm keeps mice out.
constexpr double usual_mesh = 0.006;
/// Height of the slots that let air into the space under a raised floor (m); our choice.
constexpr double inlet_slot = 0.03;
/// Loss of such slots.
constexpr double usual_discharge = 0.6;
/// Film of still air that vapour and gases cross on a free surface, as a length (m): lambda_air/h_c =
/// 0.025/5.
constexpr double still_film = 0.005;

double orifice(double discharge, double area) {
  return discharge > 0.0 ? 1.0 / (2.0 * discharge * discharge * area * area) : 0.0;
}

/// Share of a column's width that an opening in floor or top covers.
double covered(const Grid& g, const Opening& o, int i) {
  if (around_axis(g.mode)) return o.patch_to - o.patch_from;
  const double from = o.patch_from * g.x.back();
  const double to = o.patch_to * g.x.back();
  const double overlap = std::min(to, g.x[at(i) + 1]) - std::max(from, g.x[at(i)]);
  return std::clamp(overlap / g.dx(i), 0.0, 1.0);
}

/// Open share of the area under a spread-out opening, and the width of its meshes.
struct Screen {
  double open;
  double mesh;
};

Screen screen_of(const Opening& o, double plan_area, double plan_scale) {
  const double clear = 1.0 - o.blocked;
  if (o.kind == Opening::Kind::open) return {clear, 0.0};
  if (o.kind == Opening::Kind::slots)
    return {std::min(o.size * o.length / plan_scale / plan_area, 1.0) * clear, o.size};
  if (o.kind == Opening::Kind::holes) {
    const double area = o.count * pi * o.diameter * o.diameter / 4.0;
    return {std::min(area / plan_scale / plan_area, 1.0) * o.open_share * clear, o.diameter};
  }
  return {o.open_share * clear, o.diameter > 0.0 ? o.diameter : usual_mesh};
}

/// Half a cell of bed and a screen of many small meshes, between a cell and what lies beyond floor or top.
AirPath through_face(const Bed& bed, const Properties& now, int index, double area) {
  const Grid& g = bed.grid;
  const Patch& patch = g.patches[at(index)];
  const int k = g.layer_of(patch.cell);
  AirPath path;
  path.inner = patch.cell;
  path.patch = index;
  path.height = g.z[at(patch.boundary == Boundary::top ? k + 1 : k)];
  path.area = path.face = area;
  const double half = patch.distance;
  path.bed = half / (now.along[at(path.inner)] * area);
  path.quadratic = now.inertia[at(path.inner)] * half / (area * area);
  path.diffusive_bed = half / area;
  return path;
}

void add_screen(const Problem& problem, const Opening& o, const Screen& s, double area, AirPath& path) {
  const double free = area * s.open;
  const double plate = plate_of(problem, o);
  path.quadratic += orifice(o.discharge, free);
  if (s.mesh > 0.0) {
    const double holes = free / (pi * s.mesh * s.mesh / 4.0);
    path.plate += (24.0 / std::pow(s.mesh, 3) + 128.0 * plate / (pi * std::pow(s.mesh, 4))) / holes;
    path.diffusive_plate += plate / free;
  }
  path.area = free;
}

void spread_opening(const Bed& bed, const Properties& now, int index, std::vector<AirPath>& out) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  const Grid& g = bed.grid;
  const Boundary boundary = o.where == Opening::Where::top ? Boundary::top : Boundary::floor;
  const Screen screen = screen_of(o, g.area_of(boundary), bed.setup->problem.plan_scale);
  if (screen.open <= 0.0) return;
  for (int n = 0; n < static_cast<int>(g.patches.size()); ++n) {
    const Patch& patch = g.patches[at(n)];
    if (patch.boundary != boundary) continue;
    const double area = patch.area * covered(g, o, patch.cell % g.nx);
    if (area <= 0.0) continue;
    AirPath path = through_face(bed, now, n, area);
    path.opening = index;
    path.outer = boundary == Boundary::top ? -1 : node_index(bed, NodeKind::floor_space);
    if (path.outer >= 0) path.outer += g.cells();
    add_screen(bed.setup->problem, o, screen, area, path);
    path.diffuses = o.diffuses;
    path.imposed = o.pressure;
    path.wind = boundary == Boundary::top ? wind_on_top(bed.setup->problem) : wind_around(bed.setup->problem);
    path.held_at = o.held_at;
    if (path.outer < 0)
      path.diffusive_plate += o.held_at || bed.setup->gas.constant() ? 0.0 : still_film / area;
    out.push_back(path);
  }
}

/// An opening of the lid: between the space under it and the outside.
AirPath lid_opening(const Bed& bed, int index) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  const double scale = bed.setup->problem.plan_scale;
  const double plan = bed.grid.area_of(Boundary::top);
  AirPath path;
  path.inner = bed.grid.cells() + node_index(bed, NodeKind::lid_space);
  path.opening = index;
  path.height = bed.setup->problem.bin.height;
  path.imposed = o.pressure;
  // A gap opens sideways under the rim, all else of a lid upward.
  path.wind =
      o.kind == Opening::Kind::gap ? wind_around(bed.setup->problem) : wind_on_top(bed.setup->problem);
  path.diffuses = o.diffuses;
  const double clear = o.open_share * (1.0 - o.blocked);
  const double plate = o.kind == Opening::Kind::gap ? rim_plate(bed, o) : plate_of(bed.setup->problem, o);
  if (o.kind == Opening::Kind::gap || o.kind == Opening::Kind::slots) {
    const double length = o.length > 0.0
                              ? o.length / scale
                              : bed.setup->problem.wall_scale * bed.grid.perimeter(bed.grid.nz - 1);
    path.area = o.size * length * clear;
    path.plate = slot_resistance(o.size, plate) / (length * clear);
    if (o.kind == Opening::Kind::gap) {
      path.upright = o.size;
    } else {
      path.hole = 2.0 * o.size;
      path.holes = path.area / (pi * o.size * o.size);
    }
  } else {
    const bool hole = o.kind == Opening::Kind::hole || o.kind == Opening::Kind::holes;
    const double d = o.diameter > 0.0 ? o.diameter : usual_mesh;
    path.area = (hole ? o.count * pi * d * d / 4.0 / scale : plan * (o.patch_to - o.patch_from)) * clear;
    path.hole = o.kind == Opening::Kind::open ? std::sqrt(4.0 * path.area * scale / pi) : d;
    path.holes = path.area / (pi * path.hole * path.hole / 4.0);
    path.plate = (24.0 / std::pow(path.hole, 3) + 128.0 * plate / (pi * std::pow(path.hole, 4))) / path.holes;
  }
  path.quadratic = orifice(o.discharge > 0.0 ? o.discharge : usual_discharge, path.area);
  path.diffusive_plate = std::max(plate, 0.5 * std::sqrt(path.area * scale)) / path.area;
  return path;
}

/// The slots through which a space under a raised floor breathes.
AirPath floor_inlet(const Bed& bed, int node) {
  const Base& base = bed.setup->problem.base;
  AirPath path;
  path.inner = bed.grid.cells() + node;
  path.area = base.inlet_area / bed.setup->problem.plan_scale;
  path.height = base.inlet_height - base.height + 0.5 * inlet_slot;
  const double slot = std::min(inlet_slot, base.height);
  path.plate = 32.0 / (pi * slot * path.area);
  path.quadratic = orifice(usual_discharge, path.area);
  path.upright = slot;
  path.wind = wind_around(bed.setup->problem);
  path.diffusive_plate = 0.5 * slot / path.area;
  return path;
}

void lid_space(const Bed& bed, const Properties& now, int node, std::vector<AirPath>& out) {
  const Grid& g = bed.grid;
  for (int n = 0; n < static_cast<int>(g.patches.size()); ++n) {
    const Patch& patch = g.patches[at(n)];
    if (patch.boundary != Boundary::top) continue;
    AirPath path = through_face(bed, now, n, patch.area);
    path.outer = g.cells() + node;
    path.diffusive_plate = still_film / patch.area;
    out.push_back(path);
  }
}

/// Q of dp = a Q + b Q |Q|.
double throughput(double dp, double a, double b) {
  const double drive = std::abs(dp);
  return 2.0 * dp / (a + std::sqrt(a * a + 4.0 * b * drive));
}

double throughput_slope(double dp, double a, double b) {
  return 1.0 / std::sqrt(a * a + 4.0 * b * std::abs(dp));
}

/// What crosses an upright opening, slice by slice of its height: out and in (m3/s, both >= 0), and the slope
/// of the net flow.
struct BothWays {
  double out = 0.0, in = 0.0, slope = 0.0;
};

/// `spread` is by how much the drop over the opening grows from its foot to its head (Pa).
BothWays through_upright(double dp, double a, double b, double spread) {
  constexpr int slices = 8;
  BothWays sum;
  for (int n = 0; n < slices; ++n) {
    const double here = dp + ((n + 0.5) / slices - 0.5) * spread;
    const double q = throughput(here, slices * a, slices * slices * b);
    (q > 0.0 ? sum.out : sum.in) += std::abs(q);
    sum.slope += throughput_slope(here, slices * a, slices * slices * b);
  }
  return sum;
}

}  // namespace

std::vector<AirPath> air_paths(const Bed& bed, const Properties& now) {
  ResistanceCache known;
  return air_paths(bed, now, known);
}

std::vector<AirPath> air_paths(const Bed& bed, const Properties& now, ResistanceCache& known) {
  std::vector<AirPath> out;
  const auto& openings = bed.setup->problem.openings;
  for (int n = 0; n < static_cast<int>(openings.size()); ++n) {
    const Opening& o = openings[at(n)];
    const bool single = o.kind == Opening::Kind::hole;
    if (o.where == Opening::Where::lid)
      out.push_back(lid_opening(bed, n));
    else if (o.where == Opening::Where::side)
      side_opening(bed, now, n, known, out);
    else if (single)
      level_hole(bed, now, n, known, out);
    else
      spread_opening(bed, now, n, out);
  }
  const int under = node_index(bed, NodeKind::floor_space);
  if (under >= 0) out.push_back(floor_inlet(bed, under));
  const int over = node_index(bed, NodeKind::lid_space);
  if (over >= 0) lid_space(bed, now, over, out);
  return out;
}

bool at_top(const Bed& bed, const AirPath& surface) {
  return bed.grid.patches[at(surface.patch)].boundary == Boundary::top;
}

double level_exchange(double diameter, double density_difference, double mean_density) {
  if (density_difference <= 0.0) return 0.0;
  return 0.055 * std::sqrt(gravity * std::pow(diameter, 5) * density_difference / mean_density);
}

Passage passage(const AirPath& path, double dp, double viscosity, double density, double lift) {
  const double a = viscosity * (path.bed + path.plate);
  const double b = density * path.quadratic;
  if (path.upright <= 0.0) {
    Passage p{throughput(dp, a, b), throughput_slope(dp, a, b), 0.0};
    // Cold air above falls through a level hole in a lid as warm air rises; a net flow flushes the exchange
    // out.
    const double both = path.hole > 0.0 ? path.holes * level_exchange(path.hole, lift, density) : 0.0;
    if (both > 0.0) p.exchange = both * std::max(0.0, 1.0 - std::abs(p.net) / both);
    return p;
  }
  const BothWays both = through_upright(dp, a, b, lift * gravity * path.upright);
  Passage p{both.out - both.in, both.slope, std::min(both.out, both.in)};
  if (path.counter <= 0.0) return p;
  // What turns round behind the opening meets the bed there even where the grid resolves all that the net
  // flow meets.
  const double turning = viscosity * (path.counter + path.plate);
  const BothWays turned =
      through_upright((turning + b * std::abs(p.net)) * p.net, turning, b, lift * gravity * path.upright);
  p.exchange = std::min(turned.out, turned.in);
  return p;
}

double drop_for(const AirPath& path, double net, double viscosity, double density, double lift) {
  const double a = viscosity * (path.bed + path.plate);
  const double b = density * path.quadratic;
  // Without counterflow the law is explicit; with it the difference lies within half the opening's own lift
  // of that.
  const double plain = (a + b * std::abs(net)) * net;
  if (path.upright <= 0.0 || lift == 0.0) return plain;
  const double reach = 0.5 * std::abs(lift) * gravity * path.upright;
  double low = plain - reach, high = plain + reach;
  double drop = plain;
  for (int pass = 0; pass < 60 && high - low > 1e-14 * (std::abs(plain) + reach); ++pass) {
    const Passage there = passage(path, drop, viscosity, density, lift);
    if (std::abs(net - there.net) <= 1e-12 * (std::abs(net) + there.exchange)) break;
    (there.net < net ? low : high) = drop;
    const double newton = drop + (net - there.net) / there.slope;
    drop = newton > low && newton < high ? newton : 0.5 * (low + high);
  }
  return drop;
}

}  // namespace updraught
