// Tables for spreadsheets: comma separated, as RFC 4180 says, with a decimal point. A field that is unknown
// is empty. A name that a spreadsheet would take for a formula begins with an apostrophe.
#pragma once

#include <filesystem>
#include <vector>

#include "post/result/result.h"

namespace updraught {

/// One row per accepted step: day, time_s, then the series with its units in the header, the paths of heat,
/// and for each opening its air in and out. Throws StoreError when the file cannot be written.
void write_series_table(const std::filesystem::path& path, const std::vector<SeriesRow>& series);

/// One row per whole day 1, 2, ..., interpolated between the two steps around it, with low and high where
/// there are bands. Throws StoreError when the file cannot be written.
void write_days_table(const std::filesystem::path& path, const std::vector<SeriesRow>& series,
                      const std::vector<DayBands>& bands);

/// What thermometers would show at each picture: on the centre line at a tenth, a half and nine tenths of the
/// height, and half way up in the corner (rings: at the wall; slice: at its left end), in the outermost
/// cells. Throws StoreError when the file cannot be written, std::invalid_argument when a picture has no
/// temperature or does not fit the grid.
void write_thermometer_table(const std::filesystem::path& path, const Grid& grid,
                             const std::vector<Picture>& pictures);

/// series.csv, days.csv and thermometers.csv in a folder that exists.
void write_tables(const std::filesystem::path& folder, const Result& result);

}  // namespace updraught
