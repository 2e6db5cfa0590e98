#include "post/maps/maps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "post/answer/bin_words.h"

namespace updraught {

namespace {

constexpr double side_margin = 22.0;  ///< pt beside the walls, for the arrows
/// Air slower than this goes undrawn (mm/s): over a bed's depth, spreading then carries as much as the
/// stream.
constexpr double least_speed = 0.02;

/// Values of the cells of a cut in the unit that the map shows.
std::vector<double> shown_values(const Cut& cut, const Picture& picture, MapKind kind) {
  const auto scaled = [&](const std::string& name, double factor) {
    std::vector<double> out = cut_values(cut, field_of(picture, name));
    for (double& v : out) v *= factor;
    return out;
  };
  switch (kind) {
    case MapKind::oxygen:
      return scaled("oxygen_dry", 1.0);
    case MapKind::temperature:
      return scaled("temperature", 1.0);
    case MapKind::airflow:
      return cut_values(cut, speed_field(field_of(picture, "air_velocity")));
    case MapKind::air_between:
      return scaled("air_between", 100.0);
    case MapKind::free_air_space:
      return scaled("free_air_space", 100.0);
    case MapKind::moisture:
      return scaled("moisture", 100.0);
    case MapKind::hours_airless:
      return scaled("hours_airless", 1.0);
    case MapKind::holds_back:
      return cut_indices(cut, field_of(picture, "limiting"));
  }
  throw std::invalid_argument("unknown kind of map");
}

Cut cut_of_scene(const MapScene& scene) {
  return cut_of(*scene.grid, *scene.picture, choose_cut(*scene.problem));
}

std::vector<BandShape> shapes_of(const Cut& cut, const Picture& picture, MapKind kind) {
  const std::vector<double> values = shown_values(cut, picture, kind);
  if (kind == MapKind::holds_back) return index_shapes(cut, values);
  return band_shapes(lattice_of(cut, values), map_bands(kind).edges);
}

Loop on_page(const Scale& scale, const Loop& loop) {
  Loop out;
  for (const Point& p : loop) out.push_back(scale.at(p));
  return out;
}

double width_of_speed(double speed) {
  if (speed < 0.05) return 0.7;
  if (speed < 0.15) return 1.0;
  return speed < 0.5 ? 1.4 : 1.9;
}

/// Distance between the air's lines (pt): as many in a small map as in a large one, within what print
/// resolves.
double line_spacing(const Cut& cut, double points_per_metre) {
  const double area = (cut.across.back() - cut.across.front()) * (cut.z.back() - cut.z.front());
  return std::clamp(std::sqrt(area) * points_per_metre / 14.0, 9.0, 17.0);
}

/// A head in the middle of every stretch of about 60 pt.
void draw_flow_line(Canvas& canvas, const Loop& line, double width) {
  canvas.line(line, {colour(0xF4F8FA), width + 1.7, {}});
  canvas.line(line, {flow_line, width, {}});
  const auto count = static_cast<int>(line.size());
  double length = 0.0;
  for (std::size_t n = 1; n < line.size(); ++n)
    length += std::hypot(line[n].x - line[n - 1].x, line[n].y - line[n - 1].y);
  const int heads = std::max(1, static_cast<int>(std::lround(length / 60.0)));
  for (int h = 0; h < heads; ++h) {
    const int n = std::clamp(static_cast<int>((h + 0.6) * count / heads), 1, count - 1);
    const auto tip = static_cast<std::size_t>(n);
    const std::size_t tail = tip >= 2 ? tip - 2 : 0;
    const Point direction{line[tip].x - line[tail].x, line[tip].y - line[tail].y};
    canvas.arrowhead(line[tip], direction, 3.8 + 1.7 * width, flow_line);
  }
}

/// Heights (upper ends) of labels so that they stand near their anchors and do not overlap, within top and
/// bottom where they fit.
std::vector<double> spread(const std::vector<double>& wanted, const std::vector<double>& heights, double top,
                           double bottom) {
  std::vector<double> y(wanted);
  const double space = 3.0;
  for (std::size_t n = 0; n < y.size(); ++n)
    y[n] = std::max(y[n], n == 0 ? top : y[n - 1] + heights[n - 1] + space);
  double limit = bottom;
  for (std::size_t n = y.size(); n-- > 0;) {
    y[n] = std::min(y[n], limit - heights[n]);
    limit = y[n] - space;
  }
  // A column taller than the scene grows downwards.
  for (std::size_t n = 0; n < y.size(); ++n)
    y[n] = std::max(y[n], n == 0 ? top : y[n - 1] + heights[n - 1] + space);
  return y;
}

/// Words that stand in the air space that they name, where they fit; the others are returned.
std::vector<PartLabel> label_spaces(Canvas& canvas, const std::vector<PartLabel>& labels) {
  std::vector<PartLabel> rest;
  const TextStyle style{7.2, false, soft_ink, Align::centre, 0.0};
  for (const PartLabel& label : labels) {
    const TextSize size = canvas.measure(label.words, style);
    if (label.room.height > size.height + 1.0 && label.room.width > size.width + 8.0) {
      canvas.text({label.anchor.x, label.anchor.y - 0.5 * size.height}, label.words, style);
    } else {
      rest.push_back(label);
    }
  }
  return rest;
}

double draw_labels(Canvas& canvas, const std::vector<PartLabel>& all, double left, double width, double top,
                   double bottom) {
  const std::vector<PartLabel> labels = label_spaces(canvas, all);
  const TextStyle style{7.2, false, ink, Align::left, width - 8.0};
  std::vector<double> wanted;
  std::vector<double> heights;
  for (const PartLabel& label : labels) {
    heights.push_back(canvas.measure(label.words, style).height);
    wanted.push_back(label.anchor.y - 0.5 * heights.back());
  }
  const std::vector<double> y = spread(wanted, heights, top, bottom);
  double low = bottom;
  for (std::size_t n = 0; n < labels.size(); ++n) {
    const Point anchor = labels[n].anchor;
    const Point end{left + 5.0, y[n] + 0.5 * heights[n]};
    if (labels[n].pointer == Pointer::dot) {
      canvas.line({anchor, {left - 3.0, end.y}, end}, {paper, 1.8, {}});
      // Light around it, for dark walls.
      canvas.fill(Box{anchor.x - 2.1, anchor.y - 2.1, 4.2, 4.2}, paper);
      canvas.fill(Box{anchor.x - 1.3, anchor.y - 1.3, 2.6, 2.6}, ink);
    }
    if (labels[n].pointer != Pointer::none)
      canvas.line({anchor, {left - 1.0, end.y}, end}, {soft_ink, 0.6, {}});
    canvas.text({left + 8.0, y[n]}, labels[n].words, style);
    low = std::max(low, y[n] + heights[n]);
  }
  return low;
}

/// Room above the scene (pt): for arrows out of an open top or a lid with holes.
double upper_margin(const Problem& problem) {
  for (const Opening& o : problem.openings) {
    const bool upwards =
        o.where == Opening::Where::top || (o.where == Opening::Where::lid && o.kind != Opening::Kind::gap);
    if (upwards) return 22.0;
  }
  return 5.0;
}

double width_of(const Map& map) {
  return 2.0 * (side_margin + extent_of(map.problem, map.cut).half_outer * map.points_per_metre);
}

bool air_is_drawn(MapKind kind) {
  return kind == MapKind::oxygen || kind == MapKind::airflow;
}

}  // namespace

void draw_band(Canvas& canvas, MapKind kind, int band, const std::vector<Loop>& outlines) {
  const MapBands bands = map_bands(kind);
  const Colour fill = bands.colours.at(static_cast<std::size_t>(band));
  canvas.fill(outlines, fill, 0.5);
  const Stroke pale{colour(0xF4F8FA), 0.9, {}};
  if (band < bands.hatched) canvas.hatch(outlines, pale, 4.2);
  if (kind != MapKind::holds_back) return;
  if (band == 1) canvas.hatch(outlines, pale, 4.2);
  if (band == 2) canvas.hatch(outlines, {wall_edge, 0.7, {}}, 4.2, 135.0);
  if (band == 3) canvas.hatch(outlines, {air_line, 0.7, {}}, 4.2, 0.0);
  if (band == 4) canvas.hatch(outlines, pale, 4.2, 90.0);
}

double fitting_scale(const MapScene& scene, double width, double height) {
  const Extent e = extent_of(*scene.problem, cut_of_scene(scene));
  return std::min((width - 2.0 * side_margin) / (2.0 * e.half_outer),
                  (height - upper_margin(*scene.problem)) / (e.top - e.bottom));
}

Map map_of(const MapScene& scene, MapKind kind, double points_per_metre) {
  Map map;
  map.kind = kind;
  map.points_per_metre = points_per_metre;
  map.time = scene.picture->time;
  map.problem = *scene.problem;
  map.flows = scene.flows;
  map.cut = cut_of_scene(scene);
  map.bands = shapes_of(map.cut, *scene.picture, kind);
  map.width = width_of(map);
  if (kind == MapKind::oxygen)
    map.aired_edge = value_lines(lattice_of(map.cut, shown_values(map.cut, *scene.picture, kind)), 5.0);
  if (!air_is_drawn(kind)) return map;
  const PictureField& velocity = field_of(*scene.picture, "air_velocity");
  map.air =
      flow_lines(map.cut, velocity, line_spacing(map.cut, points_per_metre) / points_per_metre, least_speed);
  for (const double speed : cut_speeds(map.cut, velocity))
    if (std::isfinite(speed)) map.fastest = std::max(map.fastest, speed);
  return map;
}

Map at_scale(Map map, double points_per_metre) {
  map.points_per_metre = points_per_metre;
  map.width = width_of(map);
  return map;
}

double draw_height(const Map& map) {
  const Extent e = extent_of(map.problem, map.cut);
  return upper_margin(map.problem) + (e.top - e.bottom) * map.points_per_metre;
}

double draw_map(Canvas& canvas, const Map& map, Point place, double label_width) {
  const Extent e = extent_of(map.problem, map.cut);
  const Scale scale{
      {place.x + 0.5 * map.width, place.y + upper_margin(map.problem) + e.top * map.points_per_metre},
      map.points_per_metre};
  for (const BandShape& shape : map.bands) {
    std::vector<Loop> outlines;
    for (const Loop& loop : shape.outlines) outlines.push_back(on_page(scale, loop));
    draw_band(canvas, map.kind, shape.band, outlines);
  }
  for (const Loop& edge : map.aired_edge) {
    canvas.line(on_page(scale, edge), {paper, 3.0, {}});
    canvas.line(on_page(scale, edge), {colour(0x17384A), 1.3, {}});
  }
  const double thinner = 0.4 + 0.6 * line_spacing(map.cut, map.points_per_metre) / 17.0;
  for (const FlowLine& line : map.air)
    draw_flow_line(canvas, on_page(scale, line.points), thinner * width_of_speed(line.speed));
  const std::vector<PartLabel> labels = draw_bin(canvas, scale, map.problem, map.cut, map.flows);
  const double bottom = scale.at({0.0, e.bottom}).y;
  if (!(label_width > 0.0)) return bottom;
  return draw_labels(canvas, labels, place.x + map.width, label_width, place.y + 4.0, bottom);
}

std::vector<double> band_shares(const Map& map) {
  std::vector<double> out(map_bands(map.kind).colours.size(), 0.0);
  double whole = 0.0;
  for (const BandShape& shape : map.bands) {
    out.at(static_cast<std::size_t>(shape.band)) += shape.area;
    whole += shape.area;
  }
  for (double& share : out) share = whole > 0.0 ? share / whole : 0.0;
  return out;
}

std::string map_description(const Map& map) {
  const MapBands bands = map_bands(map.kind);
  const std::vector<double> shares = band_shares(map);
  std::string out = day_words(map.time, true) + ", " + cut_words(map.problem) + ". " + bands.caption + ": ";
  bool first = true;
  for (std::size_t b = 0; b < shares.size(); ++b) {
    if (shares[b] < 0.005) continue;
    out += fmt::format("{}{} in {:.0f} % of the cut", first ? "" : ", ", bands.words[b], 100.0 * shares[b]);
    first = false;
  }
  out += ". " + openings_sentence(map.problem) + " ";
  const std::string why = draught_note(map);
  return out + (why.empty() ? "" : why + " ") + "Computed, not measured.";
}

std::string air_note(const std::vector<const Map*>& maps) {
  double fastest = 0.0;
  for (const Map* map : maps) fastest = std::max(fastest, map->fastest);
  if (fastest < least_speed)
    return fmt::format("The air hardly moves here (slower than {} mm/s): no lines are drawn.", least_speed);
  return fmt::format(
      "Dark lines with arrows: the way of the air, the thicker the faster (up to {:.2g} mm/s here); none "
      "where it "
      "hardly moves (below {} mm/s).",
      fastest, least_speed);
}

Drawing map_drawing(const MapScene& scene, MapKind kind, const std::string& title,
                    const std::string& file_name) {
  Drawing out;
  const double label_width = 122.0;
  const double scale = fitting_scale(scene, out.width - label_width, 360.0);
  const auto map = std::make_shared<const Map>(map_of(scene, kind, scale));
  out.name = file_name;
  out.title = title;
  out.description = map_description(*map);
  out.draw = [map, title, label_width, width = out.width](Canvas& canvas) {
    double y =
        8.0 + canvas.text({8.0, 8.0}, title, {13.0, true, ink, Align::left, width - 16.0}).height + 2.0;
    const std::string place = day_words(map->time, true) + " · " + cut_words(map->problem);
    y += canvas.text({8.0, y}, place, {8.5, false, soft_ink, Align::left, width - 16.0}).height + 6.0;
    const double left = std::max(0.0, 0.5 * (width - label_width - map->width));
    y = draw_map(canvas, *map, {left, y}, label_width) + 8.0;
    const double inner = width - 2.0 * side_margin;
    y = draw_scale_bar(canvas, {side_margin, y}, map->points_per_metre) + 8.0;
    const bool listed = map->kind == MapKind::holds_back;
    y = draw_legend(canvas, map->kind, {side_margin, y}, inner,
                    listed ? band_shares(*map) : std::vector<double>{}) +
        6.0;
    const TextStyle note{7.5, false, soft_ink, Align::left, inner};
    if (air_is_drawn(map->kind)) y += canvas.text({side_margin, y}, air_note({map.get()}), note).height + 1.0;
    y += canvas.text({side_margin, y}, draught_note(*map), note).height + 1.0;
    y += canvas.text({side_margin, y}, "Computed, not measured.", {7.5, true, ink}).height;
    return y + 8.0;
  };
  return out;
}

}  // namespace updraught
