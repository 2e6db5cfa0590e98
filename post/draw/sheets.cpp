#include "post/draw/sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <stdexcept>

#include "post/answer/bin_words.h"
#include "post/answer/cautions.h"
#include "post/draw/maps.h"

namespace updraught {

namespace {

constexpr double page = 595.0;  ///< width of A4 (pt)
constexpr double page_height = 842.0;
constexpr double margin = 36.0;
constexpr double inner = page - 2.0 * margin;

double paragraph(Canvas& canvas, double y, const std::string& words, const TextStyle& style) {
  TextStyle wrapped = style;
  wrapped.wrap = inner;
  return y + canvas.text({margin, y}, words, wrapped).height;
}

double heading(Canvas& canvas, double y, const std::string& words) {
  return paragraph(canvas, y, words, {8.5, true, soft_ink}) + 1.0;
}

double sentences(Canvas& canvas, double y, const std::vector<std::string>& words, const TextStyle& style) {
  for (const std::string& sentence : words) y = paragraph(canvas, y, sentence, style) + 2.5;
  return y;
}

/// A table with shaded rows; the first column takes what it needs, up to two fifths.
double draw_table(Canvas& canvas, double y, const SheetTable& table) {
  if (table.empty()) return y;
  std::size_t columns = 0;
  for (const auto& row : table) columns = std::max(columns, row.size());
  const double first = columns > 4 ? 0.26 * inner : 0.36 * inner;
  const double other = columns > 1 ? (inner - first) / static_cast<double>(columns - 1) : inner;
  for (std::size_t r = 0; r < table.size(); ++r) {
    double height = 0.0;
    std::vector<TextStyle> styles;
    for (std::size_t c = 0; c < table[r].size(); ++c) {
      styles.push_back({7.8, r == 0, ink, Align::left, (c == 0 ? first : other) - 8.0});
      height = std::max(height, canvas.measure(table[r][c], styles[c]).height);
    }
    if (r % 2 == 1) canvas.fill(Box{margin, y, inner, height + 4.0}, shade);
    for (std::size_t c = 0; c < table[r].size(); ++c) {
      const double left = c == 0 ? margin : margin + first + other * static_cast<double>(c - 1);
      canvas.text({left + 4.0, y + 2.0}, table[r][c], styles[c]);
    }
    y += height + 4.0;
    if (r == 0) canvas.line({margin, y}, {page - margin, y}, {soft_ink, 0.7, {}});
  }
  canvas.line({margin, y}, {page - margin, y}, {soft_ink, 0.7, {}});
  return y;
}

MapScene scene_of(const Result& result, double day) {
  if (result.run.series.empty()) throw std::invalid_argument("the case '" + result.name + "' holds no rows");
  const Picture& picture = result.pictures.at(picture_near(result, day));
  const double time = std::clamp(picture.time, 0.0, result.run.series.back().time);
  return {&result.grid, &result.problem, &picture, row_at(result.run.series, time).openings};
}

/// The larger amount. What is no number must not pass for a small one.
double larger(double worst, double error) {
  return std::isfinite(error) ? std::max(worst, std::abs(error)) : std::numeric_limits<double>::infinity();
}

double largest_imbalance(const Balances& b) {
  double worst = 0.0;
  for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) worst = larger(worst, error);
  return worst;
}

/// "0.08", "1.2": two digits that count, of a small number.
std::string short_number(double value) {
  return std::isfinite(value) ? fmt::format("{:.2g}", value) : "an unknown number of";
}

std::vector<std::string> check_words(const std::vector<Result>& results) {
  double worst = 0.0;
  double warmth = 0.0, oxygen = 0.0;  // how far steps ended from where they were predicted to end
  bool banded = false;
  bool rings = false;
  for (const Result& result : results) {
    worst = std::max(worst, largest_imbalance(result.run.balances));
    warmth = larger(warmth, result.run.balances.step_temperature);
    oxygen = larger(oxygen, result.run.balances.step_oxygen);
    banded = banded || !result.bands.empty();
    rings = rings || result.problem.box_as_rings;
  }
  std::vector<std::string> out;
  const double percent = 100.0 * worst;
  const std::string missing = percent < 1e-6            ? "less than 0.000001 %"
                              : !std::isfinite(percent) ? "an unknown part"
                                                        : fmt::format("at most {:.1g} %", percent);
  out.push_back("Air, oxygen, heat, water and dry matter were counted in, out and in store: " + missing +
                " is unaccounted for.");
  out.push_back(fmt::format(
      "From one step in time to the next the bed as a whole was off its course by at most {} °C and "
      "{} % oxygen.",
      short_number(warmth), short_number(100.0 * oxygen)));
  if (banded)
    out.emplace_back(
        "In brackets: low to high, from three settings of what is least sure (packing, fineness of the "
        "pores, how "
        "fast microbes breathe).");
  if (rings)
    out.emplace_back(
        "A box is drawn and computed here as a round bin whose middle is as far from cold walls.");
  out.push_back(computed_not_measured());
  return out;
}

double draw_end(Canvas& canvas, double y, const std::vector<std::string>& check,
                const std::vector<std::string>& notes) {
  y = heading(canvas, y, "The check");
  y = sentences(canvas, y, check, {7.5, false, ink});
  // Said once: it is the last line of the check.
  std::vector<std::string> others = notes;
  std::erase(others, computed_not_measured());
  return sentences(canvas, y, others, {7.5, false, soft_ink}) + margin * 0.5;
}

std::string joined(const std::vector<std::string>& sentences) {
  std::string out;
  for (const std::string& sentence : sentences) out += sentence + " ";
  return out;
}

void check_rows(const SheetTable& rows, std::size_t columns) {
  for (const auto& row : rows)
    if (row.size() > columns)
      throw std::invalid_argument("a row of the sheet has more cells than there are columns");
}

/// What gives way when there is much to say.
struct SheetSizes {
  double map = 0.0;      ///< height of a map (pt), at most
  double letters = 0.0;  ///< of the answer (pt)
};

/// The sheet with the largest maps with which it fits a page; letters of the answer give way last. A sheet
/// that says too much even so is longer than a page, since no caution may be lost.
Drawing fitted(const std::function<Drawing(const SheetSizes&)>& sheet, double tallest, double least,
               double letters) {
  Drawing out;
  for (const double part : {1.0, 0.93, 0.86}) {
    for (int smaller = 0; tallest * (1.0 - 0.05 * smaller) >= least; ++smaller) {
      out = sheet({tallest * (1.0 - 0.05 * smaller), part * letters});
      if (lay_out(out).height <= page_height) return out;
    }
  }
  return out;
}

Drawing case_sheet_of(const Result& result, const SheetWords& words, double day, const std::string& file_name,
                      const SheetSizes& sizes) {
  const MapScene scene = scene_of(result, day);
  const double label_width = 128.0;
  const double scale = fitting_scale(scene, inner - label_width, sizes.map);
  const auto map = std::make_shared<const Map>(map_of(scene, MapKind::oxygen, scale));
  SheetTable table = numbers_of_days(result);
  check_rows(words.more_rows, table.front().size());
  table.insert(table.end(), words.more_rows.begin(), words.more_rows.end());
  Drawing out;
  out.name = file_name;
  out.title = words.question;
  out.description = joined(words.answer) + map_description(*map);
  out.width = page;
  out.draw = [map, words, table, label_width, sizes, check = check_words({result}),
              name = result.name](Canvas& canvas) {
    double y = paragraph(canvas, margin, words.question, {15.0, true, ink}) + 1.0;
    y = paragraph(canvas, y, name, {8.0, false, soft_ink}) + 7.0;
    y = sentences(canvas, y, words.answer, {sizes.letters, false, ink}) + 6.0;
    y = heading(canvas, y, day_words(map->time, true) + ": " + cut_words(map->problem)) + 3.0;
    y = draw_map(canvas, *map, {margin, y}, label_width) + 6.0;
    y = draw_scale_bar(canvas, {margin, y}, map->points_per_metre) + 6.0;
    y = draw_legend(canvas, MapKind::oxygen, {margin, y}, inner) + 4.0;
    y = paragraph(canvas, y, air_note({map.get()}), {7.5, false, soft_ink}) + 8.0;
    y = draw_table(canvas, y, table) + 8.0;
    return draw_end(canvas, y, check, words.notes);
  };
  return out;
}

/// All that a comparison draws.
struct SideBySide {
  std::vector<Map> oxygen;
  std::vector<Map> warmth;
  std::vector<std::string> names;
  std::size_t columns = 2;
};

SideBySide maps_of(const std::vector<Result>& results, double day, double height) {
  SideBySide out;
  out.columns = results.size();
  const double width =
      (inner - 12.0 * static_cast<double>(out.columns - 1)) / static_cast<double>(out.columns);
  double scale = 1e300;
  for (const Result& result : results)
    scale = std::min(scale, fitting_scale(scene_of(result, day), width, height));
  for (const Result& result : results) {
    const MapScene scene = scene_of(result, day);
    out.oxygen.push_back(map_of(scene, MapKind::oxygen, scale));
    out.warmth.push_back(map_of(scene, MapKind::temperature, scale));
    out.names.push_back(result.name);
  }
  return out;
}

/// One row or two of maps beside each other, with their openings in words where `named`.
double draw_maps(Canvas& canvas, double y, const SideBySide& all, const std::vector<Map>& maps, bool named) {
  const double step = (inner + 12.0) / static_cast<double>(all.columns);
  for (std::size_t from = 0; from < maps.size(); from += all.columns) {
    const std::size_t to = std::min(from + all.columns, maps.size());
    double top = y;
    for (std::size_t n = from; n < to; ++n) {
      const double left = margin + step * static_cast<double>(n - from);
      const TextStyle bold{9.0, true, ink, Align::left, step - 12.0};
      double low =
          y + canvas.text({left, y}, all.names[n] + ", " + day_words(maps[n].time, false), bold).height;
      const TextStyle small{7.2, false, soft_ink, Align::left, step - 12.0};
      if (named) low += canvas.text({left, low}, openings_sentence(maps[n].problem), small).height;
      top = std::max(top, low + 2.0);
    }
    double bottom = top;
    double tallest = 0.0;
    for (std::size_t n = from; n < to; ++n) tallest = std::max(tallest, draw_height(maps[n]));
    for (std::size_t n = from; n < to; ++n) {
      const double left = margin + step * static_cast<double>(n - from);
      // All stand on one ground line.
      const double place = top + tallest - draw_height(maps[n]);
      bottom = std::max(bottom, draw_map(canvas, maps[n], {left, place}, 0.0));
    }
    y = bottom + 5.0;
  }
  return y;
}

Drawing compare_sheet_of(const std::vector<Result>& results, const SheetWords& words, double day,
                         const std::string& file_name, const SheetSizes& sizes) {
  const auto all = std::make_shared<const SideBySide>(maps_of(results, day, sizes.map));
  SheetTable table = numbers_of_cases(results, day);
  check_rows(words.more_rows, table.front().size());
  table.insert(table.end(), words.more_rows.begin(), words.more_rows.end());
  Drawing out;
  out.name = file_name;
  out.title = words.question;
  out.description = joined(words.answer);
  for (std::size_t n = 0; n < results.size(); ++n)
    out.description += results[n].name + ": " + map_description(all->oxygen[n]) + " ";
  out.width = page;
  out.draw = [all, words, table, sizes, check = check_words(results)](Canvas& canvas) {
    double y = paragraph(canvas, margin, words.question, {15.0, true, ink}) + 5.0;
    y = sentences(canvas, y, words.answer, {sizes.letters, false, ink}) + 4.0;
    y = draw_maps(canvas, y, *all, all->oxygen, true);
    y = draw_legend(canvas, MapKind::oxygen, {margin, y}, inner) + 3.0;
    std::vector<const Map*> maps;
    for (const Map& map : all->oxygen) maps.push_back(&map);
    y = paragraph(canvas, y, air_note(maps), {7.5, false, soft_ink}) + 5.0;
    y = draw_scale_bar(canvas, {margin, y}, all->oxygen.front().points_per_metre) + 7.0;
    y = draw_maps(canvas, y, *all, all->warmth, false);
    y = draw_legend(canvas, MapKind::temperature, {margin, y}, inner) + 8.0;
    y = draw_table(canvas, y, table) + 6.0;
    return draw_end(canvas, y, check, words.notes);
  };
  return out;
}

}  // namespace

Drawing case_sheet(const Result& result, const SheetWords& words, double day, const std::string& file_name) {
  return fitted([&](const SheetSizes& sizes) { return case_sheet_of(result, words, day, file_name, sizes); },
                330.0, 200.0, 9.5);
}

Drawing compare_sheet(const std::vector<Result>& results, const SheetWords& words, double day,
                      const std::string& file_name) {
  if (results.size() < 2 || results.size() > 4)
    throw std::invalid_argument("a sheet shows two to four cases side by side");
  return fitted(
      [&](const SheetSizes& sizes) { return compare_sheet_of(results, words, day, file_name, sizes); }, 172.0,
      110.0, 9.0);
}

}  // namespace updraught
