#include "post/store/store_read.h"

#include <fmt/format.h>

#include <cerrno>
#include <fstream>
#include <functional>
#include <limits>
#include <system_error>
#include <utility>

#include "mesh/parallel/index.h"
#include "post/files/whole_files.h"
#include "post/store/store_check.h"
#include "post/store/store_driver.h"
#include "post/store/store_guard.h"
#include "post/store/store_series.h"
#include "post/store/store_tried.h"
#include "post/store/store_values.h"

namespace updraught {

namespace fs = std::filesystem;
using layout::get;
using layout::get_members;
using layout::names_in;

namespace {

[[noreturn]] void refuse(const fs::path& path, const std::string& why) {
  throw StoreError(fmt::format("{} {}", path.string(), why));
}

void require_file(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) refuse(path, "is not there");
  if (error) refuse(path, fmt::format("cannot be opened: {}", plain_reason(error.value())));
  if (status.type() == fs::file_type::directory)
    refuse(path, fmt::format("is a folder; name the file {} in it", store_file_name));
  if (status.type() != fs::file_type::regular) refuse(path, "is not a file");
  if (!std::ifstream(path, std::ios::binary)) refuse(path, "cannot be read (no permission)");
  if (fs::file_size(path, error) == 0) refuse(path, "is empty");
}

/// Opens a store after looking at what it is.
H5::H5File open_store(const fs::path& path) {
  require_file(path);
  if (H5Fis_hdf5(path.c_str()) <= 0) refuse(path, "is not a result (not an HDF5 file)");
  if (soundness_of(path) == Soundness::damaged)
    refuse(path, "is damaged: its check sum does not fit its content");
  H5::H5File file;
  try {
    file.openFile(path.string(), H5F_ACC_RDONLY);
  } catch (const H5::Exception&) {
    refuse(path, "is damaged or cut short");
  }
  const H5::Group root = file.openGroup("/");
  if (!root.attrExists("made_by") || layout::text_attribute(root, "made_by") != store_maker)
    refuse(path, "is an HDF5 file of another program, not a result");
  const int version = layout::number_attribute(root, "layout");
  if (version != store_layout_version)
    refuse(path, fmt::format("was written by {} version of the program (store layout {}, this one reads {}): "
                             "run the case again",
                             version < store_layout_version ? "an earlier" : "a later", version,
                             store_layout_version));
  return file;
}

/// Parts that are not there any more are none: a run that goes on replaces them.
void require_sound_parts(const fs::path& folder) {
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error))
    if (entry.path().extension() == ".h5" && soundness_of(entry.path()) == Soundness::damaged &&
        fs::exists(entry.path()))
      refuse(entry.path(), "is damaged: its check sum does not fit its content");
}

std::string beside(const std::string& parts) {
  return parts.empty() ? "" : fmt::format("(or one of its parts in {}) ", parts);
}

/// Runs `read` on the opened store and turns whatever goes wrong into a plain message.
void with_store(const fs::path& path, const std::function<void(const H5::Group&)>& read) {
  H5::Exception::dontPrint();
  std::string parts;
  try {
    const H5::H5File file = open_store(path);
    const H5::Group root = file.openGroup("/");
    parts = layout::text_attribute(root, "parts");
    if (!parts.empty() && !layout::is_parts_name(parts))
      refuse(path, fmt::format("names a folder of parts that is none: {}", parts));
    if (!parts.empty() && !fs::is_directory(path.parent_path() / parts))
      refuse(path,
             fmt::format(
                 "is the index of an unfinished run, and the folder {} that belongs beside it is missing",
                 parts));
    if (!parts.empty()) require_sound_parts(path.parent_path() / parts);
    try {
      layout::require_own_links(root, path, parts);
      read(root);
    } catch (const StoreError& error) {
      refuse(path, fmt::format("{}is damaged: {}", beside(parts), error.what()));
    }
  } catch (const H5::Exception& error) {
    refuse(path, fmt::format("{}is damaged: {}", beside(parts), error.getDetailMsg()));
  }
}

void require(bool fits, const char* what) {
  if (!fits) throw StoreError(fmt::format("the stored {} do not fit each other", what));
}

/// Whether numbers begin at 0 or later, never fall, and end by `most`; what is no number does not.
bool rise(const std::vector<double>& numbers, double most) {
  double last = 0.0;
  for (const double number : numbers) {
    if (!(number >= last && number <= most)) return false;
    last = number;
  }
  return true;
}

/// No run is longer (s: some thirty years) and no bed is larger (m), so that whoever draws need not ask.
constexpr double longest_run = 1e9;
constexpr double largest_bed = 1e4;

void require_times(const std::vector<SeriesRow>& series) {
  std::vector<double> times;
  times.reserve(series.size());
  for (const SeriesRow& row : series) times.push_back(row.time);
  require(rise(times, longest_run), "times of the series");
}

void get_plan(const H5::Group& plan, Grid& grid) {
  get_members(plan, grid);
  require(grid.nx > 0 && grid.ny > 0 && grid.nz > 0, "cells");
  require(grid.x.size() == at(grid.nx) + 1 && grid.y.size() == at(grid.ny) + 1 &&
              grid.dz.size() == at(grid.nz) && grid.z.size() == at(grid.nz) + 1,
          "edges");
  // As a floating number first: a product of whole numbers could wrap round to a small one.
  require(1.0 * grid.nx * grid.ny * grid.nz <= std::numeric_limits<int>::max(), "cells");
  const std::size_t columns = at(grid.nx) * at(grid.ny), cells = columns * at(grid.nz);
  for (const auto* list : {&grid.fraction, &grid.aperture_x, &grid.aperture_y, &grid.aperture_z})
    require(list->size() == cells, "apertures");
  require(grid.aperture_top.size() == columns && grid.plan_area.size() == columns, "columns");
  require(rise(grid.x, largest_bed) && rise(grid.y, largest_bed) && rise(grid.z, largest_bed), "edges");
  for (const double thick : grid.dz) require(thick > 0.0 && thick <= largest_bed, "layers");
  grid = with_patches(std::move(grid));
}

Picture get_picture(const H5::Group& group, const Grid& grid) {
  Picture picture;
  get(group, "time", picture.time);
  get(group, "z", picture.z);
  require(picture.z.size() >= 2 && rise(picture.z, largest_bed), "layers of a picture");
  require(rise({picture.time}, longest_run), "times of the pictures");
  const double cells = 1.0 * grid.nx * grid.ny * static_cast<double>(picture.z.size() - 1);
  std::vector<std::string> order;
  get(group, "order", order);
  const H5::Group fields = group.openGroup("fields");
  for (const std::string& name : order) {
    PictureField field;
    field.name = name;
    get(fields, name, field.values);
    const H5::DataSet set = fields.openDataSet(name);
    field.unit = layout::text_attribute(set, "unit");
    field.label = layout::text_attribute(set, "label");
    field.components = layout::number_attribute(set, "components");
    require(field.components > 0 && static_cast<double>(field.values.size()) == cells * field.components,
            "fields of a picture");
    picture.fields.push_back(std::move(field));
  }
  return picture;
}

void get_numbers_by_name(const H5::Group& group, std::map<std::string, double>& numbers) {
  for (const std::string& name : names_in(group)) get(group, name, numbers[name]);
}

std::vector<DayBands> get_bands(const H5::Group& group) {
  std::vector<DayBands> days;
  for (const std::string& number : names_in(group)) {
    const H5::Group one = group.openGroup(number);
    DayBands& day = days.emplace_back();
    for (const std::string& name : names_in(one)) {
      std::vector<double> ends;
      get(one, name, ends);
      require(ends.size() == 2, "bands");
      day[name] = {ends[0], ends[1]};
    }
  }
  return days;
}

void get_ending(const H5::Group& root, Result& result) {
  const H5::Group run = root.openGroup("run");
  get_members(run, result.run);
  get(run, "fill", result.run.loose);
  get_numbers_by_name(run.openGroup("seconds"), result.run.seconds);
  get(root, "balances", result.run.balances);
  result.bands = get_bands(root.openGroup("bands"));
  get(root, "quick", result.quick);
  result.quick.tried = layout::get_tried(root.openGroup("plausible_beds"));
  get(root, "verdict", result.verdict);
}

/// What can be said of a run that has no end.
void fill_in_ending(Result& result) {
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  result.whole = false;
  result.run.stopped = true;
  result.run.cells = result.grid.cells();
  layout::members(result.run.balances, [](const char*, const char*, double& error) { error = unknown; });
  if (result.run.series.empty()) return;
  result.run.steps = static_cast<int>(result.run.series.size()) - 1;
  result.run.settled_height = result.run.series.front().height;
}

Result get_result(const H5::Group& root) {
  Result result;
  const H5::Group question = root.openGroup("question");
  get(question, "name", result.name);
  get(question, "title", result.title);
  get(question, "case_text", result.case_text);
  get(root.openGroup("provenance"), "version", result.version);
  get(question, "notes", result.notes);
  get(root, "problem", result.problem);
  get_plan(root.openGroup("plan"), result.grid);
  get(root, "fill", result.run.loose);
  const H5::Group pictures = root.openGroup("pictures");
  for (const std::string& number : names_in(pictures))
    result.pictures.push_back(get_picture(pictures.openGroup(number), result.grid));
  result.run.series = layout::get_series(root.openGroup("series"));
  require_times(result.run.series);
  if (layout::number_attribute(root, "complete") != 0)
    get_ending(root, result);
  else
    fill_in_ending(result);
  return result;
}

}  // namespace

bool is_result(const fs::path& path) {
  try {
    require_result(path);
    return true;
  } catch (const StoreError&) {
    return false;
  }
}

void require_result(const fs::path& path) {
  H5::Exception::dontPrint();
  try {
    open_store(path);
  } catch (const H5::Exception& error) {
    refuse(path, fmt::format("is damaged: {}", error.getDetailMsg()));
  }
}

Result read_result(const fs::path& path) {
  Result result;
  with_store(path, [&](const H5::Group& root) { result = get_result(root); });
  return result;
}

std::vector<double> state_times(const fs::path& path) {
  std::vector<double> times;
  with_store(path, [&](const H5::Group& root) {
    const H5::Group states = root.openGroup("states");
    for (const std::string& number : names_in(states))
      get(states.openGroup(number), "time", times.emplace_back());
  });
  return times;
}

State read_state(const fs::path& path, std::size_t index) {
  State state;
  std::size_t count = 0;
  with_store(path, [&](const H5::Group& root) {
    const H5::Group states = root.openGroup("states");
    const std::vector<std::string> numbers = names_in(states);
    count = numbers.size();
    if (index >= count) return;
    const H5::Group group = states.openGroup(numbers[index]);
    for (const StateField& field : state.fields()) get(group, field.name, *field.values);
    get_members(group.openGroup("clock"), state.clock);
  });
  if (index >= count)
    refuse(path, fmt::format("holds {} full states; there is no number {}", count, index + 1));
  return state;
}

}  // namespace updraught
