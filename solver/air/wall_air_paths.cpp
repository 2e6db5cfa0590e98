#include "solver/air/wall_air_paths.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "mesh/parallel/index.h"
#include "solver/air/sub_grid_resistance.h"
#include "solver/air/wall_view.h"
#include "solver/air/wind.h"
#include "solver/bed/plates.h"

namespace updraught {

namespace {

constexpr double pi = std::numbers::pi;

/// Places along a wall that differ by less are one (m).
constexpr double same_place = 1e-9;

double parallel(double a, double b) {
  return 1.0 / (1.0 / a + 1.0 / b);
}

/// Laminar resistance of a round hole in a board, per viscosity (1/m3): a thin edge (Sampson 1891) and a
/// pipe.
double hole_plate(double diameter, double plate) {
  return 24.0 / std::pow(diameter, 3) + 128.0 * plate / (pi * std::pow(diameter, 4));
}

/// Shared parts of a path through a board `plate` thick: what one round hole of an opening adds, `holes` of
/// them side by side.
AirPath hole_path(const Opening& o, int index, double plate, double holes, double height) {
  AirPath path;
  const double area = pi * o.diameter * o.diameter / 4.0 * o.open_share * (1.0 - o.blocked) * holes;
  path.opening = index;
  path.height = height;
  path.area = area;
  // Without an orifice loss the hole is an isopotential disc, as in textbooks.
  path.plate = o.discharge > 0.0 ? hole_plate(o.diameter, plate) / holes : 0.0;
  path.quadratic = o.discharge > 0.0 ? 1.0 / (2.0 * o.discharge * o.discharge * area * area) : 0.0;
  path.upright = o.diameter;
  path.diffusive_plate = plate / area;
  path.diffuses = o.diffuses;
  path.imposed = o.pressure;
  path.held_at = o.held_at;
  return path;
}

/// Air that comes in below and goes out above through one opening turns round in the bed behind it
/// (theory 5.6). With a pressure that grows linearly over the opening (mixed problem of the half-space), an
/// upright slit of height h turns round mobility x h/2 and a disc of radius a mobility x 2 a^2 per unit of
/// that slope; eight slices of the opening do the same with these resistances (1/m per metre of slit; 1 over
/// the radius).
constexpr double slot_counter = 0.25;
constexpr double hole_counter = 0.125;

/// permeability_along of a wall's layers, for all holes in them: not yet asked for where negative.
using OfLayers = std::vector<double>;

/// Inertia of the bed that converges on one hole: beta rho Q^2/(12 pi^2 a'^3), a' = 2 a/pi.
double hole_inertia(double inertia, double radius, double holes) {
  const double a = 2.0 * radius / pi;
  return inertia / (12.0 * pi * pi * a * a * a) / (holes * holes);
}

/// One round hole at a place on a flat wall of a whole bed. Of one in the middle of a mirrored bed only the
/// half is computed; what one beside it sends into the other half comes back from that one's hole.
void single_hole(const Bed& bed, const Properties& now, int index, const WallView& view, OfLayers& seen,
                 double along, double height, ResistanceCache& known, std::vector<AirPath>& out) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  const double radius = 0.5 * o.diameter;
  const Window u = window_around(view.along, along, radius);
  const Window v = window_around(bed.grid.z, height, radius, true);
  const std::vector<double> inward =
      seen_widths(view, now, cell_at(view.along, along), cell_at(bed.grid.z, height));
  const WallPatch patch{u.widths,   v.widths,    inward,     u.position, v.position,
                        u.ends_low, u.ends_high, v.ends_low, v.ends_high};
  const SubGridResistance spread = known.hole(patch, radius);
  const bool in_middle = view.is_half() && along > view.middle() - same_place;
  const double plate = plate_of(bed.setup->problem, o, view.side);
  for (const auto& face : spread.faces) {
    const int fu = u.first + face.u;
    const int fv = v.first + face.v;
    if (in_middle && fu >= view.columns) continue;
    AirPath path = hole_path(o, index, plate, face.weight, height);
    path.inner = view.cell(fu, fv, 0);
    path.wind = wind_on_wall(bed.setup->problem, view.side);
    double& behind = seen[at(fv)];
    if (behind < 0.0) behind = permeability_along(view, now, fv, radius);
    path.bed = spread.sub_grid / face.weight / behind;
    if (bed.setup->wall_zone > 0.0 && bed.setup->problem.wall_gap > 0.0)
      path.bed = parallel(
          path.bed, slit_resistance(bed.setup->problem.wall_gap, bed.setup->wall_zone, radius) / face.weight);
    path.counter = hole_counter / (radius * face.weight * seen_permeability(view, now, fu, fv, radius));
    path.quadratic += hole_inertia(now.inertia[at(path.inner)], radius, face.weight);
    path.diffusive_bed = spread.sub_grid / face.weight;
    out.push_back(path);
  }
}

/// A line source at a height along a wall: a row of holes as a wire, or a slot. Resistances are per metre.
struct LineSource {
  double radius;  ///< equivalent radius (m)
  double holes_per_metre;
  double slot;  ///< width of a slot (m); 0: holes
};

void line_source(const Bed& bed, const Properties& now, int index, const WallView& view,
                 const LineSource& line, double height, ResistanceCache& known, std::vector<AirPath>& out) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  const Window v = window_around(bed.grid.z, height, line.radius, true);
  WallPatch patch;
  patch.u = {1.0};
  patch.v = v.widths;
  patch.hole_v = v.position;
  patch.closed_v_low = v.ends_low;
  patch.closed_v_high = v.ends_high;
  // Along a wall the packing is much the same: its middle stands for all.
  patch.normal =
      seen_widths(view, now, static_cast<int>(view.along.size() / 2) - 1, cell_at(bed.grid.z, height));
  const SubGridResistance spread = known.line(patch, line.radius);
  const double plate = plate_of(bed.setup->problem, o, view.side);
  const double wind = wind_on_wall(bed.setup->problem, view.side);
  const Grid& g = bed.grid;
  for (int column = 0; column < view.columns; ++column)
    for (const auto& face : spread.faces) {
      const int k = v.first + face.v;
      const double share = g.coordinates().wall_column(view.side, column) * face.weight;
      AirPath path;
      if (line.slot > 0.0) {
        const double area = line.slot * share * o.open_share * (1.0 - o.blocked);
        path.opening = index;
        path.height = height;
        path.area = area;
        path.plate = slot_resistance(line.slot, plate) / share;
        path.quadratic = o.discharge > 0.0 ? 1.0 / (2.0 * o.discharge * o.discharge * area * area) : 0.0;
        path.upright = line.slot;
        path.diffusive_plate = plate / area;
        path.diffuses = o.diffuses;
        path.imposed = o.pressure;
        path.held_at = o.held_at;
      } else {
        path = hole_path(o, index, plate, line.holes_per_metre * share, height);
      }
      const double radius = line.slot > 0.0 ? 0.5 * line.slot : 0.5 * o.diameter;
      path.inner = view.cell(column, k, 0);
      path.wind = wind;
      const double permeability = seen_permeability(view, now, column, k, radius);
      path.bed = spread.sub_grid / share / permeability;
      path.counter = line.slot > 0.0 ? slot_counter / (share * permeability)
                                     : hole_counter / (radius * line.holes_per_metre * share * permeability);
      if (line.slot <= 0.0) {
        const double holes = line.holes_per_metre * share;
        if (bed.setup->wall_zone > 0.0 && bed.setup->problem.wall_gap > 0.0)
          path.bed = parallel(
              path.bed, slit_resistance(bed.setup->problem.wall_gap, bed.setup->wall_zone, radius) / holes);
        path.quadratic += hole_inertia(now.inertia[at(path.inner)], radius, holes);
      }
      path.diffusive_bed = spread.sub_grid / share;
      out.push_back(path);
    }
}

/// Walls in which an opening lies, as far as they are computed. What goes round an axis has but one.
std::vector<Side> sides_of(const Bed& bed, const Opening& o) {
  const std::vector<Side> all = bed.grid.coordinates().walls();
  return o.all_sides || all.size() == 1 ? all : std::vector<Side>{o.side};
}

/// Holes of a whole bed: each at its own place, evenly spaced along each wall.
void placed_holes(const Bed& bed, const Properties& now, int index, ResistanceCache& known,
                  std::vector<AirPath>& out) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  const std::array<int, 4> counts = holes_by_wall(bed.setup->problem, o);
  for (Side side : sides_of(bed, o)) {
    const int here = counts[static_cast<std::size_t>(side)];
    const WallView view = view_of(bed, side, 0.5 * o.diameter);
    const double length = view.along.back() - view.along.front();
    OfLayers seen(at(bed.grid.nz), -1.0);
    for (int n = 0; n < here; ++n) {
      const double along = o.kind == Opening::Kind::hole ? o.along * length : (n + 0.5) * length / here;
      if (view.is_half() && along > view.middle() + same_place) break;
      for (double height : o.heights)
        if (height < bed.grid.height()) single_hole(bed, now, index, view, seen, along, height, known, out);
    }
  }
}

}  // namespace

std::array<int, 4> holes_by_wall(const Problem& problem, const Opening& o) {
  const int rows = std::max(static_cast<int>(o.heights.size()), 1);
  const int per_row = std::max(o.count / rows, 1);
  std::array<int, 4> counts{};
  if (!o.all_sides) {
    counts[static_cast<std::size_t>(o.side)] = per_row;
    return counts;
  }
  const double total = 2.0 * (problem.bin.width + problem.bin.length);
  double walked = 0.0;
  int placed = 0;
  for (Side side : sides_of(Mode::whole)) {
    walked += side == Side::left || side == Side::right ? problem.bin.length : problem.bin.width;
    const int here = static_cast<int>(std::lround(per_row * walked / total)) - placed;
    counts[static_cast<std::size_t>(side)] = here;
    placed += here;
  }
  return counts;
}

double slit_resistance(double gap, double lane_width, double hole_radius) {
  // A hole wider than the lane opens straight into it; a small logarithm stands for that.
  const double spread = std::log(std::max(lane_width / hole_radius, 1.05));
  return 12.0 * spread / (2.0 * pi * gap * gap * gap);
}

void side_opening(const Bed& bed, const Properties& now, int index, ResistanceCache& known,
                  std::vector<AirPath>& out) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  if (o.open_share * (1.0 - o.blocked) <= 0.0 || o.heights.empty()) return;
  const int rows = static_cast<int>(o.heights.size());
  const bool slot = o.kind == Opening::Kind::slots || o.kind == Opening::Kind::gap;
  // Where one direction of the plan is not counted, single holes are counted as a row.
  if (!slot && counts_length(bed.grid.mode)) {
    placed_holes(bed, now, index, known, out);
    return;
  }
  double total = 0.0;
  for (Side side : sides_of(bed, o)) total += bed.grid.coordinates().wall_length(side);
  const double per_metre = o.count / bed.setup->problem.plan_scale / rows / total;
  const double slot_share = o.length > 0.0 ? o.length / bed.setup->problem.plan_scale / rows / total
                                           : bed.setup->problem.wall_scale;
  for (Side side : sides_of(bed, o)) {
    const WallView view = view_of(bed, side, 0.5 * o.diameter);
    for (double height : o.heights) {
      if (height >= bed.grid.height()) continue;
      LineSource line{row_radius(1.0 / per_metre, 0.5 * o.diameter), per_metre, 0.0};
      if (slot) line = {0.25 * o.size * slot_share, 0.0, o.size * slot_share};
      line_source(bed, now, index, view, line, height, known, out);
    }
  }
}

void level_hole(const Bed& bed, const Properties& now, int index, ResistanceCache& known,
                std::vector<AirPath>& out) {
  const Opening& o = bed.setup->problem.openings[at(index)];
  const Grid& g = bed.grid;
  const bool top = o.where == Opening::Where::top;
  const int k0 = top ? g.nz - 1 : 0;
  const double radius = 0.5 * o.diameter;
  const double height = top ? g.height() : 0.0;
  const int under = node_index(bed, NodeKind::floor_space);
  WallPatch patch;
  patch.normal = layers_behind(g, top, radius);
  const Window u = window_around(g.x, around_axis(g.mode) ? 0.0 : o.along * g.x.back(), radius);
  const Window v = window_around(g.y, o.across * g.y.back(), radius);
  std::vector<SubGridResistance::Face> faces{{0, 0, 1.0}};
  double sub_grid = 0.0;
  const bool whole = counts_length(g.mode);
  if (whole) {
    patch.u = u.widths;
    patch.v = v.widths;
    patch.hole_u = u.position;
    patch.hole_v = v.position;
    patch.closed_u_low = u.ends_low;
    patch.closed_u_high = u.ends_high;
    patch.closed_v_low = v.ends_low;
    patch.closed_v_high = v.ends_high;
    const SubGridResistance spread = known.hole(patch, radius);
    faces = spread.faces;
    sub_grid = spread.sub_grid;
  } else {
    // On the axis of rings the innermost disc takes the hole; it resolves a disc of its own radius.
    sub_grid = std::max(1.0 / (4.0 * radius) - 1.0 / (4.0 * g.x[1]), 0.02 / radius);
  }
  for (const auto& face : faces) {
    AirPath path = hole_path(o, index, plate_of(bed.setup->problem, o), face.weight, height);
    path.inner = g.cell(whole ? u.first + face.u : 0, whole ? v.first + face.v : 0, k0);
    path.outer = !top && under >= 0 ? g.cells() + under : -1;
    path.upright = 0.0;
    path.wind = top ? wind_on_top(bed.setup->problem) : wind_around(bed.setup->problem);
    path.bed = sub_grid / face.weight / now.across[at(path.inner)];
    path.quadratic += hole_inertia(now.inertia[at(path.inner)], radius, face.weight);
    path.diffusive_bed = sub_grid / face.weight;
    out.push_back(path);
  }
}

}  // namespace updraught
