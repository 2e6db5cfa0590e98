#include "post/answer/working_range.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "post/words/words.h"

namespace updraught {

namespace {

using Choose = Summary ThreeSettings::*;

BlendMeasures at(const BlendPoint& point, Choose setting) {
  return blend_measures(point.settings.*setting);
}

// By how much an aim is reached, in the unit of its measure; below 0: missed.
double margin(RangeEnd aim, double share, const BlendMeasures& measures, const BlendAims& aims) {
  switch (aim) {
    case RangeEnd::base_closes:
    case RangeEnd::too_little_air:
      return measures.aired_share - aims.aired_share;
    case RangeEnd::too_little_warmth:
      return measures.hottest - aims.hottest;
    // A bed without a mass of its own cannot dry.
    case RangeEnd::too_dry:
      return std::isfinite(measures.moisture) ? measures.moisture - aims.moisture : 1.0;
    case RangeEnd::full_of_chips:
      return aims.chips - share;
    case RangeEnd::edge_of_sweep:
      return 0.0;
  }
  return 0.0;
}

// Where between a share that misses and a neighbour that works the last of the missed aims is reached.
struct Crossing {
  double share;
  RangeEnd reason;
};

Crossing crossing(const BlendPoint& fails, const BlendPoint& works, Choose setting, const BlendAims& aims) {
  const BlendMeasures bad = at(fails, setting);
  const BlendMeasures good = at(works, setting);
  Crossing out{fails.share, RangeEnd::edge_of_sweep};
  double farthest = -1.0;
  for (const RangeEnd aim : misses(fails.share, bad, aims)) {
    const double below = margin(aim, fails.share, bad, aims);
    const double above = margin(aim, works.share, good, aims);
    const double part = below / (below - above);
    if (part > farthest) {
      farthest = part;
      out = {fails.share + part * (works.share - fails.share), aim};
    }
  }
  return out;
}

bool works(const BlendPoint& point, Choose setting, const BlendAims& aims) {
  return misses(point.share, at(point, setting), aims).empty();
}

std::optional<WorkingRange> range_in(const std::vector<BlendPoint>& points, Choose setting,
                                     const BlendAims& aims) {
  std::optional<WorkingRange> best;
  for (std::size_t from = 0; from < points.size(); ++from) {
    if (!works(points[from], setting, aims)) continue;
    std::size_t to = from;
    while (to + 1 < points.size() && works(points[to + 1], setting, aims)) ++to;
    WorkingRange range{points[from].share, points[to].share};
    if (from > 0) {
      const Crossing low = crossing(points[from - 1], points[from], setting, aims);
      range.low = low.share;
      range.low_end = low.reason;
    }
    if (to + 1 < points.size()) {
      const Crossing high = crossing(points[to + 1], points[to], setting, aims);
      range.high = high.share;
      range.high_end = high.reason;
    }
    if (!best || range.high - range.low > best->high - best->low) best = range;
    from = to;
  }
  return best;
}

const BlendPoint& nearest_outside(const BlendRange& range, double share, bool below) {
  const BlendPoint* nearest = nullptr;
  for (const BlendPoint& point : range.points) {
    const bool outside = below ? point.share < share : point.share > share;
    if (outside && (!nearest || std::abs(point.share - share) < std::abs(nearest->share - share)))
      nearest = &point;
  }
  return nearest ? *nearest : range.points.front();
}

std::string why(RangeEnd end, const BlendPoint& outside) {
  const BlendMeasures there = at(outside, &ThreeSettings::middle);
  const std::string where = "at " + percent(outside.share) + " ";
  switch (end) {
    case RangeEnd::base_closes:
      return "the base closes (" + where + percent(there.base_air_between) + " open pores there and " +
             percent(there.aired_share) + " of the bed with enough air)";
    case RangeEnd::too_little_air:
      return "too little air gets in (" + where + percent(there.aired_share) + " of the bed has enough)";
    case RangeEnd::too_little_warmth:
      return "too little warmth is made (" + where + "the hottest part stays at about " +
             rounded_temperature(there.hottest) + ")";
    case RangeEnd::too_dry:
      return "it gets too dry (" + where + percent(there.moisture) + " water at the end)";
    case RangeEnd::full_of_chips:
      return "the bin is full of chips (" + where + percent(1.0 - outside.share) +
             " of the buckets are waste)";
    case RangeEnd::edge_of_sweep:
      return "no more was tried";
  }
  return "";
}

std::string end_in_words(const BlendRange& range, bool low) {
  const WorkingRange& middle = *range.middle;
  const RangeEnd end = low ? middle.low_end : middle.high_end;
  if (end == RangeEnd::edge_of_sweep) {
    return std::string("The ") + (low ? "lowest" : "highest") + " share tried works too (" +
           percent(low ? middle.low : middle.high) + ").";
  }
  const BlendPoint& outside = nearest_outside(range, low ? middle.low : middle.high, low);
  return std::string(low ? "With fewer chips " : "With more chips ") + why(end, outside) + ".";
}

std::string nothing_works(const BlendRange& range, const BlendAims& aims) {
  const auto best =
      std::max_element(range.points.begin(), range.points.end(), [](const auto& a, const auto& b) {
        return at(a, &ThreeSettings::middle).aired_share < at(b, &ThreeSettings::middle).aired_share;
      });
  std::string text = "No share that was tried works. Most of the bed has enough air at " +
                     percent(best->share) + " chips (" +
                     percent(at(*best, &ThreeSettings::middle).aired_share) + ")";
  for (const RangeEnd miss : misses(best->share, at(*best, &ThreeSettings::middle), aims)) {
    text += ", but there " + why(miss, *best);
  }
  return text + ".";
}

std::string how_sure(const BlendRange& range) {
  if (range.sure) {
    return "Whatever the uncertain inputs within their ranges, " + percent(range.sure->low) + " to " +
           percent(range.sure->high) + " works.";
  }
  if (!range.middle && !range.adverse && !range.favourable)
    return "Nor does any in the other two settings of the uncertain inputs.";
  std::vector<std::string> none;
  if (!range.adverse) none.emplace_back("waste that packs tight and breathes hard");
  if (!range.favourable) none.emplace_back("waste that packs loose and breathes little");
  if (!none.empty()) return "With " + listed(none) + " no share works; this is not sure.";
  return "No single share works in all three settings of the uncertain inputs; this is not sure.";
}

std::vector<std::string> sentences(const BlendRange& range, const BlendAims& aims) {
  if (!range.middle) return {nothing_works(range, aims), how_sure(range)};
  std::vector<std::string> out;
  const WorkingRange& middle = *range.middle;
  out.push_back("Chips work from " + percent(middle.low) + " of the buckets (" + in_buckets(middle.low) +
                ") to " + percent(middle.high) + " (" + in_buckets(middle.high) + ").");
  out.push_back(end_in_words(range, true));
  out.push_back(end_in_words(range, false));
  out.push_back(how_sure(range));
  out.push_back("In the middle of it: " + in_buckets(*range.recommended) + ".");
  return out;
}

}  // namespace

BlendMeasures blend_measures(const Summary& summary) {
  const Day& day = day_at(summary, headline_day(summary));
  BlendMeasures out;
  out.aired_share = day.aired_share;
  out.base_air_between = day.base_air_between;
  out.air_in = day.air_in;
  out.moisture = summary.days.back().moisture;
  out.hottest = day.hottest;
  for (const Day& one : summary.days) out.hottest = std::max(out.hottest, one.hottest);
  return out;
}

std::vector<RangeEnd> misses(double share, const BlendMeasures& measures, const BlendAims& aims) {
  std::vector<RangeEnd> out;
  const bool closed = measures.base_air_between < aims.base_air_between;
  for (const RangeEnd aim : {closed ? RangeEnd::base_closes : RangeEnd::too_little_air,
                             RangeEnd::too_little_warmth, RangeEnd::too_dry, RangeEnd::full_of_chips}) {
    if (margin(aim, share, measures, aims) < 0.0) out.push_back(aim);
  }
  return out;
}

std::vector<double> shares_to_refine(const std::vector<BlendPoint>& points, const BlendAims& aims) {
  std::vector<BlendPoint> sorted = points;
  std::sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) { return a.share < b.share; });
  std::vector<double> out;
  for (std::size_t i = 0; i + 1 < sorted.size(); ++i) {
    bool turns = false;
    for (const Choose setting :
         {&ThreeSettings::adverse, &ThreeSettings::middle, &ThreeSettings::favourable}) {
      turns |= works(sorted[i], setting, aims) != works(sorted[i + 1], setting, aims);
    }
    if (turns) out.push_back(0.5 * (sorted[i].share + sorted[i + 1].share));
  }
  return out;
}

BlendRange find_range(std::vector<BlendPoint> points, const BlendAims& aims) {
  if (points.size() < 2) throw std::invalid_argument("a sweep needs two shares or more");
  std::sort(points.begin(), points.end(), [](const auto& a, const auto& b) { return a.share < b.share; });
  BlendRange out;
  out.points = std::move(points);
  out.adverse = range_in(out.points, &ThreeSettings::adverse, aims);
  out.middle = range_in(out.points, &ThreeSettings::middle, aims);
  out.favourable = range_in(out.points, &ThreeSettings::favourable, aims);
  if (out.adverse && out.middle && out.favourable) {
    const Band sure{std::max({out.adverse->low, out.middle->low, out.favourable->low}),
                    std::min({out.adverse->high, out.middle->high, out.favourable->high})};
    if (sure.low < sure.high) out.sure = sure;
  }
  if (out.sure) {
    out.recommended = 0.5 * (out.sure->low + out.sure->high);
  } else if (out.middle) {
    out.recommended = 0.5 * (out.middle->low + out.middle->high);
  }
  out.verdict = sentences(out, aims);
  return out;
}

void mark_share(BlendRange& range, const MarkedShare& mark) {
  for (const BlendPoint& point : range.points)
    if (std::abs(point.share - mark.share) < 1e-6) range.marked = MarkedShare{point.share, mark.words};
}

std::string reason_in_words(RangeEnd end) {
  switch (end) {
    case RangeEnd::edge_of_sweep:
      return "no more was tried";
    case RangeEnd::base_closes:
      return "the base closes";
    case RangeEnd::too_little_air:
      return "too little air";
    case RangeEnd::too_little_warmth:
      return "too little warmth";
    case RangeEnd::too_dry:
      return "too dry";
    case RangeEnd::full_of_chips:
      return "the bin is full of chips";
  }
  throw std::invalid_argument("this end of a range has no words");
}

}  // namespace updraught
