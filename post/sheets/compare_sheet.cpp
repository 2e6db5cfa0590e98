// The sheet of two to four cases, one below the other on one scale.
#include <algorithm>
#include <memory>
#include <set>
#include <stdexcept>

#include "post/answer/bin_words.h"
#include "post/draw/paper.h"
#include "post/sheets/sheet_maps.h"
#include "post/sheets/sheet_page.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double margin = SheetPage::margin;
constexpr double inner = SheetPage::inner;
constexpr double gap = 6.0;
constexpr double strip_width = 164.0;  ///< beside the maps
constexpr double frame_below = 36.0;   ///< height of the strips' frames below the maps
constexpr double least_row = 96.0;     ///< what a strip beside the maps needs

/// Where the strips stand.
enum class Strips { beside, below };

/// One case and its heading.
struct Design {
  std::string name;
  std::string question;  ///< its own, where they differ
  std::string openings;
  std::string draught;
  CaseMaps maps;
};

/// All that a comparison draws.
struct SideBySide {
  Strips strips = Strips::beside;
  CurveWords curves;
  std::vector<Design> designs;
};

double map_column(Strips strips) {
  return strips == Strips::below ? 0.5 * (inner - gap) : 0.5 * (inner - strip_width - 2.0 * gap);
}

double heading_width(Strips strips) {
  return strips == Strips::below ? inner : 2.0 * map_column(strips) + gap;
}

/// Name and question on one line where they fit, then the openings and why the air goes down. Returns the
/// lower end; on nothing it measures.
double draw_heading(Canvas& canvas, double y, const Design& design, double width) {
  const TextSize name = canvas.text({margin, y}, design.name, {9.0, true, ink, Align::left, width});
  const TextStyle asked{8.0, false, ink, Align::left, width};
  const bool beside = name.width + canvas.measure(design.question, asked).width + 8.0 <= width;
  if (beside) canvas.text({margin + name.width + 7.0, y + 0.95}, design.question, asked);
  y += name.height;
  if (!beside) y += canvas.text({margin, y}, design.question, asked).height;
  y += canvas.text({margin, y}, design.openings, {7.2, false, soft_ink, Align::left, width}).height;
  y += canvas.text({margin, y}, design.draught, {7.2, true, ink, Align::left, width}).height;
  return y + 2.0;
}

/// Height of a design's row where the strip stands beside its maps.
double row_height(const Design& design) {
  const std::unique_ptr<Paper> nothing = blank_paper();
  Canvas canvas(*nothing);
  const double heading =
      draw_map_names(canvas, draw_heading(canvas, 0.0, design, heading_width(Strips::beside)), 0.0, 0.0);
  return std::max(heading + std::max(draw_height(design.maps.oxygen), draw_height(design.maps.warmth)),
                  least_row);
}

/// The same for all, or their curves could not be laid side by side.
double frame_height_of(Canvas& canvas, const SideBySide& all) {
  if (all.strips == Strips::below) return frame_below;
  double out = 1e300;
  for (const Design& design : all.designs) {
    const double height = row_height(design);
    out = std::min(out, stacked_frame_height(canvas, design.maps.strip, strip_width, height));
  }
  return out;
}

double draw_design(Canvas& canvas, double top, const Design& design, Strips strips, double frame_height) {
  const double column = map_column(strips);
  const double other = margin + column + gap;
  const TimeStrip& strip = design.maps.strip;
  double y = draw_heading(canvas, top, design, heading_width(strips));
  y = draw_map_names(canvas, y, margin, other);
  const double first = draw_map(canvas, design.maps.oxygen, {margin, y}, 0.0);
  y = std::max(first, draw_map(canvas, design.maps.warmth, {other, y}, 0.0));
  if (strips == Strips::below)
    return draw_strip_row(canvas, strip, {margin, y + 5.0}, column, column + gap, frame_height);
  draw_stacked_strip(canvas, strip, {margin + inner - strip_width, top}, strip_width, frame_height);
  return std::max(y, top + least_row);
}

double draw_picture(Canvas& canvas, double y, const SideBySide& all) {
  y = draw_legends(canvas, y + 4.0) + 5.0;
  const double frame_height = frame_height_of(canvas, all);
  std::vector<const Map*> maps;
  for (const Design& design : all.designs) {
    canvas.line({margin, y}, {margin + inner, y}, {faint, 0.8, {}});
    y = draw_design(canvas, y + 4.0, design, all.strips, frame_height) + 6.0;
    maps.push_back(&design.maps.oxygen);
  }
  return draw_reading_help(canvas, y, maps, all.curves) + 7.0;
}

Block picture_of(const SideBySide& all) {
  const auto kept = std::make_shared<const SideBySide>(all);
  return [kept](Canvas& canvas, double y) { return draw_picture(canvas, y, *kept); };
}

/// Whether the cases ask several questions: each then stands above its own design.
bool ask_apart(const std::vector<Result>& results) {
  std::set<std::string> asked;
  for (const Result& result : results) asked.insert(result.title);
  return asked.size() > 1;
}

/// The question of the whole sheet. Several questions in a row read as none.
std::string question_of_all(const std::vector<Result>& results, const SheetWords& words) {
  std::size_t found = 0;
  std::vector<std::string> names;
  for (const Result& result : results) {
    if (!result.title.empty() && words.question.find(result.title) != std::string::npos) ++found;
    names.push_back(result.name);
  }
  const bool joined_up = ask_apart(results) && found > 1;
  return joined_up || words.question.empty() ? "What differs between " + listed(names) + "?" : words.question;
}

/// Beds much wider than high, where there are two, get the whole width, with their strips below.
Strips strips_for(const std::vector<MapScene>& scenes) {
  if (scenes.size() > 2) return Strips::beside;
  const auto flat = [](const MapScene& scene) {
    return fitting_scale(scene, 200.0, 1e6) < fitting_scale(scene, 1e6, 130.0);
  };
  return std::any_of(scenes.begin(), scenes.end(), flat) ? Strips::below : Strips::beside;
}

/// What the bins are filled with, for each; once, with the first, where it is the same in all.
std::vector<std::string> fillings_of(const std::vector<Result>& results) {
  std::vector<std::string> out;
  out.reserve(results.size());
  for (const Result& result : results) out.push_back(filling_sentence(result.problem));
  const bool same =
      std::all_of(out.begin(), out.end(), [&](const std::string& one) { return one == out.front(); });
  if (!same || out.front().empty()) return out;
  const std::string once = (out.size() == 2 ? "Both f" : "All f") + out.front().substr(1);
  out.assign(out.size(), "");
  out.front() = once;
  return out;
}

/// The largest scale with which all maps fit.
double common_scale(const std::vector<MapScene>& scenes, Strips strips, double height) {
  double out = 1e300;
  for (const MapScene& scene : scenes) out = std::min(out, fitting_scale(scene, map_column(strips), height));
  return out;
}

SideBySide side_by_side(const std::vector<Result>& results, const std::vector<MapScene>& scenes,
                        Strips strips, double scale, const std::string& why) {
  SideBySide out{strips, {}, {}};
  out.curves.why = why;
  const StripScale one = strip_scale(results);
  const std::vector<std::string> fillings = fillings_of(results);
  for (std::size_t n = 0; n < results.size(); ++n) {
    const Result& result = results[n];
    out.curves.banded = out.curves.banded || !result.bands.empty();
    Design design{result.name, ask_apart(results) && result.title != result.name ? result.title : "",
                  openings_sentence(result.problem), "", case_maps(result, scenes[n], scale, one)};
    design.name += ", " + day_words(design.maps.oxygen.time, false);
    if (!fillings[n].empty()) design.openings += " " + fillings[n];
    design.draught = draught_note(design.maps.oxygen);
    out.designs.push_back(std::move(design));
  }
  return out;
}

SideBySide at_scale(SideBySide all, double scale) {
  for (Design& design : all.designs) design.maps = at_scale(std::move(design.maps), scale);
  return all;
}

}  // namespace

Drawing compare_sheet(const std::vector<Result>& results, const SheetWords& words, double day,
                      const std::string& file_name) {
  if (results.size() < 2 || results.size() > 4)
    throw std::invalid_argument("a sheet shows two to four cases side by side");
  std::vector<MapScene> scenes;
  scenes.reserve(results.size());
  for (const Result& result : results) scenes.push_back(scene_of(result, day));
  const Strips strips = strips_for(scenes);
  const auto scale = [&](double height) { return common_scale(scenes, strips, height); };
  const std::string question = question_of_all(results, words);
  const std::string why = why_drawn(results, day);
  SheetParts parts;
  parts.name = question;
  parts.head = [&](double letters) { return head_of(question, question, words, letters); };
  parts.facts = facts_of(words);
  parts.tallest = 190.0;
  parts.fair = 118.0;
  parts.least = 62.0;
  const SideBySide all = side_by_side(results, scenes, strips, scale(parts.tallest), why);
  parts.sketch = [&](double height) { return picture_of(at_scale(all, scale(height))); };
  parts.picture = [&](double height) {
    return picture_of(side_by_side(results, scenes, strips, scale(height), why));
  };
  parts.numbers = numbers_of_cases(results, day);
  parts.more_numbers = rows_for(parts.numbers, words.more_rows);
  parts.rest = small_print(words, check_words(results));
  Drawing out;
  out.name = file_name;
  out.title = question;
  out.description = joined(words.answer) + joined(words.warnings);
  for (std::size_t n = 0; n < results.size(); ++n)
    out.description += results[n].name + ": " + maps_in_words(results[n], all.designs[n].maps) + " ";
  put_on_pages(out, parts);
  return out;
}

}  // namespace updraught
