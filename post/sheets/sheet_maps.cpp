#include "post/sheets/sheet_maps.h"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "post/sheets/sheet_page.h"

namespace updraught {

MapScene scene_of(const Result& result, double day) {
  if (result.run.series.empty()) throw std::invalid_argument("the case '" + result.name + "' holds no rows");
  const Picture& picture = result.pictures.at(picture_near(result, day));
  const double time = std::clamp(picture.time, 0.0, result.run.series.back().time);
  return {&result.grid, &result.problem, &picture, row_at(result.run.series, time).openings};
}

CaseMaps case_maps(const Result& result, const MapScene& scene, double points_per_metre,
                   const StripScale& strips) {
  return {map_of(scene, MapKind::oxygen, points_per_metre),
          map_of(scene, MapKind::temperature, points_per_metre),
          time_strip(result, strips, scene.picture->time / 86400.0)};
}

CaseMaps at_scale(CaseMaps maps, double points_per_metre) {
  maps.oxygen = at_scale(std::move(maps.oxygen), points_per_metre);
  maps.warmth = at_scale(std::move(maps.warmth), points_per_metre);
  return maps;
}

double draw_legends(Canvas& canvas, double y) {
  const double gap = 14.0;
  const double width = 0.5 * (SheetPage::inner - gap);
  const double left = draw_legend(canvas, MapKind::oxygen, {SheetPage::margin, y}, width);
  const Point other{SheetPage::margin + width + gap, y};
  return std::max(left, draw_legend(canvas, MapKind::temperature, other, width));
}

double draw_map_names(Canvas& canvas, double y, double oxygen_at, double warmth_at) {
  const TextStyle style{7.2, true, soft_ink, Align::left, SheetPage::inner};
  canvas.text({oxygen_at, y}, "Oxygen", style);
  return y + canvas.text({warmth_at, y}, "Temperature", style).height;
}

double draw_reading_help(Canvas& canvas, double y, const std::vector<const Map*>& maps,
                         const CurveWords& curves) {
  const double bar = 124.0;
  const double low = draw_scale_bar(canvas, {SheetPage::margin, y}, maps.front()->points_per_metre);
  std::string words = air_note(maps) + " Upright line in the curves: the day shown" +
                      (curves.why.empty() ? "" : ", " + curves.why) + ".";
  if (curves.banded) words += " Shaded there, in brackets in tables: 8 of 10 plausible beds.";
  const TextStyle style{7.2, false, soft_ink, Align::left, SheetPage::inner - bar};
  return std::max(low, y + canvas.text({SheetPage::margin + bar, y - 1.0}, words, style).height);
}

std::string joined(const std::vector<std::string>& sentences) {
  std::string out;
  for (const std::string& sentence : sentences) out += sentence + " ";
  return out;
}

std::string maps_in_words(const Result& result, const CaseMaps& maps) {
  return strip_words(result) + " " + map_description(maps.warmth) + " " + map_description(maps.oxygen);
}

SheetTable rows_for(const SheetTable& table, const SheetTable& more) {
  for (const auto& row : more)
    if (row.size() > table.front().size())
      throw std::invalid_argument("a row of the sheet has more cells than there are columns");
  return more;
}

}  // namespace updraught
