#include "post/store/store_tried.h"

#include <cmath>
#include <limits>

#include "post/store/store_values.h"

namespace updraught::layout {

namespace {

double stored(double value) {
  return value;
}
double stored(const std::optional<double>& value) {
  return value.value_or(std::numeric_limits<double>::quiet_NaN());
}

void take(double from, double& value) {
  value = from;
}
void take(double from, std::optional<double>& value) {
  value = std::isnan(from) ? std::nullopt : std::optional(from);
}

std::vector<double> column(const H5::Group& group, const std::string& name, std::size_t length) {
  std::vector<double> values;
  get(group, name, values);
  if (values.size() != length) throw StoreError("the columns of the plausible beds differ in length");
  return values;
}

}  // namespace

void put_tried(H5::Group& group, const TriedBeds& tried) {
  put(group, "seed", "1", tried.seed);
  put(group, "inputs", "", tried.inputs);
  std::vector<int> numbers;
  std::vector<double> points;
  for (const TriedBed& bed : tried.beds) {
    numbers.push_back(bed.number);
    points.insert(points.end(), bed.point.begin(), bed.point.end());
  }
  put(group, "number", "1", numbers);
  put(group, "point", "1", points, {tried.beds.size(), tried.inputs.size()});
  std::size_t place = 0;
  const Course example;
  members(example, [&](const char* name, const char* unit, const auto& /*unused*/) {
    std::vector<double> values;
    for (const TriedBed& bed : tried.beds) {
      std::size_t here = 0;
      members(bed.course, [&](const char*, const char*, const auto& value) {
        if (here++ == place) values.push_back(stored(value));
      });
    }
    put(group, name, unit, values);
    ++place;
  });
}

TriedBeds get_tried(const H5::Group& group) {
  TriedBeds tried;
  get(group, "seed", tried.seed);
  get(group, "inputs", tried.inputs);
  std::vector<int> numbers;
  get(group, "number", numbers);
  const std::size_t sides = tried.inputs.size();
  const std::vector<double> points = column(group, "point", numbers.size() * sides);
  for (std::size_t n = 0; n < numbers.size(); ++n) {
    const auto from = points.begin() + static_cast<std::ptrdiff_t>(n * sides);
    tried.beds.push_back({numbers[n], {from, from + static_cast<std::ptrdiff_t>(sides)}, {}});
  }
  std::size_t place = 0;
  const Course example;
  members(example, [&](const char* name, const char*, const auto& /*unused*/) {
    const std::vector<double> values = column(group, name, numbers.size());
    for (std::size_t n = 0; n < numbers.size(); ++n) {
      std::size_t here = 0;
      members(tried.beds[n].course, [&](const char*, const char*, auto& value) {
        if (here++ == place) take(values[n], value);
      });
    }
    ++place;
  });
  return tried;
}

}  // namespace updraught::layout
