#include "post/result/result.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "post/result/members.h"

namespace updraught {

namespace {

double between(double from, double to, double share) {
  // The ends themselves come out bit for bit, and a value that is unknown at one end is taken from the other.
  if (share <= 0.0 || std::isnan(to)) return from;
  if (share >= 1.0 || std::isnan(from)) return to;
  return from + share * (to - from);
}

template <class Struct>
void mix_members(Struct& into, const Struct& later, double share) {
  std::vector<double> values;
  layout::members(later, [&](const char*, const char*, double value) { values.push_back(value); });
  auto value = values.begin();
  layout::members(
      into, [&](const char*, const char*, double& member) { member = between(member, *value++, share); });
}

}  // namespace

const Opening* opening_of(const OpeningFlow& flow, const Problem& problem) {
  const auto place = static_cast<std::size_t>(flow.opening);
  return flow.opening >= 0 && place < problem.openings.size() ? &problem.openings[place] : nullptr;
}

SeriesRow row_at(const std::vector<SeriesRow>& series, double time) {
  if (series.empty()) throw std::invalid_argument("there is no step to take figures from");
  const auto after = std::lower_bound(series.begin(), series.end(), time,
                                      [](const SeriesRow& row, double when) { return row.time < when; });
  if (after == series.begin()) return series.front();
  if (after == series.end()) return series.back();
  const SeriesRow& later = *after;
  SeriesRow row = *(after - 1);
  const double share = (time - row.time) / (later.time - row.time);
  if (share >= 1.0) return later;
  mix_members(row, later, share);
  // The length of a step is no quantity over time: it is that of the step around the moment.
  row.step = later.step;
  for (auto& [path, watts] : row.heat_by_path) {
    const auto found = later.heat_by_path.find(path);
    if (found != later.heat_by_path.end()) watts = between(watts, found->second, share);
  }
  for (OpeningFlow& flow : row.openings) {
    const OpeningFlow* then = flow_of(flow.opening, later.openings);
    if (then != nullptr) mix_members(flow, *then, share);
  }
  return row;
}

}  // namespace updraught
