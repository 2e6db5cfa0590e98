// What the sheets of one case and of several share: a case at a day as two maps on one scale.
#pragma once

#include <string>
#include <vector>

#include "post/maps/maps.h"
#include "post/sheets/sheets.h"
#include "post/sheets/time_strip.h"

namespace updraught {

/// A case at a day. The result must outlive it.
MapScene scene_of(const Result& result, double day);

/// Oxygen and temperature of one case, and its course.
struct CaseMaps {
  Map oxygen;
  Map warmth;
  TimeStrip strip;
};
CaseMaps case_maps(const Result& result, const MapScene& scene, double points_per_metre,
                   const StripScale& strips);
CaseMaps at_scale(CaseMaps maps, double points_per_metre);

/// The legends of both kinds of map beside each other. Returns the lower end.
double draw_legends(Canvas& canvas, double y);

/// The names of both maps over their places. Returns the lower end.
double draw_map_names(Canvas& canvas, double y, double oxygen_at, double warmth_at);

/// What there is to tell of the curves beside the maps.
struct CurveWords {
  bool banded = false;  ///< they have a band
  std::string why;      ///< what the day shown shows; may be empty
};

/// The scale bar, and how to read lines and strips, in small letters. Returns the lower end.
double draw_reading_help(Canvas& canvas, double y, const std::vector<const Map*>& maps,
                         const CurveWords& curves);

/// Sentences of an answer as one.
std::string joined(const std::vector<std::string>& sentences);

/// Oxygen, temperature and course of a case for someone who cannot see them.
std::string maps_in_words(const Result& result, const CaseMaps& maps);

/// Further rows of a table. Throws std::invalid_argument where they have more cells than it has columns.
SheetTable rows_for(const SheetTable& table, const SheetTable& more);

}  // namespace updraught
