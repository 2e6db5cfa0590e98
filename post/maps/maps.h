// Maps of a vertical cut: oxygen, warmth and other amounts as flat bands, the air's lines over them, the bin
// around.
#pragma once

#include <string>
#include <vector>

#include "post/draw/drawing.h"
#include "post/maps/bin_sketch.h"
#include "post/maps/cut_plane.h"
#include "post/maps/flow_lines.h"

namespace updraught {

/// What a map shows.
enum class MapKind {
  oxygen,
  temperature,
  airflow,
  air_between,
  free_air_space,
  moisture,
  hours_airless,
  holds_back
};

/// Name used in file names and on the command line, e.g. "oxygen", "air-between".
std::string map_name(MapKind kind);

/// One case at one time. The pointers must outlive the drawing.
struct MapScene {
  const Grid* grid = nullptr;
  const Problem* problem = nullptr;
  const Picture* picture = nullptr;
  std::vector<OpeningFlow> flows;  ///< at the picture's time; empty: no arrows at the openings
};

/// Bands of a map, for its legend. Edges in the unit shown.
struct MapBands {
  std::vector<double> edges;
  std::vector<Colour> colours;     ///< one more than edges; for `holds_back` one per reason
  std::vector<std::string> words;  ///< for each band
  std::string caption;             ///< what the bands show, with unit
  int hatched = 0;                 ///< so many of the lowest bands are hatched
};
MapBands map_bands(MapKind kind);

/// Fills outlines (pt) as a band of a map: flat colour, and its hatching where it has one.
void draw_band(Canvas& canvas, MapKind kind, int band, const std::vector<Loop>& outlines);

/// The largest scale (pt/m) at which a scene fits into a width and a height (pt), its arrows included.
double fitting_scale(const MapScene& scene, double width, double height);

/// Shapes of a map, computed once and drawn as often as there are files.
struct Map {
  MapKind kind = MapKind::oxygen;
  double points_per_metre = 1.0;
  double time = 0.0;  ///< s
  Problem problem;
  std::vector<OpeningFlow> flows;
  Cut cut;
  std::vector<BandShape> bands;
  std::vector<Loop> aired_edge;  ///< where oxygen is 5 % (m); maps of oxygen only
  std::vector<FlowLine> air;     ///< maps of oxygen and of airflow only
  double fastest = 0.0;          ///< air in the plane of the cut (mm/s)
  double width = 0.0;            ///< pt, without labels
};
Map map_of(const MapScene& scene, MapKind kind, double points_per_metre);

/// The same map at another scale, its lines of the air as far apart as before: to find out what room it
/// takes.
Map at_scale(Map map, double points_per_metre);

/// Height that a map takes on the page without labels (pt).
double draw_height(const Map& map);

/// Draws a map with its left edge at `place.x`, its top at `place.y`; names the parts of the bin in a column
/// of `label_width` (pt) to the right unless that is 0. Returns the lower end (pt).
double draw_map(Canvas& canvas, const Map& map, Point place, double label_width);

/// The legend in one row of boxes, not wider than `width`. `shares`: part of the cut in each band, added to
/// the words where not empty. Returns the lower end.
double draw_legend(Canvas& canvas, MapKind kind, Point place, double width,
                   const std::vector<double>& shares = {});

/// A bar of a round number of centimetres. Returns the lower end.
double draw_scale_bar(Canvas& canvas, Point place, double points_per_metre);

/// Part of the drawn cut in each band of a map (0..1).
std::vector<double> band_shares(const Map& map);

/// "Day 3", "day 2.5"; `capital` for the start of a sentence.
std::string day_words(double seconds, bool capital);

/// Where the cut runs, in plain words, with the note on a box drawn as its round equivalent.
std::string cut_words(const Problem& problem);

/// What a map says, for someone who cannot see it, from computed values.
std::string map_description(const Map& map);

/// How to read the lines of the air in one map or several beside each other.
std::string air_note(const std::vector<const Map*>& maps);

/// Why the air goes down where it leaves through the floor without a fan; else empty.
std::string draught_note(const Map& map);

/// A whole map: title (a sentence), day, scene, legend, scale bar and the note that it is computed.
Drawing map_drawing(const MapScene& scene, MapKind kind, const std::string& title,
                    const std::string& file_name);

}  // namespace updraught
