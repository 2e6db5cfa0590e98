#include "post/store/store_series.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "post/result/members.h"
#include "post/store/store_values.h"

namespace updraught::layout {

namespace {

constexpr double absent = std::numeric_limits<double>::quiet_NaN();

/// One list per member of the structs that `pick` finds in the rows (null: absent).
template <class Struct, class Pick>
void put_columns(H5::Group& group, const std::vector<SeriesRow>& rows, const Pick& pick) {
  struct Column {
    std::string name;
    std::string unit;
    std::vector<double> values;
  };
  std::vector<Column> columns;
  const Struct example;
  members(example, [&](const char* name, const char* unit, double) { columns.push_back({name, unit, {}}); });
  for (const SeriesRow& row : rows) {
    const Struct* object = pick(row);
    auto column = columns.begin();
    members(object == nullptr ? example : *object, [&](const char*, const char*, double value) {
      (column++)->values.push_back(object == nullptr ? absent : value);
    });
  }
  for (const Column& column : columns) put(group, column.name, column.unit, column.values);
}

std::vector<double> get_column(const H5::Group& group, const std::string& name, std::size_t length) {
  std::vector<double> values;
  get(group, name, values);
  if (values.size() != length) throw StoreError("the columns of the series differ in length");
  return values;
}

/// Fills the structs of all rows, column by column.
template <class Struct>
std::vector<Struct> get_columns(const H5::Group& group, std::size_t length) {
  std::vector<Struct> objects(length);
  std::size_t wanted = 0;
  Struct example;
  members(example, [&](const char* name, const char*, double) {
    const std::vector<double> values = get_column(group, name, length);
    for (std::size_t n = 0; n < length; ++n) {
      std::size_t position = 0;
      members(objects[n], [&](const char*, const char*, double& member) {
        if (position++ == wanted) member = values[n];
      });
    }
    ++wanted;
  });
  return objects;
}

}  // namespace

void put_series(H5::Group& group, const std::vector<SeriesRow>& rows) {
  put_columns<SeriesRow>(group, rows, [](const SeriesRow& row) { return &row; });

  std::set<std::string> paths;
  std::vector<OpeningFlow> openings;  // in the order in which they first appear
  for (const SeriesRow& row : rows) {
    for (const auto& [path, watts] : row.heat_by_path) paths.insert(path);
    for (const OpeningFlow& flow : row.openings)
      if (flow_of(flow.opening, openings) == nullptr) openings.push_back(flow);
  }
  H5::Group heat = group.createGroup("heat_by_path");
  for (const std::string& path : paths) {
    std::vector<double> values;
    for (const SeriesRow& row : rows) {
      const auto found = row.heat_by_path.find(path);
      values.push_back(found == row.heat_by_path.end() ? absent : found->second);
    }
    put(heat, path, "W", values);
  }
  H5::Group all = group.createGroup("openings");
  for (std::size_t n = 0; n < openings.size(); ++n) {
    H5::Group one = all.createGroup(numbered(n));
    put(one, "name", "", openings[n].name);
    put(one, "opening", "1", openings[n].opening);
    put_columns<OpeningFlow>(
        one, rows, [&](const SeriesRow& row) { return flow_of(openings[n].opening, row.openings); });
  }
}

std::vector<SeriesRow> get_series(const H5::Group& group) {
  std::vector<double> times;
  get(group, "time", times);
  std::vector<SeriesRow> rows = get_columns<SeriesRow>(group, times.size());
  const H5::Group heat = group.openGroup("heat_by_path");
  for (const std::string& path : names_in(heat)) {
    const std::vector<double> values = get_column(heat, path, rows.size());
    for (std::size_t n = 0; n < rows.size(); ++n)
      if (!std::isnan(values[n])) rows[n].heat_by_path[path] = values[n];
  }
  const H5::Group all = group.openGroup("openings");
  for (const std::string& number : names_in(all)) {
    const H5::Group one = all.openGroup(number);
    std::string name;
    int opening = OpeningFlow::of_base;
    get(one, "name", name);
    get(one, "opening", opening);
    std::vector<OpeningFlow> flows = get_columns<OpeningFlow>(one, rows.size());
    for (std::size_t n = 0; n < rows.size(); ++n) {
      if (std::isnan(flows[n].air_in)) continue;
      flows[n].name = name;
      flows[n].opening = opening;
      rows[n].openings.push_back(flows[n]);
    }
  }
  return rows;
}

}  // namespace updraught::layout
