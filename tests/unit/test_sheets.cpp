// Sheets: one A4 page that is read from the answer down, whatever there is to say, and the strip over the
// days.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "drawing_checks.h"
#include "invented_result.h"
#include "post/answer/findings.h"
#include "post/draw/palette.h"
#include "post/sheets/time_strip.h"

namespace updraught {
namespace {

constexpr double day = 86400.0;
const std::string fire =
    "It may reach 70 °C: from there on treat it as a fire risk, do not turn or dig; above 80 °C leave it "
    "closed.";

/// The words of a page as they are read from its SVG, in the order in which they are drawn.
std::string words_on(const Drawing& page) {
  const std::string svg = as_svg(page);
  std::string out;
  bool inside = false;
  for (std::size_t at = svg.find("<g "); at < svg.size(); ++at) {
    if (svg[at] == '<') inside = true;
    if (!inside) out += svg[at];
    if (svg[at] == '>') inside = false;
  }
  return out;
}

std::string words_on_all(const Drawing& sheet) {
  std::string out;
  for (const Drawing& page : pages_of(sheet)) out += words_on(page);
  return out;
}

void expect_whole_pages(const Drawing& sheet) {
  EXPECT_DOUBLE_EQ(sheet.width, 595.0);
  EXPECT_DOUBLE_EQ(sheet.page_height, 842.0);
  for (const Drawing& page : pages_of(sheet)) {
    expect_readable(page);
    const Layout layout = lay_out(page);
    EXPECT_LE(layout.height, 842.0) << page.name;
    for (const Box& box : layout.text_boxes) {
      EXPECT_GE(box.left, 56.0) << page.name;
      EXPECT_LE(box.right(), 539.5) << page.name;
    }
  }
}

/// Air that is lost for three days and comes back with a draught.
Result lost_and_regained() {
  Result out = invented::result(Mode::rings, true);
  out.bands.clear();
  for (SeriesRow& row : out.run.series) {
    const double t = row.time / day;
    row.aired_share = t < 5.0 || t > 8.1 ? 0.9 : 0.2;
    row.air_in = t < 8.1 ? 0.2 : 2.0;
  }
  return out;
}

TEST(Sheets, AreReadableAndFitAPage) {
  for (const Mode mode : {Mode::whole, Mode::rings}) {
    const Result base = invented::result(mode, true);
    const Result sides = invented::result(mode, false);
    const Drawing one = case_sheet(base, {base.title, base.verdict, {}, {}}, 3.0, "sheet");
    expect_whole_pages(one);
    EXPECT_TRUE(one.more_pages.empty());
    for (const std::vector<Result>& cases :
         {std::vector{base, sides}, {base, sides, base}, {base, sides, base, sides}})
      expect_whole_pages(compare_sheet(cases, sheet_words(), 3.0, "compare"));
  }
}

TEST(Sheets, ThatSayMuchGoOnOverleafAndLoseNothing) {
  const Result base = invented::result(Mode::rings, true);
  std::vector<std::string> answer;
  for (int n = 1; n <= 9; ++n) answer.push_back("Sentence " + std::to_string(n) + ": " + long_title + ".");
  const SheetWords words{
      long_title, answer, sheet_words().more_rows, {long_title + ".", "The last caution."}};
  SheetWords narrow = words;
  narrow.more_rows.clear();
  const Drawing one = case_sheet(base, narrow, 3.0, "sheet");
  EXPECT_FALSE(one.more_pages.empty());
  const Drawing two = compare_sheet({base, base}, words, 3.0, "compare");
  const Drawing four = compare_sheet({base, base, base, base}, words, 3.0, "compare");
  for (const Drawing& sheet : {one, two, four}) {
    expect_whole_pages(sheet);
    const std::string all = words_on_all(sheet);
    for (int n = 1; n <= 9; ++n)
      EXPECT_NE(all.find("Sentence " + std::to_string(n) + ":"), std::string::npos) << sheet.name << n;
    EXPECT_NE(all.find("The last caution."), std::string::npos);
    const std::string front = words_on(sheet);
    EXPECT_NE(front.find("Sentence 1:"), std::string::npos);
    EXPECT_NE(front.find("Computed, not measured"), std::string::npos);
    EXPECT_NE(front.find("overleaf"), std::string::npos);
  }
  EXPECT_NE(words_on_all(two).find("The same with a gap of 2 mm"), std::string::npos);
}

// Four designs with the sentences that such a comparison has: maps, strips and numbers stay on the front.
TEST(Sheets, OfFourDesignsHoldTheNumbersOnTheFront) {
  const Result base = invented::result(Mode::rings, true);
  const Result sides = invented::result(Mode::rings, false);
  const Drawing sheet = compare_sheet({base, sides, base, sides}, sheet_words(), 3.0, "compare");
  const std::string front = words_on(sheet);
  for (const char* words : {"Height of the bed", "Hottest part, °C", "Temperature, °C", "Oxygen in the air"})
    EXPECT_NE(front.find(words), std::string::npos) << words;
}

TEST(Sheets, PutTheAnswerBeforeAllElseAndFireInAFrameBelowIt) {
  const Result base = invented::result(Mode::rings, true);
  const SheetWords words{"Does it get air?",
                         {"Yes, all of it.", "First.", "Second.", "Third.", "Fourth."},
                         {},
                         {"Gloves."},
                         {"Mind the lid.", fire}};
  for (const Drawing& sheet :
       {case_sheet(base, words, 3.0, "sheet"), compare_sheet({base, base}, words, 3.0, "compare")}) {
    const std::string front = words_on(sheet);
    std::size_t last = 0;
    for (const char* next :
         {"Does it get air?", "Yes, all of it.", "Mind the lid.", "It may reach 70 °C", "First.", "Third.",
          "Oxygen in the air of the bed", "Hottest part, °C", "Height of the bed", "Gloves.", "Fourth."}) {
      const std::size_t at = front.find(next);
      ASSERT_NE(at, std::string::npos) << next;
      EXPECT_GT(at, last) << next;
      last = at;
    }
    EXPECT_EQ(front.find("It may reach 70", front.find("It may reach 70") + 1), std::string::npos);
    EXPECT_NE(sheet.description.find("fire risk"), std::string::npos);
  }
}

TEST(Sheets, AskEachDesignsOwnQuestionAtItsHeading) {
  Result base = invented::result(Mode::rings, true);
  Result sides = invented::result(Mode::rings, false);
  sides.title = "Do holes in the sides do as well?";
  SheetWords words = sheet_words();
  words.question = base.title + " " + sides.title;
  const Drawing sheet = compare_sheet({base, sides}, words, 3.0, "compare");
  EXPECT_EQ(sheet.title, "What differs between shed-box and shed-box-side-holes?");
  const std::string front = words_on(sheet);
  EXPECT_EQ(front.find(words.question), std::string::npos);
  EXPECT_LT(front.find(base.title), front.find(sides.title));
  words.question = "Which is better?";
  EXPECT_EQ(compare_sheet({base, sides}, words, 3.0, "compare").title, words.question);
}

TEST(Sheets, SayOnceThatNothingIsMeasured) {
  const Result base = invented::result(Mode::rings, true);
  const std::string words = words_on_all(case_sheet(base, {"Why?", {}, {}, {"Wear gloves."}}, 3.0, "sheet"));
  const std::size_t first = words.find("Computed, not measured");
  ASSERT_NE(first, std::string::npos);
  EXPECT_EQ(words.find("Computed, not measured", first + 1), std::string::npos);
}

TEST(Sheets, LeaveOutARangeThatIsNone) {
  Result base = invented::result(Mode::rings, true);
  const double hottest = row_at(base.run.series, 3.0 * day).hottest;
  base.bands.at(2)["hottest_c"] = {hottest, hottest};
  EXPECT_EQ(numbers_of_cases({base}, 3.0).at(3).at(1).find('('), std::string::npos);
  base.bands.at(2)["hottest_c"] = {hottest - 10.0, hottest};
  EXPECT_NE(numbers_of_cases({base}, 3.0).at(3).at(1).find('('), std::string::npos);
}

TEST(Sheets, HoldTheDayOfTheirMapsInTheirNumbers) {
  const Result base = invented::result(Mode::rings, true);
  EXPECT_EQ(numbers_of_days(base, 5.0).front(),
            (std::vector<std::string>{"", "Day 1", "Day 3", "Day 5", "Day 7", "Day 14"}));
  EXPECT_EQ(numbers_of_days(base, 3.0000001).front().size(), 5U);
}

TEST(Sheets, ArePdfOfWholePagesWithTheirFonts) {
  const Result base = invented::result(Mode::rings, true);
  const std::vector<std::string> answer(12, long_title + ".");
  const Drawing sheet = case_sheet(base, {"Why?", answer, {}, {}}, 3.0, "sheet");
  const std::string pdf = as_pdf(sheet);
  EXPECT_TRUE(pdf.starts_with("%PDF-"));
  EXPECT_EQ(pdf, as_pdf(sheet));
  EXPECT_NE(pdf.find("/Count " + std::to_string(pages_of(sheet).size())), std::string::npos);
  EXPECT_NE(pdf.find("+DejaVuSans"), std::string::npos);
  EXPECT_NE(pdf.find("FontFile2"), std::string::npos);
  EXPECT_NE(pdf.find("20000101000000"), std::string::npos) << "another date makes another file each time";
}

TEST(TellingDay, OfOneBedIsThatOfLeastAirOrElseOfMostWarmth) {
  Result bed = invented::result(Mode::rings, true);
  EXPECT_DOUBLE_EQ(day_to_draw(std::vector{bed}), 3.0);
  EXPECT_EQ(why_drawn(std::vector{bed}, 3.0), "when it has least air");
  EXPECT_EQ(why_drawn(std::vector{bed}, 5.0), "");
  for (SeriesRow& row : bed.run.series) row.aired_share = row.time > 13.5 * day ? 0.98 : 0.99;
  EXPECT_DOUBLE_EQ(day_to_draw(std::vector{bed}), 14.0);
  for (SeriesRow& row : bed.run.series) {
    row.aired_share = 0.99;
    row.hottest = 60.0 - std::abs(row.time / day - 1.2);
  }
  EXPECT_DOUBLE_EQ(day_to_draw(std::vector{bed}), 1.0);
  bed.pictures.clear();
  EXPECT_THROW(day_to_draw(std::vector{bed}), std::invalid_argument);
  EXPECT_THROW(day_to_draw({}), std::invalid_argument);
}

TEST(TellingDay, OfSeveralIsThatOfTheLargestDifference) {
  Result one = invented::result(Mode::rings, true);
  Result other = one;
  for (SeriesRow& row : other.run.series) {
    row.aired_share = one.run.series.front().aired_share;
    row.hottest += row.time < 2.0 * day ? 9.0 : 1.0;
  }
  for (SeriesRow& row : one.run.series) row.aired_share = row.time > 10.0 * day ? 0.1 : 0.9;
  EXPECT_DOUBLE_EQ(day_to_draw(std::vector{one, other}), 14.0);
  EXPECT_EQ(why_drawn(std::vector{one, other}, 14.0), "when they differ most in air");
  // A day of which one of them has no picture cannot be shown side by side.
  other.pictures.pop_back();
  for (SeriesRow& row : one.run.series) row.aired_share = other.run.series.front().aired_share;
  EXPECT_DOUBLE_EQ(day_to_draw(std::vector{one, other}), 1.0);
}

TEST(TimeStrip, NamesTheMomentsOfTheAir) {
  const Result bed = lost_and_regained();
  const std::vector<Moment> moments = air_moments(bed.run.series);
  ASSERT_EQ(moments.size(), 2U);
  EXPECT_EQ(moments[0].words, "air lost, day 4.9");
  EXPECT_NEAR(moments[0].x, 5.0, 0.13);
  EXPECT_TRUE(moments[1].words.starts_with("draught brings air, day 8")) << moments[1].words;
  EXPECT_NEAR(moments[1].x, 8.1, 0.13);
  EXPECT_NE(strip_words(bed).find("air lost, day 4.9; draught brings air"), std::string::npos);
  Result still = bed;
  for (SeriesRow& row : still.run.series) row.air_in = 0.2;
  EXPECT_TRUE(air_moments(still.run.series)[1].words.starts_with("air back, day 8"));
  for (SeriesRow& row : still.run.series) row.aired_share = row.time < 5.0 * day ? 0.9 : 0.2;
  EXPECT_EQ(air_moments(still.run.series).at(0).words, "air lost from day 4.9 on");
  for (SeriesRow& row : still.run.series) row.aired_share = 0.9;
  EXPECT_TRUE(air_moments(still.run.series).empty());
}

TEST(TimeStrip, OfSeveralCasesHasOneScale) {
  Result warm = invented::result(Mode::rings, true);
  Result cold = warm;
  for (SeriesRow& row : cold.run.series) row.hottest = -12.0;
  warm.bands[3]["hottest_c"].high = 84.0;
  cold.run.series.resize(40);
  const std::vector<Result> both{warm, cold};
  const StripScale scale = strip_scale(both);
  EXPECT_DOUBLE_EQ(scale.days.high, 14.0);
  EXPECT_LE(scale.warmth.low, -12.0);
  EXPECT_GE(scale.warmth.high, 84.0);
  for (const Result& result : both) {
    const TimeStrip strip = time_strip(result, scale, 3.0);
    EXPECT_EQ(strip.days.marks, scale.days.marks);
    EXPECT_EQ(strip.panels[0].upright->high, 100.0);
    EXPECT_EQ(strip.panels[1].upright->marks, scale.warmth.marks);
    EXPECT_EQ(strip.panels[1].shown, 3.0);
  }
}

TEST(TimeStrip, StandsOnEverySheetWithItsWords) {
  const Result bed = lost_and_regained();
  for (const Drawing& sheet : {case_sheet(bed, {"Why?", {"So."}, {}, {}}, 3.0, "sheet"),
                               compare_sheet({bed, bed, bed}, {"Why?", {"So."}, {}, {}}, 3.0, "compare")}) {
    expect_whole_pages(sheet);
    EXPECT_NE(words_on(sheet).find("air lost, day 4.9"), std::string::npos);
    EXPECT_NE(words_on(sheet).find("draught brings air, day 8"), std::string::npos);
  }
}

TEST(Maps, SayWhyTheAirGoesDown) {
  Result bed = invented::result(Mode::rings, true);
  for (SeriesRow& row : bed.run.series)
    for (OpeningFlow& flow : row.openings) std::swap(flow.air_in, flow.air_out);
  const std::string why = "Cold or heavy air sinks";
  const Drawing sheet = case_sheet(bed, {"Why?", {}, {}, {}}, 3.0, "sheet");
  EXPECT_NE(words_on(sheet).find(why), std::string::npos);
  EXPECT_NE(sheet.description.find(why), std::string::npos);
  const Result up = invented::result(Mode::rings, true);
  EXPECT_EQ(words_on(compare_sheet({up, up}, sheet_words(), 3.0, "compare")).find(why), std::string::npos);
  bed.problem.openings[0].pressure = -20.0;
  EXPECT_EQ(words_on(case_sheet(bed, {"Why?", {}, {}, {}}, 3.0, "sheet")).find(why), std::string::npos);
}

TEST(Findings, SpeakOfTheDayThatACaseNames) {
  Result bed = invented::result(Mode::rings, true);
  const double chosen = find(bed).day;
  bed.problem.told_day = chosen > 1.5 ? 1.0 : 2.0;
  EXPECT_NEAR(find(bed).day, bed.problem.told_day, 0.51);
  EXPECT_NE(find(bed).day, chosen);
  EXPECT_EQ(day_to_draw({&bed, 1}), bed.problem.told_day);
}

}  // namespace
}  // namespace updraught
