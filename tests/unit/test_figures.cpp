// Figures as files: the same bytes each time, well formed, all text on the page and clear of other text.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <set>
#include <stdexcept>

#include "drawing_checks.h"
#include "invented_result.h"
#include "post/answer/bin_words.h"
#include "post/answer/cautions.h"
#include "post/sheets/chart_panel.h"
#include "post/sheets/figures.h"
#include "post/sheets/time_strip.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;

/// A folder of its own for a test.
std::string fresh_folder(const std::string& name) {
  const fs::path folder = fs::path(testing::TempDir()) / ("figures-" + name + std::to_string(getpid()));
  fs::remove_all(folder);
  return folder.string();
}

MapScene scene_of(const Result& result, std::size_t picture = 1) {
  const Picture& shown = result.pictures.at(picture);
  return {&result.grid, &result.problem, &shown, row_at(result.run.series, shown.time).openings};
}

std::vector<BlendChartPoint> blend_points() {
  std::vector<BlendChartPoint> out;
  for (int n = 0; n <= 7; ++n) {
    const double share = 0.1 * n;
    const double airless = 1.0 - 0.95 / (1.0 + std::exp(-(share - 0.38) * 14.0));
    const double hottest = 40.0 + 24.0 * std::exp(-std::pow((share - 0.45) / 0.2, 2.0));
    out.push_back({share, airless, hottest, 0.08 + 0.45 * share, 0.9 * (1.0 - airless)});
  }
  return out;
}

Drawing blend_drawing() {
  return blend_chart(blend_points(),
                     BlendChartRange{0.42, 0.58, "the base closes under the load and the middle gets no air.",
                                     "too little food for the warmth to last, and the bin is full of chips."},
                     BlendChartMark{0.4, "The starter's mix, 3 : 2"},
                     "Between 42 and 58 % woodchip the bed gets both air and warmth", "blend");
}

/// Walks the tags of an XML text; the number of elements, or -1 where it is not well formed.
int elements_of(const std::string& xml) {
  std::vector<std::string> open;
  int count = 0;
  for (std::size_t at = xml.find('<'); at != std::string::npos; at = xml.find('<', at + 1)) {
    const std::size_t end = xml.find('>', at);
    if (end == std::string::npos) return -1;
    const std::string tag = xml.substr(at + 1, end - at - 1);
    if (tag.find('<') != std::string::npos) return -1;
    if (tag[0] == '?' || tag[0] == '!') continue;
    if (std::count(tag.begin(), tag.end(), '"') % 2 != 0) return -1;
    const std::string name =
        tag.substr(tag[0] == '/' ? 1 : 0, tag.find_first_of(" /\n", 1) - (tag[0] == '/' ? 1 : 0));
    if (tag[0] == '/') {
      if (open.empty() || open.back() != tag.substr(1)) return -1;
      open.pop_back();
      continue;
    }
    ++count;
    if (tag.back() != '/') open.push_back(name);
  }
  return open.empty() ? count : -1;
}

/// All values of an attribute-like mark, up to the closing character.
std::vector<std::string> marked(const std::string& text, const std::string& mark, char end) {
  std::vector<std::string> out;
  for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at + 1)) {
    const std::size_t from = at + mark.size();
    out.push_back(text.substr(from, text.find(end, from) - from));
  }
  return out;
}

TEST(Palette, EverySequenceFallsInLightness) {
  const auto falls = [](const auto& colours) {
    for (std::size_t n = 1; n < colours.size(); ++n)
      EXPECT_GT(lightness(colours[n - 1]) - lightness(colours[n]), 7.0) << "colour " << n;
  };
  std::array<Colour, 5> oxygen = oxygen_colours;
  std::reverse(oxygen.begin(), oxygen.end());
  falls(oxygen);
  falls(warmth_colours);
  falls(amount_colours);
  EXPECT_NEAR(lightness(paper), 100.0, 1e-6);
  EXPECT_NEAR(lightness(colour(0x777777)), 50.0, 0.5);
}

// A grey copy of a sheet must still tell a wall from the bed beside it.
TEST(Palette, WallsAreDarkerThanAnyBandOfTheBed) {
  const double wall = lightness(wall_fill);
  const auto darker_than = [wall](const auto& colours) {
    for (const Colour& c : colours) EXPECT_GT(lightness(c) - wall, 12.0);
  };
  darker_than(oxygen_colours);
  darker_than(warmth_colours);
  darker_than(amount_colours);
  darker_than(reason_colours);
}

TEST(Figures, ComeOutByteForByteTheSame) {
  const Result result = invented::result(Mode::rings, true);
  const auto all = [&] {
    return std::vector<Drawing>{map_drawing(scene_of(result), MapKind::oxygen, "Air", "map"),
                                time_course(result, "Course", "course"), blend_drawing(),
                                case_sheet(result, {"Why?", {}, {}, {}}, 3.0, "sheet")};
  };
  const std::vector<Drawing> first = all();
  const std::vector<Drawing> second = all();
  for (std::size_t n = 0; n < first.size(); ++n) {
    EXPECT_EQ(as_png(first[n]), as_png(second[n])) << first[n].name;
    EXPECT_EQ(as_svg(first[n]), as_svg(second[n])) << first[n].name;
    EXPECT_EQ(as_pdf(first[n]), as_pdf(second[n])) << first[n].name;
  }
}

TEST(Figures, AreWellFormedWithWordsForThoseWhoCannotSeeThem) {
  Result result = invented::result(Mode::rings, true);
  result.title = "Air < 5 % & no \"smell\"?";
  const std::string svg = as_svg(case_sheet(result, {result.title, result.verdict, {}, {}}, 3.0, "a sheet"));
  EXPECT_GT(elements_of(svg), 100);
  EXPECT_NE(svg.find("<title id=\"u-a-sheet-title\">Air &lt; 5 % &amp; no"), std::string::npos);
  EXPECT_NE(svg.find("Computed, not measured.</desc>"), std::string::npos);
  EXPECT_NE(svg.find("role=\"img\""), std::string::npos);
  const std::vector<std::string> ids = marked(svg, " id=\"", '"');
  const std::set<std::string> unique(ids.begin(), ids.end());
  EXPECT_EQ(ids.size(), unique.size());
  for (const std::string& id : ids) EXPECT_TRUE(id.starts_with("u-a-sheet-")) << id;
  for (const std::string& reference : marked(svg, "xlink:href=\"#", '"'))
    EXPECT_TRUE(unique.contains(reference));
  for (const std::string& reference : marked(svg, "url(#", ')')) EXPECT_TRUE(unique.contains(reference));
}

// Words can be searched and edited: one element holds a whole paragraph, and units stand apart as typed.
TEST(Figures, HoldTheirWordsAsText) {
  Drawing drawing;
  drawing.name = "words";
  drawing.title = "Words";
  drawing.draw = [](Canvas& canvas) {
    canvas.text({8.0, 8.0}, "About 39 L/min of air & 5 % oxygen", {9.0, true, air_line, Align::right, 0.0});
    return 30.0 +
           canvas.text({8.0, 30.0}, "one two three four five six", {9.0, false, ink, Align::left, 60.0})
               .height;
  };
  const std::string svg = as_svg(drawing);
  EXPECT_NE(svg.find(">About 39 L/min of air &amp; 5 % oxygen</text>"), std::string::npos) << svg;
  EXPECT_NE(svg.find("font-family=\"DejaVu Sans, sans-serif\""), std::string::npos);
  EXPECT_NE(svg.find("font-weight=\"bold\" fill=\"#1f5a73\" text-anchor=\"end\" x=\"8\""), std::string::npos);
  EXPECT_EQ(marked(svg, "<text ", '>').size(), 2U);
  EXPECT_GE(marked(svg, "<tspan ", '>').size(), 3U);
  EXPECT_NE(svg.find("two </tspan>"), std::string::npos);
  EXPECT_EQ(svg.find("<use"), std::string::npos);
  EXPECT_EQ(svg.find("<image"), std::string::npos);
}

TEST(Figures, HatchOnlyWithinTheirOutlines) {
  Drawing drawing;
  drawing.name = "hatch";
  drawing.title = "Hatch";
  drawing.draw = [](Canvas& canvas) {
    const Loop outer{{10.0, 10.0}, {50.0, 10.0}, {50.0, 50.0}, {10.0, 50.0}};
    const Loop hole{{20.0, 0.0}, {40.0, 0.0}, {40.0, 60.0}, {20.0, 60.0}};
    canvas.hatch({outer, hole}, {ink, 0.5, {}}, 10.0, 0.0);
    return 60.0;
  };
  // Horizontal lines at whole multiples of ten: broken where the two outlines lie on each other.
  EXPECT_NE(as_svg(drawing).find("d=\"M20 0L40 0M10 10L20 10M40 10L50 10M10 20L20 20M40 20L50 20"),
            std::string::npos)
      << as_svg(drawing);
}

TEST(Figures, TheCheckOfWellFormedTextFindsFaults) {
  EXPECT_EQ(elements_of("<a><b x=\"1\"/></a>"), 2);
  EXPECT_EQ(elements_of("<a><b></a></b>"), -1);
  EXPECT_EQ(elements_of("<a x=\"1></a>"), -1);
  EXPECT_EQ(elements_of("<a>"), -1);
}

TEST(Figures, MapsAreReadableInEveryMode) {
  for (const Mode mode : {Mode::whole, Mode::rings, Mode::slice}) {
    for (const bool from_below : {true, false}) {
      const Result result = invented::result(mode, from_below);
      for (const MapKind kind :
           {MapKind::oxygen, MapKind::temperature, MapKind::airflow, MapKind::air_between,
            MapKind::free_air_space, MapKind::moisture, MapKind::hours_airless, MapKind::holds_back})
        expect_readable(map_drawing(scene_of(result), kind, long_title, map_name(kind)));
    }
  }
}

/// A bed of another shape, without a bin's walls being known.
Result shaped(double width, double depth) {
  Result out = invented::result(Mode::slice, true);
  out.grid = invented::box(Mode::slice, width, depth);
  out.pictures = {invented::picture(out.grid, 3.0 * 86400.0, 1.0, true)};
  out.problem.bin.width = width;
  out.problem.bin.height = 0.0;
  out.problem.sides = {};
  out.problem.lid.kind = Lid::Kind::none;
  out.problem.base = {};
  out.problem.openings.clear();
  return out;
}

TEST(Figures, FlatAndTallBedsWithoutOpeningsAreReadable) {
  for (const auto& [width, depth] : {std::pair{4.0, 0.2}, std::pair{0.2, 2.5}, std::pair{2.4, 1.2}}) {
    const Result result = shaped(width, depth);
    expect_readable(map_drawing(scene_of(result, 0), MapKind::oxygen, "Air", "map"));
    expect_readable(map_drawing(scene_of(result, 0), MapKind::holds_back, "Reasons", "reasons"));
    expect_readable(case_sheet(result, {long_title, {}, {}, {}}, 3.0, "sheet"));
    expect_readable(
        compare_sheet({result, invented::result(Mode::whole, true)}, sheet_words(), 3.0, "compare"));
  }
}

TEST(Figures, EveryKindOfOpeningIsNamedAndReadable) {
  Result result = invented::result(Mode::whole, true);
  result.problem.openings.clear();
  for (const Opening::Kind kind : {Opening::Kind::open, Opening::Kind::mesh, Opening::Kind::slots,
                                   Opening::Kind::hole, Opening::Kind::holes, Opening::Kind::gap}) {
    for (const Opening::Where where :
         {Opening::Where::side, Opening::Where::base, Opening::Where::lid, Opening::Where::top}) {
      Opening o;
      o.name = "one";
      o.kind = kind;
      o.where = where;
      o.diameter = 0.1;
      o.size = 0.01;
      o.length = 3.0;
      o.count = 9;
      o.blocked = 0.3;
      if (where == Opening::Where::side) o.heights = {0.2};
      result.problem.openings = {o};
      result.problem.lid.kind = where == Opening::Where::top ? Lid::Kind::none : Lid::Kind::closed;
      MapScene scene = scene_of(result);
      scene.flows = {{"one", 0.6, 0.2, 0.2}};
      expect_readable(map_drawing(scene, MapKind::oxygen, "Air", "map"));
      EXPECT_NE(opening_words(o).find("30 % clogged"), std::string::npos);
    }
  }
}

TEST(Figures, ChartsAreReadable) {
  expect_readable(time_course(invented::result(Mode::rings, true), long_title, "course"));
  expect_readable(blend_drawing());
  expect_readable(blend_chart(blend_points(), std::nullopt, std::nullopt, "No share works", "blend"));
}

TEST(Figures, ABandGoesStraightFromDayToDay) {
  const Result result = invented::result(Mode::rings, true);
  const std::vector<Between> band = bands_by_day(result, "aired_share", 100.0);
  ASSERT_EQ(band.size(), 14U);
  EXPECT_DOUBLE_EQ(band[4].x, 5.0);
  EXPECT_DOUBLE_EQ(band[4].low, 100.0 * result.bands[4].at("aired_share").low);
  EXPECT_DOUBLE_EQ(band[4].high, 100.0 * result.bands[4].at("aired_share").high);
}

TEST(Figures, AMarkedShareIsToldWithItsNumbers) {
  const Drawing marked = blend_drawing();
  EXPECT_EQ(marked.description.find(
                "The starter's mix, 3 : 2 (40 % chips): 46 % of the bed's hours go without air"),
            0U)
      << marked.description;
  EXPECT_THROW(blend_chart(blend_points(), std::nullopt, BlendChartMark{0.35, "A mix"}, "Title", "blend"),
               std::invalid_argument);
}

TEST(Figures, LongTitlesWrap) {
  const Result result = invented::result(Mode::rings, true);
  const double shorter = lay_out(map_drawing(scene_of(result), MapKind::oxygen, "Air", "map")).height;
  const double longer = lay_out(map_drawing(scene_of(result), MapKind::oxygen, long_title, "map")).height;
  EXPECT_GT(longer, shorter + 25.0);
}

TEST(Figures, NumbersThatAreNoneAreLeftOut) {
  Result result = invented::result(Mode::rings, true);
  const float none = std::numeric_limits<float>::quiet_NaN();
  for (Picture& picture : result.pictures)
    for (PictureField& field : picture.fields)
      for (std::size_t n = 100; n < 140; ++n) field.values[n] = none;
  for (std::size_t n = 20; n < 30; ++n) result.run.series[n].hottest = none;
  result.bands[4]["aired_share"].low = none;
  for (const Drawing& drawing :
       {map_drawing(scene_of(result), MapKind::oxygen, "Air", "map"),
        map_drawing(scene_of(result), MapKind::holds_back, "Reasons", "reasons"),
        time_course(result, "Course", "course"), case_sheet(result, {"Why?", {}, {}, {}}, 3.0, "sheet")}) {
    const std::string svg = as_svg(drawing);
    EXPECT_EQ(svg.find("nan"), std::string::npos) << drawing.name;
    EXPECT_EQ(svg.find("inf"), std::string::npos) << drawing.name;
    EXPECT_GT(elements_of(svg), 50);
  }
}

TEST(Figures, OfACaseAreAllWritten) {
  const Result result = invented::result(Mode::rings, true);
  const std::string folder = fresh_folder("case");
  const FigureFiles files = write_case_figures(result, folder, {3.0, {MapKind::holds_back}, {}, true});
  std::set<std::string> names;
  for (const WrittenFigure& figure : files.figures) {
    names.insert(figure.name);
    EXPECT_NE(figure.description.find("omputed, not measured"), std::string::npos) << figure.name;
  }
  EXPECT_EQ(names,
            (std::set<std::string>{"oxygen-day-3", "temperature-day-3", "holds-back-day-3", "oxygen-day-14",
                                   "temperature-day-14", "holds-back-day-14", "time-course", "sheet"}));
  const auto count = [&](const std::string& end) {
    return std::count_if(files.paths.begin(), files.paths.end(),
                         [&](const std::string& path) { return path.ends_with(end); });
  };
  EXPECT_EQ(count(".png"), count(".svg"));
  EXPECT_GE(count(".png"), static_cast<long>(files.figures.size()));
  EXPECT_EQ(count("sheet.pdf"), 1);
  EXPECT_EQ(count(".pdf"), 1);
  for (const std::string& path : files.paths) EXPECT_GT(fs::file_size(path), 1000U) << path;
  EXPECT_TRUE(std::any_of(files.figures.begin(), files.figures.end(), [](const WrittenFigure& figure) {
    return figure.title.starts_with("On day 3, this holds the microbes back most: ") &&
           figure.title.ends_with(" % of this cut");
  }));
  EXPECT_EQ(files.figures[0].title, "On day 3, 73 % of the bed has enough air (oxygen above 5 %)");
  fs::remove_all(folder);
}

TEST(Figures, SayInPlainWordsWhatCannotBeWrittenOrDrawn) {
  const Result result = invented::result(Mode::rings, true);
  const std::string folder = fresh_folder("blocked");
  fs::create_directories(fs::path(folder).parent_path());
  std::ofstream(folder) << "a file where a folder should be";
  const auto troubles = [&] {
    return write_blend_figure(blend_points(), std::nullopt, std::nullopt, "Title", folder).troubles;
  };
  ASSERT_EQ(troubles().size(), 1U) << "a folder was made in place of a file";
  EXPECT_NE(troubles()[0].find(folder), std::string::npos);
  fs::remove_all(folder);
  fs::create_directories(fs::path(folder) / "blend.svg");
  EXPECT_EQ(troubles().size(), 1U);
  EXPECT_FALSE(fs::exists(fs::path(folder) / "blend.svg.unfinished"));
  fs::remove_all(folder);
  EXPECT_THROW(compare_sheet({result}, sheet_words(), 3.0, "compare"), std::invalid_argument);
  EXPECT_THROW(blend_chart({}, std::nullopt, std::nullopt, "Title", "blend"), std::invalid_argument);
  Result empty = result;
  empty.run.series.clear();
  EXPECT_THROW(write_case_figures(empty, folder), std::runtime_error);
  EXPECT_FALSE(fs::exists(folder));
}

}  // namespace
}  // namespace updraught
