// Tables for spreadsheets, read back by a small reader of RFC 4180.
#include <gtest/gtest.h>

#include <cstdlib>

#include "post/store/store_layout.h"
#include "post/tables/csv_files.h"
#include "tests/unit/made_up_result.h"

namespace updraught {
namespace {

using made_up::Folder;
using Rows = std::vector<std::vector<std::string>>;

Rows parse(const std::string& text) {
  Rows rows(1);
  std::string field;
  bool quoted = false;
  for (std::size_t n = 0; n < text.size(); ++n) {
    const char c = text[n];
    if (quoted && c == '"' && n + 1 < text.size() && text[n + 1] == '"') {
      field += '"';
      ++n;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && (c == ',' || c == '\r')) {
      rows.back().push_back(field);
      field.clear();
    } else if (!quoted && c == '\n') {
      rows.emplace_back();
    } else {
      field += c;
    }
  }
  rows.pop_back();
  return rows;
}

/// The field of a row under a header.
std::string at(const Rows& rows, std::size_t row, const std::string& header) {
  for (std::size_t n = 0; n < rows[0].size(); ++n)
    if (rows[0][n] == header) return rows.at(row).at(n);
  return "no column " + header;
}

double number(const std::string& text) {
  return std::strtod(text.c_str(), nullptr);
}

TEST(CsvFiles, SeriesHasARowPerStepWithTheSameNumbers) {
  const Folder folder;
  const std::vector<SeriesRow> series = made_up::run(4).series;
  write_series_table(folder / "series.csv", series);
  const Rows rows = parse(made_up::bytes_of(folder / "series.csv"));
  ASSERT_EQ(rows.size(), 5U);
  for (const auto& row : rows) EXPECT_EQ(row.size(), rows[0].size());
  EXPECT_EQ(number(at(rows, 2, "time_s")), 1800.0);
  EXPECT_EQ(number(at(rows, 4, "day")), 5400.0 / 86400.0);
  EXPECT_EQ(number(at(rows, 3, "mean_temperature_c")), series[2].mean_temperature);
  EXPECT_EQ(number(at(rows, 3, "air_in_m3_h")), 1.0 / 3.0);
  EXPECT_EQ(number(at(rows, 3, "heat_top_w")), 1e-300);
  EXPECT_EQ(number(at(rows, 3, "side holes: near_wall")), 0.62);
}

TEST(CsvFiles, NamesWithCommasAndQuotesStayOneField) {
  const Folder folder;
  write_series_table(folder / "series.csv", made_up::run(2).series);
  const Rows rows = parse(made_up::bytes_of(folder / "series.csv"));
  EXPECT_EQ(number(at(rows, 1, "meshed base, \"north\": air_in_m3_h")), 0.4);
}

TEST(CsvFiles, NoNameIsAFormula) {
  const Folder folder;
  std::vector<SeriesRow> series = made_up::run(2).series;
  for (SeriesRow& row : series) row.openings[0].name = "=HYPERLINK(\"x\",\"y\")";
  write_series_table(folder / "series.csv", series);
  const Rows rows = parse(made_up::bytes_of(folder / "series.csv"));
  for (const std::string& head : rows[0])
    EXPECT_EQ(std::string("=+-@").find(head[0]), std::string::npos) << head;
  EXPECT_NE(at(rows, 1, "'=HYPERLINK(\"x\",\"y\"): air_in_m3_h"), "no column");
}

TEST(CsvFiles, UnknownIsEmpty) {
  const Folder folder;
  std::vector<SeriesRow> series = made_up::run(2).series;
  series[0].openings.clear();
  series[0].heat_by_path.erase("air");
  write_series_table(folder / "series.csv", series);
  const Rows rows = parse(made_up::bytes_of(folder / "series.csv"));
  EXPECT_EQ(at(rows, 1, "side holes: air_in_m3_h"), "");
  EXPECT_EQ(at(rows, 1, "heat_air_w"), "");
  EXPECT_EQ(at(rows, 2, "meshed base, \"north\": near_wall"), "");
  EXPECT_EQ(number(at(rows, 2, "heat_air_w")), -3.0);
}

TEST(CsvFiles, DaysHaveARowPerWholeDayWithBands) {
  const Folder folder;
  std::vector<SeriesRow> series;
  for (int n = 0; n <= 25; ++n) series.push_back(made_up::row(7000.0 * n));
  write_days_table(folder / "days.csv", series, {{{"hottest_c", {58.0, 66.5}}}});
  const Rows rows = parse(made_up::bytes_of(folder / "days.csv"));
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(at(rows, 2, "day"), "2");
  EXPECT_DOUBLE_EQ(number(at(rows, 2, "mean_temperature_c")), 12.0);
  EXPECT_EQ(number(at(rows, 1, "hottest_c_high")), 66.5);
  EXPECT_EQ(at(rows, 2, "hottest_c_high"), "");
}

TEST(CsvFiles, LastDayCountsWhenTheRunEndsOnIt) {
  const Folder folder;
  write_days_table(folder / "days.csv", {made_up::row(0.0), made_up::row(86400.0)}, {});
  EXPECT_EQ(parse(made_up::bytes_of(folder / "days.csv")).size(), 2U);
}

TEST(CsvFiles, ThermometersReadALinearFieldExactly) {
  const Folder folder;
  const Grid g = made_up::grid(4, 4, 20);
  Picture p = made_up::picture(g, 3600.0);
  p.z = g.z;
  for (int j = 0; j < g.ny; ++j)
    for (int k = 0; k < g.nz; ++k)
      for (int i = 0; i < g.nx; ++i)
        p.fields[1].values[static_cast<std::size_t>(g.cell(i, j, k))] =
            static_cast<float>(10.0 * g.centre_z(k) + (i == 0 && j == 0 ? -5.0 : 0.0));
  write_thermometer_table(folder / "thermometers.csv", g, {p});
  const Rows rows = parse(made_up::bytes_of(folder / "thermometers.csv"));
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_NEAR(number(at(rows, 1, "centre_base_c")), 2.6, 1e-5);
  EXPECT_NEAR(number(at(rows, 1, "centre_middle_c")), 13.0, 1e-5);
  EXPECT_NEAR(number(at(rows, 1, "centre_top_c")), 23.4, 1e-5);
  EXPECT_NEAR(number(at(rows, 1, "corner_middle_c")), 8.0, 1e-5);
}

TEST(CsvFiles, ThermometersPassOverClosedCells) {
  const Folder folder;
  Grid g = made_up::grid(4, 4, 2);
  Picture p = made_up::picture(g, 0.0);
  for (float& value : p.fields[1].values) value = 20.0F;
  for (int k = 0; k < g.nz; ++k) {
    g.fraction[static_cast<std::size_t>(g.cell(0, 0, k))] = 0.0;
    p.fields[1].values[static_cast<std::size_t>(g.cell(0, 0, k))] = -999.0F;
  }
  write_thermometer_table(folder / "thermometers.csv", g, {p});
  EXPECT_EQ(at(parse(made_up::bytes_of(folder / "thermometers.csv")), 1, "corner_middle_c"), "20");
}

TEST(CsvFiles, PictureWithoutTemperatureIsRefused) {
  const Folder folder;
  Picture p = made_up::picture(made_up::grid(), 0.0);
  p.fields.erase(p.fields.begin() + 1);
  EXPECT_THROW(write_thermometer_table(folder / "t.csv", made_up::grid(), {p}), std::invalid_argument);
}

TEST(CsvFiles, MissingFolderIsTold) {
  const Folder folder;
  EXPECT_THROW(write_series_table(folder / "nowhere/series.csv", {}), StoreError);
}

}  // namespace
}  // namespace updraught
