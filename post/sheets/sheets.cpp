// The sheet of one case; that of several is in compare_sheet.cpp.
#include "post/sheets/sheets.h"

#include <algorithm>
#include <memory>

#include "post/sheets/sheet_maps.h"
#include "post/sheets/sheet_page.h"

namespace updraught {

namespace {

constexpr double margin = SheetPage::margin;
constexpr double inner = SheetPage::inner;
constexpr double label_width = 112.0;  ///< of the words beside the maps
constexpr double map_gap = 2.0;
constexpr double strip_height = 52.0;

double draw_picture(Canvas& canvas, double y, const CaseMaps& maps, const CurveWords& curves) {
  const std::string what = day_words(maps.oxygen.time, true) + ": " + cut_words(maps.oxygen.problem);
  y += 5.0;
  y += canvas.text({margin, y}, what, {8.5, true, soft_ink, Align::left, inner}).height + 3.0;
  y = draw_legends(canvas, y) + 5.0;
  const double second = margin + maps.oxygen.width + map_gap;
  const double labels = margin + inner - second - maps.warmth.width;
  y = draw_map_names(canvas, y, margin, second);
  const double first_end = draw_map(canvas, maps.oxygen, {margin, y}, 0.0);
  y = std::max(first_end, draw_map(canvas, maps.warmth, {second, y}, labels)) + 6.0;
  const TextStyle why{8.0, true, ink, Align::left, inner};
  const std::string draught = draught_note(maps.oxygen);
  if (!draught.empty()) y += canvas.text({margin, y}, draught, why).height + 3.0;
  y = draw_reading_help(canvas, y, {&maps.oxygen}, curves) + 7.0;
  const double gap = 14.0;
  const double width = 0.5 * (inner - gap);
  return draw_strip_row(canvas, maps.strip, {margin, y}, width, width + gap, strip_height) + 8.0;
}

/// A picture that keeps its maps.
Block picture_of(const CaseMaps& maps, const CurveWords& curves) {
  const auto kept = std::make_shared<const CaseMaps>(maps);
  return [kept, curves](Canvas& canvas, double y) { return draw_picture(canvas, y, *kept, curves); };
}

}  // namespace

Drawing case_sheet(const Result& result, const SheetWords& words, double day, const std::string& file_name) {
  const MapScene scene = scene_of(result, day);
  const StripScale strips = strip_scale({&result, 1});
  const CurveWords curves{!result.bands.empty(), why_drawn({&result, 1}, day)};
  const auto scale = [&](double height) {
    return fitting_scale(scene, 0.5 * (inner - label_width - map_gap), height);
  };
  SheetParts parts;
  parts.name = result.name;
  parts.head = [&](double letters) { return head_of(result.name, words.question, words, letters); };
  parts.facts = facts_of(words);
  parts.tallest = 230.0;
  parts.fair = 120.0;
  parts.least = 110.0;
  const CaseMaps maps = case_maps(result, scene, scale(parts.tallest), strips);
  parts.sketch = [&](double height) { return picture_of(at_scale(maps, scale(height)), curves); };
  parts.picture = [&](double height) {
    return picture_of(case_maps(result, scene, scale(height), strips), curves);
  };
  parts.numbers = numbers_of_days(result, scene.picture->time / 86400.0);
  parts.more_numbers = rows_for(parts.numbers, words.more_rows);
  parts.rest = small_print(words, check_words({&result, 1}));
  Drawing out;
  out.name = file_name;
  out.title = words.question;
  out.description = joined(words.answer) + joined(words.warnings) + maps_in_words(result, maps);
  put_on_pages(out, parts);
  return out;
}

}  // namespace updraught
