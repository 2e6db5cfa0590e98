#include "post/store/store_write.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <system_error>

#include "post/files/whole_files.h"
#include "post/store/store_driver.h"
#include "post/store/store_pack.h"
#include "post/store/store_read.h"
#include "post/store/store_series.h"
#include "post/store/store_tried.h"
#include "post/store/store_values.h"
#include "solver/balance/balances.h"

namespace updraught {

namespace fs = std::filesystem;
using layout::numbered;
using layout::put;

namespace {

constexpr const char* facts_file = "facts.h5";
/// Groups of the file with the facts; the index links to each.
constexpr std::array fact_groups{"question", "problem", "fill", "plan", "constants", "provenance"};

std::string state_file(std::size_t n) {
  return fmt::format("state_{}.h5", numbered(n));
}
std::string picture_file(std::size_t n) {
  return fmt::format("picture_{}.h5", numbered(n));
}

void put_facts(H5::Group& root, const StoreFacts& facts) {
  H5::Group question = root.createGroup("question");
  H5::Group constants = root.createGroup("constants"), provenance = root.createGroup("provenance");
  put(question, "name", "", facts.name);
  put(question, "title", "", facts.title);
  put(question, "case_text", "", facts.case_text);
  put(question, "notes", "", facts.notes);
  put(root, "problem", "", facts.problem);
  put(root, "fill", "", facts.loose);
  put(root, "plan", "", facts.grid);
  for (const auto& [name, value] : facts.constants) put(constants, name, "SI", value);
  put(provenance, "version", "", facts.version);
  put(provenance, "date", "", facts.date);
  put(provenance, "threads", "1", facts.threads);
}

/// Cell fields are stored by row, layer and column, so that other readers see the bed's shape.
std::vector<hsize_t> shape_of(std::size_t length, std::size_t layers, const Grid& grid) {
  const auto rows = static_cast<std::size_t>(grid.ny), columns = static_cast<std::size_t>(grid.nx);
  if (length != rows * layers * columns || length == 0) return {length};
  return {rows, layers, columns};
}

void link(H5::Group& from, const std::string& name, const std::string& file, const std::string& target) {
  if (H5Lcreate_external(file.c_str(), target.c_str(), from.getId(), name.c_str(), H5P_DEFAULT, H5P_DEFAULT) <
      0)
    throw H5::GroupIException("H5Lcreate_external", name);
}

/// Makes a folder of parts with the first number that is free.
std::string new_parts_folder(const fs::path& folder) {
  for (int n = 1;; ++n) {
    std::string name = fmt::format("{}{}", store_parts_prefix, n);
    std::error_code error;
    if (fs::create_directory(folder / name, error)) return name;
    if (error && !fs::exists(folder / name))
      throw StoreError(fmt::format("cannot write into {}: {}", folder.string(), plain_reason(error.value())));
  }
}

/// What is known only at the end.
void put_ending(H5::Group& root, const Result& result) {
  const RunResult& run = result.run;
  put(root, "run", "", run);
  H5::Group group = root.openGroup("run");
  put(group, "fill", "", run.loose);
  H5::Group seconds = group.createGroup("seconds");
  for (const auto& [phase, value] : run.seconds) put(seconds, phase, "s", value);
  put(root, "balances", "", run.balances);
  H5::Group days = root.createGroup("bands");
  for (std::size_t day = 0; day < result.bands.size(); ++day) {
    H5::Group one = days.createGroup(numbered(day + 1));
    for (const auto& [name, band] : result.bands[day])
      put(one, name, "", std::vector<double>{band.low, band.high});
  }
  put(root, "quick", "", result.quick);
  H5::Group tried = root.createGroup("plausible_beds");
  layout::put_tried(tried, result.quick.tried);
  put(root, "verdict", "", result.verdict);
}

}  // namespace

StoreWriter::StoreWriter(const fs::path& folder, const StoreFacts& facts, KeptStates kept)
    : folder_(folder), kept_(kept) {
  require_folder(folder_);
  lock_ = std::make_unique<FolderLock>(folder_);
  if (fs::exists(path()) && !is_result(path()))
    throw StoreError(
        fmt::format("{} is there already and is not a result that can be read; it is left as it is. Move "
                    "it away or choose another folder",
                    path().string()));
  parts_ = new_parts_folder(folder_);
  try {
    write_hdf5(folder_ / parts_ / facts_file, [&](OutputFile& out) { put_facts(out.root(), facts); });
  } catch (const StoreError&) {
    drop_parts();
    throw;
  }
}

StoreWriter::~StoreWriter() {
  if (!indexed_) drop_parts();
}

fs::path StoreWriter::path() const {
  return folder_ / store_file_name;
}

void StoreWriter::write_time(const State& state, const Grid& grid, const Picture* picture,
                             const SeriesRow& row) {
  std::vector<std::size_t> outdated;
  if (states_.empty() || state.time() != last_state_time_) {
    write_state(state, grid);
    if (kept_ == KeptStates::first_and_last && states_.size() > 2) {
      outdated.assign(states_.begin() + 1, states_.end() - 1);
      states_.erase(states_.begin() + 1, states_.end() - 1);
    }
  }
  if (picture != nullptr) write_picture(*picture, grid);
  append_series({row});
  write_index(nullptr);
  drop_older();
  for (const std::size_t n : outdated) {
    std::error_code leftover;  // goes with the folder of parts at the latest
    fs::remove(folder_ / parts_ / state_file(n), leftover);
  }
}

void StoreWriter::append_series(const std::vector<SeriesRow>& rows) {
  for (const SeriesRow& row : rows)
    if (series_.empty() || row.time > series_.back().time) series_.push_back(row);
}

void StoreWriter::finish(const Result& result) {
  if (!result.run.series.empty()) series_ = result.run.series;
  write_index(&result);
  drop_older();
  pack_store(path());
}

void StoreWriter::write_state(const State& state, const Grid& grid) {
  write_hdf5(folder_ / parts_ / state_file(next_state_), [&](OutputFile& out) {
    H5::Group group = out.root().createGroup("state");
    put(group, "time", "s", state.time());
    for (const ConstStateField& field : state.fields()) {
      // Most states are replaced by the next one; packing the store deflates those that stay.
      put(group, field.name, field.unit, *field.values,
          shape_of(field.values->size(), state.thickness.size(), grid), layout::Packing::plain);
      out.check();
    }
    H5::Group clock = group.createGroup("clock");
    layout::put_members(clock, state.clock);
    const auto& names = booked_names();
    put(group, "booked_entries", "", std::vector<std::string>(names.begin(), names.end()));
  });
  states_.push_back(next_state_++);
  last_state_time_ = state.time();
}

void StoreWriter::write_picture(const Picture& picture, const Grid& grid) {
  if (picture.z.size() < 2) throw std::invalid_argument("a picture needs the heights of its layers");
  write_hdf5(folder_ / parts_ / picture_file(pictures_), [&](OutputFile& out) {
    H5::Group group = out.root().createGroup("picture"), fields = group.createGroup("fields");
    put(group, "time", "s", picture.time);
    put(group, "z", "m", picture.z);
    std::vector<std::string> names;
    for (const PictureField& field : picture.fields) {
      const auto components = static_cast<std::size_t>(std::max(field.components, 1));
      std::vector<hsize_t> shape = shape_of(field.values.size() / components, picture.z.size() - 1, grid);
      if (components > 1) shape.push_back(components);
      put(fields, field.name, field.unit, field.values, shape);
      H5::DataSet set = fields.openDataSet(field.name);
      layout::put_attribute(set, "label", field.label);
      layout::put_attribute(set, "components", field.components);
      names.push_back(field.name);
      out.check();
    }
    put(group, "order", "", names);
  });
  ++pictures_;
}

void StoreWriter::write_index(const Result* ended) const {
  write_hdf5(path(), [&](OutputFile& out) {
    H5::Group& root = out.root();
    layout::put_attribute(root, "made_by", std::string(store_maker));
    layout::put_attribute(root, "layout", store_layout_version);
    layout::put_attribute(root, "complete", ended == nullptr ? 0 : 1);
    layout::put_attribute(root, "parts", parts_);
    for (const char* name : fact_groups) link(root, name, fmt::format("{}/{}", parts_, facts_file), name);
    H5::Group states = root.createGroup("states"), pictures = root.createGroup("pictures");
    for (const std::size_t n : states_)
      link(states, numbered(n), fmt::format("{}/{}", parts_, state_file(n)), "state");
    for (std::size_t n = 0; n < pictures_; ++n)
      link(pictures, numbered(n), fmt::format("{}/{}", parts_, picture_file(n)), "picture");
    H5::Group series = root.createGroup("series");
    layout::put_series(series, series_);
    if (ended != nullptr) put_ending(root, *ended);
  });
}

void StoreWriter::drop_parts() const {
  std::error_code leftover;  // nothing points to them; what cannot be removed does no harm
  fs::remove_all(folder_ / parts_, leftover);
}

/// Removes the parts of older runs, once the index no longer points to them.
void StoreWriter::drop_older() {
  if (indexed_) return;
  indexed_ = true;
  std::error_code leftover;  // nothing points to them any more; what cannot be removed does no harm
  for (const fs::directory_entry& entry : fs::directory_iterator(folder_, leftover)) {
    const std::string name = entry.path().filename().string();
    std::error_code ignored;
    if (name.starts_with(store_parts_prefix) && name != parts_ && entry.is_directory(ignored))
      fs::remove_all(entry.path(), ignored);
  }
}

}  // namespace updraught
