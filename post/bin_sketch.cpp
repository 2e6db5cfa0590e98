#include "post/bin_sketch.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

const Stroke edge_stroke{wall_edge, 0.7, {}};
const Stroke floor_stroke{wall_edge, 2.0, {}};
/// Slits and holes thinner than this on paper are drawn this wide (pt), or nobody would see them.
constexpr double least_visible = 1.6;
constexpr double arrow_length = 15.0;  ///< pt

struct Flow {
  double in = 0.0;   ///< m3/h
  double out = 0.0;  ///< m3/h
};

Flow flow_at(const Opening& opening, const std::vector<OpeningFlow>& flows) {
  for (const OpeningFlow& f : flows)
    if (f.name == opening.name) return {f.air_in, f.air_out};
  return {};
}

std::string with_flow(const std::string& words, const Flow& flow, bool known) {
  if (!known) return words;
  const double least = 0.02 * std::max(flow.in, flow.out);
  if (flow.in > least && flow.out > least)
    return words + ": " + litres_a_minute(flow.in) + " in, " + litres_a_minute(flow.out) + " out";
  if (flow.in >= flow.out) return words + ": " + litres_a_minute(flow.in) + (flow.in > 0.003 ? " in" : "");
  return words + ": " + litres_a_minute(flow.out) + " out";
}

/// All that the parts of the sketch share.
struct Sketch {
  Canvas& canvas;
  const Scale& scale;
  const Outline& outline;
  const Cut& cut;
  const std::vector<OpeningFlow>& flows;
  Extent extent;
  double bed_height;
  std::vector<PartLabel> labels;

  bool rings() const { return cut.mirrored; }
  double points(double metres) const { return metres * scale.points_per_metre; }
  /// Half of a slit's or hole's size in metres, never thinner than can be seen.
  double half_seen(double size) const { return 0.5 * std::max(size, least_visible / scale.points_per_metre); }
  void label(Point bed, const std::string& words) { labels.push_back({scale.at(bed), words, false, {}}); }
  /// Names an opening of the right side, and what passes through it; an arrow there carries the pointer on.
  void label_opening(Point bed, const Opening& o) {
    const Flow flow = flow_at(o, flows);
    const bool arrow = flow.in > 0.0 || flow.out > 0.0;
    Point anchor = scale.at(bed);
    if (arrow) anchor.x += arrow_length + 4.0;
    labels.push_back({anchor, with_flow(opening_words(o), flow, !flows.empty()), arrow, {}});
  }
  /// Names an air space (m).
  void label_space(double bottom, double top, const std::string& words) {
    labels.push_back({scale.at({0.0, 0.5 * (bottom + top)}),
                      words,
                      false,
                      {points(2.0 * extent.half_inner), points(top - bottom)}});
  }
  void block(double left, double right, double bottom, double top) {
    if (!(right > left) || !(top > bottom)) return;
    const Box box = scale.box(left, right, bottom, top);
    canvas.fill(box, wall_fill);
    canvas.frame(box, edge_stroke);
  }
};

/// A straight arrow of air beside an opening; `outward` is the direction away from the bed on the page.
void air_arrow(Sketch& s, Point opening, Point outward, const Flow& flow) {
  if (!(flow.in > 0.0) && !(flow.out > 0.0)) return;
  const bool inwards = flow.in >= flow.out;
  const Point near = s.scale.at(opening);
  const Point from{near.x + 2.0 * outward.x, near.y + 2.0 * outward.y};
  const Point to{from.x + arrow_length * outward.x, from.y + arrow_length * outward.y};
  const Point tip = inwards ? from : to;
  const Point tail = inwards ? to : from;
  const Point direction{tip.x - tail.x, tip.y - tail.y};
  s.canvas.line(tail, {tip.x - 0.2 * direction.x, tip.y - 0.2 * direction.y}, {flow_line, 1.4, {}});
  s.canvas.arrowhead(tip, direction, 6.0, flow_line);
}

bool on_wall(const Sketch& s, const Opening& o, bool right) {
  if (o.where != Opening::Where::side) return false;
  if (o.all_sides || s.rings()) return true;
  if (s.cut.place.along_x) return o.side == (right ? Side::right : Side::left);
  return o.side == (right ? Side::back : Side::front);
}

double size_of(const Opening& o) {
  const bool round = o.kind == Opening::Kind::hole || o.kind == Opening::Kind::holes;
  return round ? o.diameter : o.size;
}

/// One wall, with what is cut into it.
void draw_wall(Sketch& s, bool right) {
  const double sign = right ? 1.0 : -1.0;
  const double inner = sign * s.extent.half_inner;
  const double outer = sign * s.extent.half_outer;
  const double left = std::min(inner, outer);
  const double end = std::max(inner, outer);
  if (s.extent.wall > 0.0) {
    s.block(left, end, 0.0, s.extent.rim);
  } else {
    s.canvas.line(s.scale.at({inner, 0.0}), s.scale.at({inner, s.extent.rim}), {wall_edge, 2.0, {}});
  }
  for (const Opening& o : s.outline.openings) {
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
      air_arrow(s, {outer, h}, {sign, 0.0}, flow_at(o, s.flows));
    }
    if (right || !on_wall(s, o, true)) s.label_opening({s.extent.half_outer, heights.back()}, o);
  }
}

/// Openings of the floor as open stretches (m), and whether a mesh lies over them.
struct Stretch {
  double from;
  double to;
  bool mesh;
  double open_share;
};

std::vector<Stretch> floor_stretches(const Sketch& s) {
  std::vector<Stretch> out;
  const double half = s.extent.half_inner;
  const double across_length = s.cut.place.along_x ? s.outline.bin.length : s.outline.bin.width;
  for (const Opening& o : s.outline.openings) {
    if (o.where != Opening::Where::base) continue;
    if (o.kind == Opening::Kind::open || o.kind == Opening::Kind::mesh) {
      out.push_back({half * (2.0 * o.patch_from - 1.0), half * (2.0 * o.patch_to - 1.0),
                     o.kind == Opening::Kind::mesh, o.open_share});
      continue;
    }
    double middle = 0.0;
    int count = 1;
    if (o.kind == Opening::Kind::hole)
      middle = half * (2.0 * (s.cut.place.along_x ? o.along : o.across) - 1.0);
    // As many as a cut through the middle meets: slits as long as the bed, or holes on a square pattern.
    if (o.kind == Opening::Kind::slots && o.length > 0.0)
      count = std::clamp(static_cast<int>(std::lround(o.length / across_length)), 1, 60);
    if (o.kind == Opening::Kind::holes)
      count = std::clamp(static_cast<int>(std::lround(std::sqrt(o.count))), 1, 60);
    for (int n = 0; n < count; ++n) {
      const double x = count == 1 ? middle : half * ((2.0 * n + 1.0) / count - 1.0);
      out.push_back({x - s.half_seen(size_of(o)), x + s.half_seen(size_of(o)), false, 1.0});
    }
  }
  return out;
}

void draw_floor(Sketch& s) {
  if (s.outline.base.kind != Base::Kind::ground) {
    const double y = -0.9 / s.scale.points_per_metre;
    s.canvas.line(s.scale.at({-s.extent.half_inner, y}), s.scale.at({s.extent.half_inner, y}), floor_stroke);
    for (const Stretch& gap : floor_stretches(s)) {
      s.canvas.fill(s.scale.box(gap.from, gap.to, y - 1.1 / s.scale.points_per_metre,
                                y + 1.1 / s.scale.points_per_metre),
                    paper);
      const double open = std::clamp(gap.open_share, 0.1, 0.8) * 6.0;
      if (gap.mesh)
        s.canvas.line(s.scale.at({gap.from, y}), s.scale.at({gap.to, y}),
                      {wall_edge, 2.0, {6.0 - open, open}});
    }
  }
  for (const Opening& o : s.outline.openings) {
    if (o.where == Opening::Where::base)
      s.label({s.extent.half_inner, 0.0}, with_flow(opening_words(o), flow_at(o, s.flows), !s.flows.empty()));
  }
}

Flow floor_flow(const Sketch& s) {
  Flow sum;
  for (const Opening& o : s.outline.openings) {
    if (o.where != Opening::Where::base) continue;
    sum.in += flow_at(o, s.flows).in;
    sum.out += flow_at(o, s.flows).out;
  }
  return sum;
}

/// The space under a raised floor, with its slots to the outside.
void draw_base(Sketch& s) {
  const Base& base = s.outline.base;
  if (base.kind != Base::Kind::raised) {
    if (base.kind == Base::Kind::closed) s.label({0.9 * s.extent.half_inner, 0.0}, "closed floor");
    return;
  }
  const double bottom = -base.height;
  const double thick = std::max(s.extent.wall, 2.0 / s.scale.points_per_metre);
  const bool wide_open = !(base.inlet_area > 0.0);
  const double slot_middle = 0.5 * bottom;
  const double half_slot =
      std::min(s.half_seen(base.inlet_height > 0.0 ? base.inlet_height : 0.02), -0.45 * bottom);
  for (const double sign : {-1.0, 1.0}) {
    const double inner = sign * s.extent.half_inner;
    const double outer = inner + sign * thick;
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
    air_arrow(s, {outer, slot_middle}, {sign, 0.0}, floor_flow(s));
  }
  s.label_space(bottom, 0.0, "space under the floor, " + length_words(base.height));
  const bool arrow = floor_flow(s).in > 0.0 || floor_flow(s).out > 0.0;
  Point anchor = s.scale.at({s.extent.half_inner + thick, slot_middle});
  if (arrow) anchor.x += arrow_length + 4.0;
  const std::string words =
      wide_open ? "open to the outside" : fmt::format("slots, {:.0f} cm² in all", base.inlet_area * 1e4);
  s.labels.push_back({anchor, words, arrow, {}});
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
  const bool patch = o.kind == Opening::Kind::open || o.kind == Opening::Kind::mesh;
  const double half = s.extent.half_inner;
  const double from = patch ? half * (2.0 * o.patch_from - 1.0) : -s.half_seen(size_of(o));
  const double to = patch ? half * (2.0 * o.patch_to - 1.0) : s.half_seen(size_of(o));
  const double seen = 0.8 / s.scale.points_per_metre;
  s.canvas.fill(s.scale.box(from, to, bottom - seen, bottom + s.extent.lid + seen), paper);
  if (o.kind == Opening::Kind::mesh)
    s.canvas.line(s.scale.at({from, bottom}), s.scale.at({to, bottom}), {wall_edge, 1.4, {2.0, 2.0}});
  air_arrow(s, {0.5 * (from + to), bottom + s.extent.lid}, {0.0, -1.0}, flow_at(o, s.flows));
}

void draw_lid(Sketch& s) {
  const bool lid = s.outline.lid.kind == Lid::Kind::closed;
  const double bottom = s.extent.rim + s.extent.lid_gap;
  if (lid) s.block(-s.extent.half_outer, s.extent.half_outer, bottom, bottom + s.extent.lid);
  bool named = false;
  for (const Opening& o : s.outline.openings) {
    const Flow flow = flow_at(o, s.flows);
    const std::string words = with_flow(opening_words(o), flow, !s.flows.empty());
    if (o.where == Opening::Where::top) {
      for (const double share : {-0.5, 0.5})
        air_arrow(s, {share * s.extent.half_inner, s.bed_height}, {0.0, -1.0}, flow);
      s.label({0.6 * s.extent.half_inner, s.bed_height}, words);
    }
    if (o.where != Opening::Where::lid || !lid) continue;
    if (o.kind == Opening::Kind::gap) {
      for (const double sign : {-1.0, 1.0})
        air_arrow(s, {sign * s.extent.half_outer, s.extent.rim + 0.5 * s.extent.lid_gap}, {sign, 0.0}, flow);
      s.label_opening({s.extent.half_outer, s.extent.rim + 0.5 * s.extent.lid_gap}, o);
    } else {
      cut_lid(s, o, bottom);
      s.label({0.9 * s.extent.half_inner, bottom + s.extent.lid}, words);
    }
    named = true;
  }
  if (lid && s.extent.rim - s.bed_height > 0.0)
    s.label_space(s.bed_height, s.extent.rim, "space under the lid");
  if (lid && !named) s.label({0.9 * s.extent.half_inner, bottom + s.extent.lid}, "closed lid");
}

void draw_bed_edge(Sketch& s) {
  const Box bed = s.scale.box(-s.extent.half_inner, s.extent.half_inner, 0.0, s.bed_height);
  s.canvas.line({bed.left, bed.top}, {bed.right(), bed.top}, {ink, 1.0, {}});
  s.label({0.97 * s.extent.half_inner, s.bed_height}, "top of the bed, " + length_words(s.bed_height));
  if (s.extent.wall > 0.0)
    s.label({s.extent.half_outer, 0.45 * s.extent.rim}, "wall, " + length_words(s.extent.wall) + " thick");
}

}  // namespace

Box Scale::box(double left, double right, double bottom, double top) const {
  const Point upper_left = at({left, top});
  return {upper_left.x, upper_left.y, (right - left) * points_per_metre, (top - bottom) * points_per_metre};
}

Extent extent_of(const Outline& outline, const Cut& cut) {
  Extent e;
  const double bed_height = cut.z.back();
  e.half_inner = cut.across.back();
  e.wall = std::max(outline.wall_thickness, 0.0);
  e.half_outer = e.half_inner + e.wall;
  e.rim = outline.bin.height > 0.0 ? outline.bin.height : bed_height;
  e.top = std::max(e.rim, bed_height);
  if (outline.lid.kind == Lid::Kind::closed) {
    // What the lid is made of stands nowhere: it is drawn as thick as the walls, within 2 to 5 cm.
    e.lid = std::clamp(e.wall, 0.02, 0.05);
    for (const Opening& o : outline.openings)
      if (o.where == Opening::Where::lid && o.kind == Opening::Kind::gap)
        e.lid_gap = std::max(e.lid_gap, o.size);
    e.top = std::max(e.rim + e.lid_gap + e.lid, bed_height);
  }
  e.ground = outline.base.kind == Base::Kind::raised ? -outline.base.height : 0.0;
  if (outline.base.kind == Base::Kind::closed) e.ground = -0.01;
  e.bottom = e.ground - 0.035 * std::max(e.top - e.ground, 2.0 * e.half_outer);
  return e;
}

std::vector<PartLabel> draw_bin(Canvas& canvas, const Scale& scale, const Outline& outline, const Cut& cut,
                                const std::vector<OpeningFlow>& flows) {
  Sketch s{canvas, scale, outline, cut, flows, extent_of(outline, cut), cut.z.back(), {}};
  // A gap thinner than the eye sees is drawn wider, here too.
  if (s.extent.lid_gap > 0.0) s.extent.lid_gap = 2.0 * s.half_seen(s.extent.lid_gap);
  draw_ground(s);
  draw_base(s);
  draw_wall(s, false);
  draw_wall(s, true);
  draw_floor(s);
  draw_lid(s);
  draw_bed_edge(s);
  std::stable_sort(s.labels.begin(), s.labels.end(),
                   [](const PartLabel& a, const PartLabel& b) { return a.anchor.y < b.anchor.y; });
  return s.labels;
}

}  // namespace updraught
