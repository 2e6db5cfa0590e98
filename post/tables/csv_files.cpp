#include "post/tables/csv_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <stdexcept>

#include "mesh/parallel/index.h"
#include "post/files/whole_files.h"
#include "post/result/members.h"
#include "post/store/store_layout.h"
#include "post/words/names.h"

namespace updraught {

namespace {

constexpr double day_length = 86400.0;  // s
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// A table that is built row by row as text.
class Table {
 public:
  void add(const std::string& words) {
    // A spreadsheet would take a field that begins so for a formula.
    const bool formula = words.find_first_of("=+-@\t") == 0;
    const std::string text = (formula ? "'" : "") + words;
    const bool quote = text.find_first_of(",\"\r\n") != std::string::npos;
    separate();
    if (!quote) {
      text_ += text;
      return;
    }
    text_ += '"';
    for (const char c : text) {
      if (c == '"') text_ += '"';
      text_ += c;
    }
    text_ += '"';
  }
  /// The shortest digits that give the same number back.
  void add(double value) {
    separate();
    if (std::isfinite(value)) text_ += fmt::format("{}", value);
  }
  void end_row() {
    text_ += "\r\n";
    first_ = true;
  }
  const std::string& text() const { return text_; }

 private:
  void separate() {
    if (!first_) text_ += ',';
    first_ = false;
  }
  std::string text_;
  bool first_ = true;
};

/// Name of a column as in the printed summary: mean_temperature_c, air_in_m3_h.
std::string column_name(const std::string& name, const std::string& unit) {
  std::string column = with_unit(name, unit == "degC" ? "c" : unit);
  std::transform(column.begin(), column.end(), column.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return column;
}

/// Openings and paths of heat that any row has: the columns beside the fixed ones.
struct Columns {
  std::vector<std::string> openings;
  std::set<std::string> paths;
};

Columns columns_of(const std::vector<SeriesRow>& series) {
  Columns columns;
  for (const SeriesRow& row : series) {
    for (const auto& [path, watts] : row.heat_by_path) columns.paths.insert(path);
    for (const OpeningFlow& flow : row.openings)
      if (std::find(columns.openings.begin(), columns.openings.end(), flow.name) == columns.openings.end())
        columns.openings.push_back(flow.name);
  }
  return columns;
}

void add_header(Table& table, const Columns& columns) {
  table.add(std::string("day"));
  const SeriesRow any_row;
  layout::members(any_row,
                  [&](const char* name, const char* unit, double) { table.add(column_name(name, unit)); });
  for (const std::string& path : columns.paths) table.add(fmt::format("heat_{}_w", path));
  const OpeningFlow any_flow;
  for (const std::string& name : columns.openings)
    layout::members(any_flow, [&](const char* member, const char* unit, double) {
      table.add(fmt::format("{}: {}", name, column_name(member, unit)));
    });
}

void add_row(Table& table, const SeriesRow& row, const Columns& columns) {
  table.add(row.time / day_length);
  layout::members(row, [&](const char*, const char*, double value) { table.add(value); });
  for (const std::string& path : columns.paths) {
    const auto found = row.heat_by_path.find(path);
    table.add(found == row.heat_by_path.end() ? unknown : found->second);
  }
  const OpeningFlow absent;
  for (const std::string& name : columns.openings) {
    const auto found = std::find_if(row.openings.begin(), row.openings.end(),
                                    [&](const OpeningFlow& flow) { return flow.name == name; });
    const bool there = found != row.openings.end();
    layout::members(there ? *found : absent,
                    [&](const char*, const char*, double value) { table.add(there ? value : unknown); });
  }
}

/// The open column nearest to a place in plan at the layer, or -1.
int nearest_column(const Grid& grid, double x, double y, int layer) {
  int best = -1;
  double least = std::numeric_limits<double>::infinity();
  for (int j = 0; j < grid.ny; ++j) {
    for (int i = 0; i < grid.nx; ++i) {
      if (grid.fraction[at(grid.cell(i, j, layer))] <= 0.0F) continue;
      const double along_y = counts_length(grid.mode) ? grid.centre_y(j) - y : 0.0;
      const double distance = std::hypot(grid.centre_x(i) - x, along_y);
      if (distance < least) {
        least = distance;
        best = grid.column(i, j);
      }
    }
  }
  return best;
}

/// Value at a place, linear in height between the middles of the layers.
double reading(const Grid& grid, const Picture& picture, const PictureField& field, double x, double y,
               double height) {
  const auto middle = [&](int k) { return 0.5 * (picture.z[at(k)] + picture.z[at(k) + 1]); };
  int upper = 0;
  while (upper < grid.nz - 1 && middle(upper) < height) ++upper;
  const int lower = std::max(upper - 1, 0);
  const auto value = [&](int k) {
    const int column = nearest_column(grid, x, y, k);
    if (column < 0) return unknown;
    return static_cast<double>(field.values[at(grid.cell(column % grid.nx, column / grid.nx, k))]);
  };
  if (upper == lower) return value(upper);
  const double share = std::clamp((height - middle(lower)) / (middle(upper) - middle(lower)), 0.0, 1.0);
  return value(lower) + share * (value(upper) - value(lower));
}

const PictureField& temperature_of(const Grid& grid, const Picture& picture) {
  for (const PictureField& field : picture.fields) {
    if (field.name != "temperature") continue;
    if (picture.z.size() != at(grid.nz) + 1 || field.values.size() != at(grid.cells()))
      throw std::invalid_argument("a picture does not fit the grid");
    return field;
  }
  throw std::invalid_argument("a picture has no temperature");
}

}  // namespace

void write_series_table(const std::filesystem::path& path, const std::vector<SeriesRow>& series) {
  const Columns columns = columns_of(series);
  Table table;
  add_header(table, columns);
  table.end_row();
  for (const SeriesRow& row : series) {
    add_row(table, row, columns);
    table.end_row();
  }
  write_text_file(path, table.text());
}

void write_days_table(const std::filesystem::path& path, const std::vector<SeriesRow>& series,
                      const std::vector<DayBands>& bands) {
  const Columns columns = columns_of(series);
  std::set<std::string> banded;
  for (const DayBands& day : bands)
    for (const auto& [name, band] : day) banded.insert(name);
  Table table;
  add_header(table, columns);
  for (const std::string& name : banded) {
    table.add(name + "_low");
    table.add(name + "_high");
  }
  table.end_row();
  const std::size_t days =
      series.empty() ? 0
                     : static_cast<std::size_t>(std::floor(series.back().time / day_length * (1.0 + 1e-12)));
  for (std::size_t day = 1; day <= days; ++day) {
    SeriesRow row = row_at(series, static_cast<double>(day) * day_length);
    row.time = static_cast<double>(day) * day_length;
    add_row(table, row, columns);
    for (const std::string& name : banded) {
      const bool there = day <= bands.size() && bands[day - 1].contains(name);
      table.add(there ? bands[day - 1].at(name).low : unknown);
      table.add(there ? bands[day - 1].at(name).high : unknown);
    }
    table.end_row();
  }
  write_text_file(path, table.text());
}

void write_thermometer_table(const std::filesystem::path& path, const Grid& grid,
                             const std::vector<Picture>& pictures) {
  const bool rings = around_axis(grid.mode);
  const double centre_x = rings ? 0.0 : 0.5 * (grid.x.front() + grid.x.back());
  const double centre_y = 0.5 * (grid.y.front() + grid.y.back());
  const double corner_x = rings ? grid.x.back() : grid.x.front();
  const char* corner = rings ? "wall" : piece_of_longer(grid.mode) ? "left_end" : "corner";
  Table table;
  for (const std::string& name :
       {std::string("day"), std::string("time_s"), std::string("height_m"), std::string("centre_base_c"),
        std::string("centre_middle_c"), std::string("centre_top_c"), fmt::format("{}_middle_c", corner)})
    table.add(name);
  table.end_row();
  for (const Picture& picture : pictures) {
    const PictureField& field = temperature_of(grid, picture);
    const double height = picture.z.back();
    table.add(picture.time / day_length);
    table.add(picture.time);
    table.add(height);
    for (const double share : {0.1, 0.5, 0.9})
      table.add(reading(grid, picture, field, centre_x, centre_y, share * height));
    table.add(reading(grid, picture, field, corner_x, grid.y.front(), 0.5 * height));
    table.end_row();
  }
  write_text_file(path, table.text());
}

void write_tables(const std::filesystem::path& folder, const Result& result) {
  write_series_table(folder / "series.csv", result.run.series);
  write_days_table(folder / "days.csv", result.run.series, result.bands);
  write_thermometer_table(folder / "thermometers.csv", result.grid, result.pictures);
}

}  // namespace updraught
