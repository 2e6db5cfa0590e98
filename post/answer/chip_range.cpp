#include "post/answer/chip_range.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "post/result/tried_beds.h"

namespace updraught {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();
constexpr double same = 1e-6;
/// Steps in which the best share is looked for: whole points.
constexpr double whole = 0.01;

void sort_by_share(std::vector<BlendPoint>& points) {
  std::sort(points.begin(), points.end(),
            [](const BlendPoint& a, const BlendPoint& b) { return a.share < b.share; });
}

bool can_work(const ChipTips& bed) {
  return bed.least && bed.most && *bed.most >= *bed.least - same;
}

/// Of one kind as far as a finer look is worth it: a closed base is one reason of too little air.
std::vector<Miss> kinds(std::vector<Miss> missed) {
  std::replace(missed.begin(), missed.end(), Miss::base_closes, Miss::too_little_air);
  return missed;
}

/// The middle of the widest stretch of shares at which most beds work.
void find_best(ChipRange& range) {
  double from = range.aims.least;
  double widest = -1.0;
  double begin = from;
  int running = -1;
  for (double share = range.aims.least; share <= range.aims.most + same; share += whole) {
    const int works = range.works_at(share);
    if (works != running) {
      begin = share;
      running = works;
    }
    if (works > range.works_in || (works == range.works_in && share - begin > widest)) {
      range.works_in = works;
      widest = share - begin;
      from = begin;
    }
  }
  range.best = std::round((from + 0.5 * std::max(widest, 0.0)) / whole) * whole;
}

}  // namespace

std::vector<Miss> misses(const BlendPoint& point, const TipAims& aims) {
  std::vector<Miss> out;
  if (!keeps_air(point.course, aims))
    out.push_back(point.base_air_between < closed_base ? Miss::base_closes : Miss::too_little_air);
  if (point.course.hours_hot < aims.hours_hot) out.push_back(Miss::too_little_warmth);
  if (point.course.moisture_at_end < aims.moisture) out.push_back(Miss::too_dry);
  if (point.share > aims.most + same) out.push_back(Miss::full_of_chips);
  return out;
}

BlendPoint blend_point(double share, const Summary& summary) {
  if (summary.days.empty() || !summary.course)
    throw std::invalid_argument("a bed without any day says nothing of a share");
  double between = 1.0;
  for (const Day& day : summary.days) between = std::min(between, day.base_air_between);
  return {share, *summary.course, between};
}

std::vector<double> shares_to_refine(std::vector<BlendPoint> points, const TipAims& aims) {
  sort_by_share(points);
  std::vector<double> out;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const double low = points[i].share, high = points[i + 1].share;
    if (high - low <= aims.fine + same ||
        kinds(misses(points[i], aims)) == kinds(misses(points[i + 1], aims)))
      continue;
    // A share that is too high only because the bin would be full of chips says nothing new.
    if (low >= aims.most - same) continue;
    out.push_back(std::round(0.5 * (low + high) / whole) * whole);
  }
  return out;
}

bool ChipRange::works() const {
  return can_work(asked);
}

int ChipRange::works_at(double share) const {
  return static_cast<int>(
      std::count_if(beds.begin(), beds.end(), [share](const ChipTips& bed) { return bed.works(share); }));
}

int ChipRange::beds_that_can_work() const {
  return static_cast<int>(std::count_if(beds.begin(), beds.end(), can_work));
}

ChipRange chip_range(SweptChips swept, const TipAims& aims, double days) {
  if (swept.points.size() < 2) throw std::invalid_argument("a sweep needs two shares or more");
  ChipRange out;
  out.aims = aims;
  out.days = days;
  sort_by_share(swept.points);
  out.points = std::move(swept.points);
  out.asked = swept.asked;
  out.beds = std::move(swept.beds);
  out.inputs = std::move(swept.inputs);
  std::vector<double> least;
  std::vector<double> most;
  for (const ChipTips& bed : out.beds) {
    least.push_back(can_work(bed) ? *bed.least : never);
    most.push_back(can_work(bed) ? *bed.most : -never);
  }
  if (!least.empty()) {
    out.least = band_of(least);
    out.most = band_of(most);
    out.influences = influences(swept.sample, least);
    find_best(out);
  }
  out.verdict = range_in_words(out);
  return out;
}

void mark_share(ChipRange& range, const MarkedShare& mark) {
  for (const BlendPoint& point : range.points)
    if (std::abs(point.share - mark.share) < same) range.marked = MarkedShare{point.share, mark.words};
}

std::string miss_in_words(Miss miss) {
  switch (miss) {
    case Miss::base_closes:
      return "the base closes";
    case Miss::too_little_air:
      return "too little air";
    case Miss::too_little_warmth:
      return "not hot for long enough";
    case Miss::too_dry:
      return "too dry";
    case Miss::full_of_chips:
      return "the bin is full of chips";
  }
  throw std::invalid_argument("this miss has no words");
}

}  // namespace updraught
