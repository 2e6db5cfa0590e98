#include "post/sheets/figures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <new>
#include <stdexcept>

#include "post/words/words.h"

namespace updraught {

namespace {

/// One picture that fails does not take the others with it.
void write(FigureFiles& files, const std::string& name, const std::function<Drawing()>& draw,
           const std::string& folder) {
  try {
    const Drawing drawing = draw();
    for (const std::string& path : save(drawing, folder)) files.paths.push_back(path);
    files.figures.push_back({drawing.name, drawing.title, drawing.description});
  } catch (const std::bad_alloc&) {
    files.troubles.push_back("the picture " + name + " is missing: there is not enough memory to draw it");
  } catch (const std::exception& error) {
    files.troubles.push_back("the picture " + name + " is missing: " + error.what());
  }
}

/// What holds back the largest part of the cut that a map shows.
std::string leading_reason(const MapScene& scene) {
  const std::vector<double> shares = band_shares(map_of(scene, MapKind::holds_back, 100.0));
  const auto most = std::max_element(shares.begin(), shares.end());
  const std::string word =
      map_bands(MapKind::holds_back).words.at(static_cast<std::size_t>(most - shares.begin()));
  return fmt::format("{}, in {} of this cut", word, percent(*most));
}

/// A sentence that says what a map shows, from the row of its time.
std::string map_title(const MapScene& scene, MapKind kind, const std::string& when, const SeriesRow& row) {
  std::string start = when[0] == 'D' ? "On d" + when.substr(1) : when;
  switch (kind) {
    case MapKind::oxygen:
      return fmt::format("{}, {} of the bed has enough air (oxygen above 5 %)", start,
                         percent(row.aired_share));
    case MapKind::temperature:
      return fmt::format("{}, the bed's hottest part has about {}, its coldest {}", start,
                         rounded_temperature(row.hottest), rounded_temperature(row.coldest));
    case MapKind::airflow:
      return start + ", " + litres_a_minute(row.air_in) + " of air pass through the bin";
    case MapKind::air_between:
      return fmt::format("{}, the base keeps {} air between its pieces, the top {}", start,
                         percent(row.base_air_between), percent(row.top_air_between));
    case MapKind::free_air_space:
      return start + ", this much of each part is open pores (free air space)";
    case MapKind::moisture:
      return start + ", the bed is this wet";
    case MapKind::hours_airless:
      return start + ", these parts have been without air for this long";
    case MapKind::holds_back:
      return start + ", this holds the microbes back most: " + leading_reason(scene);
  }
  return start;
}

/// The hottest moment and the one with least air, in a sentence.
std::string course_title(const std::vector<SeriesRow>& rows) {
  const auto hottest = std::max_element(
      rows.begin(), rows.end(), [](const SeriesRow& a, const SeriesRow& b) { return a.hottest < b.hottest; });
  const auto airless = std::min_element(rows.begin(), rows.end(), [](const SeriesRow& a, const SeriesRow& b) {
    return a.aired_share < b.aired_share;
  });
  // Not whole days: a table beside it tells the ends of those.
  const auto when = [](const SeriesRow& row) { return day_name(std::round(row.time / 8640.0) / 10.0); };
  const std::string warmth = fmt::format("The hottest part reaches about {} on {}",
                                         rounded_temperature(hottest->hottest), when(*hottest));
  // Nothing is short where the least rounds to all.
  if (airless->aired_share >= 0.995) return warmth + "; all of the bed has enough air throughout";
  return fmt::format("{}; air is shortest on {}, when {} of the bed has enough", warmth, when(*airless),
                     percent(airless->aired_share));
}

std::string file_name(const std::string& what, double seconds) {
  const double days = seconds / 86400.0;
  return std::abs(days - std::round(days)) < 0.02 ? fmt::format("{}-day-{:.0f}", what, days)
                                                  : fmt::format("{}-day-{:.2f}", what, days);
}

/// Pictures to draw: the one near the asked day, and the last.
std::vector<std::size_t> chosen_pictures(const Result& result, double day) {
  const std::size_t last = result.pictures.size() - 1;
  const std::size_t asked = picture_near(result, day);
  const bool near = std::abs(result.pictures[asked].time / 86400.0 - day) < 0.51;
  if (!near || asked == last) return {last};
  return {asked, last};
}

void write_maps(FigureFiles& files, const Result& result, const std::string& folder,
                const FigureOptions& options) {
  std::vector<MapKind> kinds{MapKind::oxygen, MapKind::temperature};
  for (const MapKind kind : options.more_maps)
    if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
  for (const std::size_t p : chosen_pictures(result, options.day)) {
    const Picture& picture = result.pictures[p];
    const double time = std::clamp(picture.time, 0.0, result.run.series.back().time);
    const SeriesRow row = row_at(result.run.series, time);
    const MapScene scene{&result.grid, &result.problem, &picture, row.openings};
    for (const MapKind kind : kinds) {
      const std::string name = file_name(map_name(kind), picture.time);
      const auto draw = [&, name] {
        return map_drawing(scene, kind, map_title(scene, kind, day_words(picture.time, true), row), name);
      };
      write(files, name, draw, folder);
    }
  }
}

}  // namespace

FigureFiles write_case_figures(const Result& result, const std::string& folder,
                               const FigureOptions& options) {
  FigureFiles files;
  if (result.run.series.empty())
    throw std::runtime_error("the result '" + result.name +
                             "' holds no computed step: there is nothing to draw");
  if (!result.pictures.empty()) write_maps(files, result, folder, options);
  const auto course = [&] { return time_course(result, course_title(result.run.series), "time-course"); };
  write(files, "time-course", course, folder);
  if (options.sheet && !result.pictures.empty()) {
    const SheetWords words{result.title.empty() ? result.name : result.title,
                           result.verdict,
                           {},
                           options.notes,
                           options.warnings};
    const double day = options.sheet_day.value_or(options.day);
    write(
        files, "sheet", [&] { return case_sheet(result, words, day, "sheet"); }, folder);
  }
  return files;
}

FigureFiles write_compare_sheet(const std::vector<Result>& results, const SheetWords& words, double day,
                                const std::string& folder) {
  FigureFiles files;
  write(
      files, "compare", [&] { return compare_sheet(results, words, day, "compare"); }, folder);
  return files;
}

FigureFiles write_blend_figure(const std::vector<BlendChartPoint>& points,
                               const std::optional<BlendChartRange>& range,
                               const std::optional<BlendChartMark>& mark, const std::string& title,
                               const std::string& folder) {
  FigureFiles files;
  write(
      files, "blend", [&] { return blend_chart(points, range, mark, title, "blend"); }, folder);
  return files;
}

}  // namespace updraught
