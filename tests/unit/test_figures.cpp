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

#include "invented_result.h"
#include "post/answer/bin_words.h"
#include "post/answer/cautions.h"
#include "post/draw/chart_panel.h"
#include "post/draw/figures.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;

const std::string long_title =
    "On day 3, 62 % of the bed has enough air and the part without is the upper middle, where the waste has "
    "used it up "
    "before it comes so far, so that three more buckets of chips would be worth their while";

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

SheetWords sheet_words() {
  return {"Where should the air come in: through a vented base, or through holes in the sides?",
          {"On day 3 the vented base airs 73 %, the side holes 53 %; the difference is larger than the "
           "uncertainty.",
           "I am least sure how tightly the waste packs; a bucket test (5 minutes) should shrink the range."},
          {{"The same with a gap of 2 mm at the wall", "60 % (47–69)", "33 % (20–41)"}},
          {"Openings above about 6 mm let mice in: steel mesh (its resistance counts in the computation)."}};
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

/// Every text lies on the page, is at least 7 pt high and clear of every other text.
void expect_readable(const Drawing& drawing) {
  SCOPED_TRACE(drawing.name);
  const Layout layout = lay_out(drawing);
  ASSERT_FALSE(layout.text_boxes.empty());
  for (std::size_t n = 0; n < layout.text_boxes.size(); ++n) {
    const Box& a = layout.text_boxes[n];
    EXPECT_GE(a.left, 0.0);
    EXPECT_GE(a.top, 0.0);
    EXPECT_LE(a.right(), drawing.width);
    EXPECT_LE(a.bottom(), layout.height);
    EXPECT_GE(a.height, 7.0 * 1.16);  // a line of DejaVu Sans is 1.164 times its size high
    for (std::size_t m = 0; m < n; ++m) {
      const Box& b = layout.text_boxes[m];
      const double wide = std::min(a.right(), b.right()) - std::max(a.left, b.left);
      const double high = std::min(a.bottom(), b.bottom()) - std::max(a.top, b.top);
      EXPECT_FALSE(wide > 0.5 && high > 0.5)
          << "text " << n << " lies on text " << m << " at " << a.left << ", " << a.top;
    }
  }
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

TEST(Figures, SheetsAndChartsAreReadableAndFitAPage) {
  for (const Mode mode : {Mode::whole, Mode::rings}) {
    const Result base = invented::result(mode, true);
    const Result sides = invented::result(mode, false);
    const Drawing one = case_sheet(base, {base.title, base.verdict, {}, {}}, 3.0, "sheet");
    expect_readable(one);
    EXPECT_LE(lay_out(one).height, 842.0);
    for (const std::vector<Result>& cases :
         {std::vector{base, sides}, {base, sides, base}, {base, sides, base, sides}}) {
      const Drawing sheet = compare_sheet(cases, sheet_words(), 3.0, "compare");
      EXPECT_DOUBLE_EQ(sheet.width, 595.0);
      expect_readable(sheet);
      EXPECT_LE(lay_out(sheet).height, 842.0);
    }
    expect_readable(time_course(base, long_title, "course"));
  }
  expect_readable(blend_drawing());
  expect_readable(blend_chart(blend_points(), std::nullopt, std::nullopt, "No share works", "blend"));
}

TEST(Figures, SheetsThatSayMuchStillFitAPage) {
  const Result base = invented::result(Mode::rings, true);
  const std::vector<std::string> answer(6, long_title + ".");
  const std::vector<std::string> notes(4, long_title + ".");
  const Drawing one = case_sheet(base, {long_title, answer, {}, notes}, 3.0, "sheet");
  expect_readable(one);
  EXPECT_LE(lay_out(one).height, 842.0);
  const Drawing two = compare_sheet(
      {base, base}, {long_title, {answer.begin(), answer.begin() + 4}, {}, notes}, 3.0, "compare");
  expect_readable(two);
  EXPECT_LE(lay_out(two).height, 842.0);
}

TEST(Figures, SheetsSayOnceThatNothingIsMeasured) {
  const Result base = invented::result(Mode::rings, true);
  const auto texts = [&](const std::vector<std::string>& notes) {
    return lay_out(case_sheet(base, {"Why?", {}, {}, notes}, 3.0, "sheet")).text_boxes.size();
  };
  EXPECT_EQ(texts({computed_not_measured()}), texts({}));
  EXPECT_EQ(texts({computed_not_measured(), "Gloves."}), texts({}) + 1);
}

TEST(Figures, LeaveOutARangeThatIsNone) {
  Result base = invented::result(Mode::rings, true);
  const double hottest = row_at(base.run.series, 3.0 * 86400.0).hottest;
  base.bands.at(2)["hottest_c"] = {hottest, hottest};
  EXPECT_EQ(numbers_of_cases({base}, 3.0).at(3).at(1).find('('), std::string::npos);
  base.bands.at(2)["hottest_c"] = {hottest - 10.0, hottest};
  EXPECT_NE(numbers_of_cases({base}, 3.0).at(3).at(1).find('('), std::string::npos);
}

TEST(Figures, ABandFollowsItsLineBetweenTheDays) {
  std::vector<Point> line;
  for (int n = 0; n <= 60; ++n) line.push_back({0.05 * n, 30.0 + 5.0 * std::sin(6.3 * 0.05 * n)});
  const double at_1 = line[20].y;
  const double at_2 = line[40].y;
  const std::vector<Between> band =
      band_along(line, {{1.0, at_1 - 2.0, at_1 + 4.0}, {2.0, at_2 - 6.0, at_2 + 4.0}}, 24.0, 36.0);
  ASSERT_EQ(band.size(), 21U);
  EXPECT_DOUBLE_EQ(band.front().x, 1.0);
  EXPECT_DOUBLE_EQ(band.back().x, 2.0);
  for (std::size_t n = 0; n < band.size(); ++n) {
    const double y = line[20 + n].y;
    const double part = static_cast<double>(n) / 20.0;
    EXPECT_NEAR(band[n].low, std::max(24.0, y - 2.0 - 4.0 * part), 1e-9) << n;
    EXPECT_NEAR(band[n].high, std::min(36.0, y + 4.0), 1e-9) << n;
  }
  EXPECT_TRUE(band_along(line, {}, 0.0, 100.0).empty());
  EXPECT_TRUE(band_along({}, {{1.0, 2.0, 3.0}}, 0.0, 100.0).empty());
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
  EXPECT_EQ(files.paths.size(), 2 * files.figures.size());
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
