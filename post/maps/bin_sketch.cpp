#include "post/maps/bin_sketch.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "post/answer/bin_words.h"
#include "post/words/words.h"

namespace updraught {

namespace {

/// Light, so that boards that touch, and the bed beside them, stay apart.
const Stroke edge_stroke{paper, 0.7, {}};
const Stroke floor_stroke{wall_fill, 2.0, {}};
/// Slits and holes thinner than this on paper are drawn this wide (pt), or nobody would see them.
constexpr double least_visible = 1.6;
constexpr double arrow_length = 15.0;  ///< pt
/// A lid of which no layer is known is drawn this thick (m).
constexpr double unknown_lid = 0.02;
/// Name of the flow through the slots of a raised base in the rows of a series; they are no opening of the
/// bed itself.

struct Flow {
  double in = 0.0;   ///< m3/h
  double out = 0.0;  ///< m3/h
};

Flow flow_at(int opening, const std::vector<OpeningFlow>& flows) {
  const OpeningFlow* flow = flow_of(opening, flows);
  return flow == nullptr ? Flow{} : Flow{flow->air_in, flow->air_out};
}

std::string with_flow(const std::string& words, const Flow& flow, bool known) {
  if (!known) return words;
  const double least = 0.02 * std::max(flow.in, flow.out);
  if (flow.in > least && flow.out > least)
    return words + ": " + litres_a_minute(flow.in) + " in, " + litres_a_minute(flow.out) + " out";
  if (flow.in >= flow.out) return words + ": " + litres_a_minute(flow.in) + " in";
  return words + ": " + litres_a_minute(flow.out) + " out";
}

/// All that the parts of the sketch share.
struct Sketch {
  Canvas& canvas;
  const Scale& scale;
  const Problem& problem;
  const Cut& cut;
  const std::vector<OpeningFlow>& flows;
  Extent extent;
  double bed_height;
  std::vector<PartLabel> labels;

  bool rings() const { return cut.mirrored; }
  double points(double metres) const { return metres * scale.points_per_metre; }
  /// Half of a slit's or hole's size in metres, never thinner than can be seen.
  double half_seen(double size) const { return 0.5 * std::max(size, least_visible / scale.points_per_metre); }
  void label(Point bed, const std::string& words) {
    labels.push_back({scale.at(bed), words, Pointer::dot, {}});
  }
  /// What passes through one of the problem's openings.
  Flow through(const Opening& o) const {
    const auto own = std::find_if(problem.openings.begin(), problem.openings.end(),
                                  [&o](const Opening& other) { return &other == &o; });
    return flow_at(static_cast<int>(own - problem.openings.begin()), flows);
  }
  /// An opening and what passes through it, in words.
  std::string said(const Opening& o) const { return with_flow(opening_words(o), through(o), !flows.empty()); }
  /// Names an opening of the right side, and what passes through it; an arrow there carries the pointer on.
  void label_opening(Point bed, const Opening& o) {
    const Flow flow = through(o);
    const bool arrow = flow.in > 0.0 || flow.out > 0.0;
    Point anchor = scale.at(bed);
    if (arrow) anchor.x += arrow_length + 4.0;
    labels.push_back({anchor, said(o), arrow ? Pointer::arrow : Pointer::dot, {}});
  }
  /// Names an air space (m).
  void label_space(double bottom, double top, const std::string& words) {
    labels.push_back({scale.at({0.0, 0.5 * (bottom + top)}),
                      words,
                      Pointer::dot,
                      {points(2.0 * extent.half_inner), points(top - bottom)}});
  }
  void block(double left, double right, double bottom, double top) {
    if (!(right > left) || !(top > bottom)) return;
    const Box box = scale.box(left, right, bottom, top);
    canvas.fill(box, wall_fill);
    canvas.frame(box, edge_stroke);
  }
};

/// A straight arrow of air beside an opening, with two heads where much passes both ways; `outward` is the
/// direction away from the bed on the page.
void air_arrow(Sketch& s, Point opening, Point outward, const Flow& flow) {
  const double more = std::max(flow.in, flow.out);
  if (!(more > 0.0)) return;
  const Point edge = s.scale.at(opening);
  const auto along = [&](double away) { return Point{edge.x + away * outward.x, edge.y + away * outward.y}; };
  const double near = 2.0;
  const double far = near + arrow_length;
  const bool inwards = flow.in > 0.3 * more;
  const bool outwards = flow.out > 0.3 * more;
  s.canvas.line(along(inwards ? near + 3.0 : near), along(outwards ? far - 3.0 : far), {flow_line, 1.4, {}});
  if (inwards) s.canvas.arrowhead(along(near), {-outward.x, -outward.y}, 6.0, flow_line);
  if (outwards) s.canvas.arrowhead(along(far), outward, 6.0, flow_line);
}

/// The wall that a cut shows on its left or right.
Side wall_in_cut(const Cut& cut, bool right) {
  if (cut.mirrored) return Side::right;
  if (cut.place.along_x) return right ? Side::right : Side::left;
  return right ? Side::back : Side::front;
}

bool on_wall(const Sketch& s, const Opening& o, bool right) {
  if (o.where != Opening::Where::side) return false;
  if (o.all_sides || s.rings()) return true;
  return o.side == wall_in_cut(s.cut, right);
}

double size_of(const Opening& o) {
  const bool round = o.kind == Opening::Kind::hole || o.kind == Opening::Kind::holes;
  return round ? o.diameter : o.size;
}

/// One wall, with what is cut into it.
void draw_wall(Sketch& s, bool right) {
  const double sign = right ? 1.0 : -1.0;
  const double inner = sign * s.extent.half_inner;
  const double outer = sign * s.extent.outer(right);
  const double left = std::min(inner, outer);
  const double end = std::max(inner, outer);
  const bool raised = s.problem.base.kind == Base::Kind::raised;
  if (s.extent.wall(right) > 0.0) {
    s.block(left, end, raised ? 0.0 : s.extent.ground, s.extent.rim);
  } else {
    s.canvas.line(s.scale.at({inner, raised ? 0.0 : s.extent.ground}), s.scale.at({inner, s.extent.rim}),
                  {wall_fill, 2.0, {}});
  }
  for (const Opening& o : s.problem.openings) {
    if (!on_wall(s, o, right)) continue;
    const double seen = 1.2 / s.scale.points_per_metre;
    const bool everywhere = o.heights.empty();
    const std::vector<double> heights = everywhere ? std::vector<double>{0.5 * s.bed_height} : o.heights;
    const double half = everywhere ? 0.5 * s.bed_height : s.half_seen(size_of(o));
    for (const double h : heights) {
      const Box gap = s.scale.box(left - seen, end + seen, h - half, h + half);
      s.canvas.fill(gap, paper);
      s.canvas.line({gap.left, gap.top}, {gap.right(), gap.top}, {wall_edge, 0.5, {}});
      s.canvas.line({gap.left, gap.bottom()}, {gap.right(), gap.bottom()}, {wall_edge, 0.5, {}});
      if (o.kind == Opening::Kind::mesh)
        s.canvas.line(s.scale.at({inner, h - half}), s.scale.at({inner, h + half}),
                      {wall_edge, 1.4, {1.5, 1.5}});
      air_arrow(s, {outer, h}, {sign, 0.0}, s.through(o));
    }
    if (right) s.label_opening({s.extent.outer(true), heights.back()}, o);
  }
}

/// An open stretch of the floor or the lid (m), and whether a mesh lies over it.
struct Stretch {
  double from;
  double to;
  bool mesh;
  double open_share;
};

/// What a cut shows of an opening in the floor or the lid.
std::vector<Stretch> stretches_of(const Sketch& s, const Opening& o) {
  const double half = s.extent.half_inner;
  if (o.kind == Opening::Kind::open || o.kind == Opening::Kind::mesh)
    return {{half * (2.0 * o.patch_from - 1.0), half * (2.0 * o.patch_to - 1.0),
             o.kind == Opening::Kind::mesh, o.open_share}};
  const double middle =
      o.kind == Opening::Kind::hole ? half * (2.0 * (s.cut.place.along_x ? o.along : o.across) - 1.0) : 0.0;
  // As many as a cut through the middle meets: slits as long as the bed, or holes on a square pattern.
  const double across_length = s.cut.place.along_x ? s.problem.bin.length : s.problem.bin.width;
  double met = 1.0;
  if (o.kind == Opening::Kind::slots && o.length > 0.0) met = o.length / across_length;
  if (o.kind == Opening::Kind::holes) met = std::sqrt(o.count);
  const int count = std::clamp(static_cast<int>(std::lround(met)), 1, 60);
  std::vector<Stretch> out;
  for (int n = 0; n < count; ++n) {
    const double x = count == 1 ? middle : half * ((2.0 * n + 1.0) / count - 1.0);
    out.push_back({x - s.half_seen(size_of(o)), x + s.half_seen(size_of(o)), false, 1.0});
  }
  return out;
}

/// Names the openings of walls that the right side of the cut does not show.
void label_other_walls(Sketch& s) {
  for (const Opening& o : s.problem.openings) {
    if (o.where != Opening::Where::side || on_wall(s, o, true)) continue;
    const double height = o.heights.empty() ? 0.5 * s.bed_height : o.heights.back();
    s.labels.push_back({s.scale.at({s.extent.outer(true), height}), s.said(o), Pointer::none, {}});
  }
}

void draw_floor(Sketch& s) {
  if (s.problem.base.kind != Base::Kind::ground) {
    const double y = -0.9 / s.scale.points_per_metre;
    s.canvas.line(s.scale.at({-s.extent.half_inner, y}), s.scale.at({s.extent.half_inner, y}), floor_stroke);
    for (const Opening& o : s.problem.openings) {
      if (o.where != Opening::Where::base) continue;
      for (const Stretch& gap : stretches_of(s, o)) {
        const double half = 1.1 / s.scale.points_per_metre;
        s.canvas.fill(s.scale.box(gap.from, gap.to, y - half, y + half), paper);
        const double open = std::clamp(gap.open_share, 0.1, 0.8) * 6.0;
        if (gap.mesh)
          s.canvas.line(s.scale.at({gap.from, y}), s.scale.at({gap.to, y}),
                        {wall_edge, 2.0, {6.0 - open, open}});
      }
    }
  }
  for (const Opening& o : s.problem.openings) {
    if (o.where == Opening::Where::base) s.label({s.extent.half_inner, 0.0}, s.said(o));
  }
}

/// What passes through the slots of a raised base.
Flow slots_flow(const Sketch& s) {
  return flow_at(OpeningFlow::of_base, s.flows);
}

/// The space under a raised floor, with its slots to the outside.
void draw_base(Sketch& s) {
  const Base& base = s.problem.base;
  if (base.kind != Base::Kind::raised) {
    if (base.kind == Base::Kind::closed) s.label({0.9 * s.extent.half_inner, 0.0}, "closed floor");
    return;
  }
  const double bottom = -base.height;
  const auto thick = [&s](bool right) {
    return std::max(s.extent.wall(right), 2.0 / s.scale.points_per_metre);
  };
  const bool wide_open = !(base.inlet_area > 0.0);
  const double slot_middle = 0.5 * bottom;
  const double half_slot =
      std::min(s.half_seen(base.inlet_height > 0.0 ? base.inlet_height : 0.02), -0.45 * bottom);
  for (const double sign : {-1.0, 1.0}) {
    const double inner = sign * s.extent.half_inner;
    const double outer = inner + sign * thick(sign > 0.0);
    const double left = std::min(inner, outer);
    const double right = std::max(inner, outer);
    if (wide_open) {
      s.block(left, right, bottom, 0.0);
      const Box window = s.scale.box(left, right, 0.96 * bottom, 0.08 * bottom);
      s.canvas.fill({window.left - 0.6, window.top, window.width + 1.2, window.height}, paper);
    } else {
      s.block(left, right, bottom, slot_middle - half_slot);
      s.block(left, right, slot_middle + half_slot, 0.0);
    }
    air_arrow(s, {outer, slot_middle}, {sign, 0.0}, slots_flow(s));
  }
  s.label_space(bottom, 0.0, "space under the floor, " + length_words(base.height));
  const Flow flow = slots_flow(s);
  const bool arrow = flow.in > 0.0 || flow.out > 0.0;
  Point anchor = s.scale.at({s.extent.half_inner + thick(true), slot_middle});
  if (arrow) anchor.x += arrow_length + 4.0;
  const std::string words =
      wide_open ? "open to the outside" : fmt::format("slots, {:.0f} cm² in all", base.inlet_area * 1e4);
  s.labels.push_back(
      {anchor, wide_open ? words : with_flow(words, flow, arrow), arrow ? Pointer::arrow : Pointer::dot, {}});
}

void draw_ground(Sketch& s) {
  const double reach = s.extent.half_outer + 12.0 / s.scale.points_per_metre;
  const Box strip = s.scale.box(-reach, reach, s.extent.bottom, s.extent.ground);
  s.canvas.hatch({{{strip.left, strip.top},
                   {strip.right(), strip.top},
                   {strip.right(), strip.bottom()},
                   {strip.left, strip.bottom()}}},
                 {soft_ink, 0.5, {}}, 3.2);
  s.canvas.line({strip.left, strip.top}, {strip.right(), strip.top}, {ink, 0.9, {}});
}

/// Cuts other openings than a gap all round into the lid.
void cut_lid(Sketch& s, const Opening& o, double bottom) {
  const double seen = 0.8 / s.scale.points_per_metre;
  const std::vector<Stretch> stretches = stretches_of(s, o);
  for (const Stretch& gap : stretches) {
    s.canvas.fill(s.scale.box(gap.from, gap.to, bottom - seen, bottom + s.extent.lid + seen), paper);
    if (gap.mesh)
      s.canvas.line(s.scale.at({gap.from, bottom}), s.scale.at({gap.to, bottom}),
                    {wall_edge, 1.4, {2.0, 2.0}});
  }
  const Stretch& middle = stretches[stretches.size() / 2];
  const Point above{0.5 * (middle.from + middle.to), bottom + s.extent.lid};
  air_arrow(s, above, {0.0, -1.0}, s.through(o));
  Point anchor = s.scale.at(above);
  // Beside the arrow's middle, above the lid.
  anchor.x += 7.0;
  anchor.y -= 2.0 + 0.5 * arrow_length;
  s.labels.push_back({anchor, s.said(o), Pointer::arrow, {}});
}

void draw_lid(Sketch& s) {
  const bool lid = s.problem.lid.kind == Lid::Kind::closed;
  const double bottom = s.extent.rim + s.extent.lid_gap;
  if (lid) s.block(-s.extent.outer(false), s.extent.outer(true), bottom, bottom + s.extent.lid);
  bool named = false;
  for (const Opening& o : s.problem.openings) {
    const Flow flow = s.through(o);
    if (o.where == Opening::Where::top) {
      for (const double share : {-0.5, 0.5})
        air_arrow(s, {share * s.extent.half_inner, s.bed_height}, {0.0, -1.0}, flow);
    }
    if (o.where != Opening::Where::lid || !lid) continue;
    if (o.kind == Opening::Kind::gap) {
      for (const double sign : {-1.0, 1.0})
        air_arrow(s, {sign * s.extent.outer(sign > 0.0), s.extent.rim + 0.5 * s.extent.lid_gap}, {sign, 0.0},
                  flow);
      s.label_opening({s.extent.outer(true), s.extent.rim + 0.5 * s.extent.lid_gap}, o);
    } else {
      cut_lid(s, o, bottom);
    }
    named = true;
  }
  if (lid && s.extent.rim - s.bed_height > 0.0)
    s.label_space(s.bed_height, s.extent.rim, "space under the lid");
  if (lid && !named) s.label({0.9 * s.extent.half_inner, bottom + s.extent.lid}, "closed lid");
}

/// Names the walls by their thickness; where they differ, the one on the left beside the one on the right.
void label_walls(Sketch& s) {
  const Extent& e = s.extent;
  const bool alike = e.wall_left == e.wall_right;
  const auto named = [&](bool right) {
    const std::string which = alike ? "" : side_words(wall_in_cut(s.cut, right)) + " ";
    return which + "wall, " + length_words(e.wall(right)) + " thick";
  };
  const Point outside{e.outer(true), 0.45 * e.rim};
  if (e.wall_right > 0.0) s.label(outside, named(true));
  if (!alike && e.wall_left > 0.0) s.labels.push_back({s.scale.at(outside), named(false), Pointer::none, {}});
}

void draw_bed_edge(Sketch& s) {
  const Box bed = s.scale.box(-s.extent.half_inner, s.extent.half_inner, 0.0, s.bed_height);
  s.canvas.line({bed.left, bed.top}, {bed.right(), bed.top}, {ink, 1.0, {}});
  std::string words = "top of the bed, " + length_words(s.bed_height);
  for (const Opening& o : s.problem.openings)
    if (o.where == Opening::Where::top) words += "; " + s.said(o);
  s.label({0.97 * s.extent.half_inner, s.bed_height}, words);
  label_walls(s);
}

}  // namespace

Box Scale::box(double left, double right, double bottom, double top) const {
  const Point upper_left = at({left, top});
  return {upper_left.x, upper_left.y, (right - left) * points_per_metre, (top - bottom) * points_per_metre};
}

Extent extent_of(const Problem& problem, const Cut& cut) {
  Extent e;
  const double bed_height = cut.z.back();
  e.half_inner = cut.across.back();
  const auto wall = [&](bool right) {
    return problem.sides.at(static_cast<std::size_t>(wall_in_cut(cut, right))).thickness();
  };
  e.wall_left = wall(false);
  e.wall_right = wall(true);
  e.half_outer = e.half_inner + std::max(e.wall_left, e.wall_right);
  e.rim = problem.bin.height > 0.0 ? problem.bin.height : bed_height;
  e.top = std::max(e.rim, bed_height);
  if (problem.lid.kind == Lid::Kind::closed) {
    const double lid = problem.lid_heat.thickness();
    e.lid = lid > 0.0 ? lid : unknown_lid;
    for (const Opening& o : problem.openings)
      if (o.where == Opening::Where::lid && o.kind == Opening::Kind::gap)
        e.lid_gap = std::max(e.lid_gap, o.size);
    e.top = std::max(e.rim + e.lid_gap + e.lid, bed_height);
  }
  e.ground = problem.base.kind == Base::Kind::raised ? -problem.base.height : 0.0;
  if (problem.base.kind == Base::Kind::closed) e.ground = -0.01;
  e.bottom = e.ground - 0.035 * std::max(e.top - e.ground, 2.0 * e.half_outer);
  return e;
}

std::vector<PartLabel> draw_bin(Canvas& canvas, const Scale& scale, const Problem& problem, const Cut& cut,
                                const std::vector<OpeningFlow>& flows) {
  Sketch s{canvas, scale, problem, cut, flows, extent_of(problem, cut), cut.z.back(), {}};
  // A gap thinner than the eye sees is drawn wider, here too.
  if (s.extent.lid_gap > 0.0) s.extent.lid_gap = 2.0 * s.half_seen(s.extent.lid_gap);
  draw_ground(s);
  draw_base(s);
  draw_wall(s, false);
  draw_wall(s, true);
  label_other_walls(s);
  draw_floor(s);
  draw_lid(s);
  draw_bed_edge(s);
  std::stable_sort(s.labels.begin(), s.labels.end(),
                   [](const PartLabel& a, const PartLabel& b) { return a.anchor.y < b.anchor.y; });
  return s.labels;
}

}  // namespace updraught
