// Figures on the way to the disk: one that fails does not take the others with it, and any words are carried.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "post/sheets/figures.h"
#include "tests/unit/invented_result.h"
#include "tests/unit/made_up_result.h"

namespace updraught {
namespace {

namespace fs = std::filesystem;

TEST(FigureFiles, GoOnWithoutOneThatCannotBeWritten) {
  const Result result = invented::result(Mode::rings, true);
  fs::path place = fs::temp_directory_path() / "updraught_one_blocked_";
  place += std::to_string(getpid());
  const std::string folder = place.string();
  fs::create_directories(fs::path(folder) / "oxygen-day-3.png");
  const FigureFiles files = write_case_figures(result, folder);
  ASSERT_EQ(files.troubles.size(), 1U);
  EXPECT_EQ(files.troubles[0].find("the picture oxygen-day-3 is missing: cannot write"), 0U)
      << files.troubles[0];
  EXPECT_TRUE(fs::exists(fs::path(folder) / "sheet.svg"));
  EXPECT_EQ(files.figures.size(), 5U);
  fs::remove_all(folder);
}

// Day 7 of the table is the end of day 7; the title speaks of another moment and must not take its name.
TEST(FigureFiles, NameTheMomentWhenAirIsShortest) {
  Result result = invented::result(Mode::rings, true);
  result.run.series[58].aired_share = 0.1;  // of steps of three hours
  const made_up::Folder folder;
  write_case_figures(result, folder.path().string());
  EXPECT_NE(made_up::bytes_of(folder / "time-course.svg").find("day 7.3"), std::string::npos);
}

// "Air is shortest on day 0, when 100 % of the bed has enough" helps nobody.
TEST(FigureFiles, SayWhereAirIsShortNowhere) {
  Result result = invented::result(Mode::rings, true);
  for (SeriesRow& row : result.run.series) row.aired_share = 1.0;
  const made_up::Folder folder;
  write_case_figures(result, folder.path().string());
  const std::string svg = made_up::bytes_of(folder / "time-course.svg");
  EXPECT_EQ(svg.find("shortest"), std::string::npos);
  EXPECT_NE(svg.find("all of the bed has enough air throughout"), std::string::npos);
}

TEST(FigureFiles, CarryAnyWords) {
  Result result = invented::result(Mode::rings, true);
  result.title =
      "K\xfc"
      "che <b> & \"x\" \x01\x1b \uFFFF?";
  result.name = std::string(1, char(0xff));
  const std::string svg = as_svg(case_sheet(result, {result.title, {}, {}, {}}, 3.0, "sheet"));
  EXPECT_NE(svg.find("K\uFFFDche &lt;b&gt; &amp; \"x\""), std::string::npos) << svg.substr(0, 500);
  EXPECT_EQ(svg.find_first_of("\x01\x1b\xff"), std::string::npos);
}

}  // namespace
}  // namespace updraught
