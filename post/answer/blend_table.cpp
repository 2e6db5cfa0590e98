#include <algorithm>
#include <cmath>

#include "post/answer/working_range.h"
#include "post/tables/summary_json.h"
#include "post/words/text_table.h"
#include "post/words/words.h"

namespace updraught {

namespace {

using nlohmann::json;

std::array<BlendMeasures, 3> in_each_setting(const BlendPoint& point) {
  return {blend_measures(point.settings.adverse), blend_measures(point.settings.middle),
          blend_measures(point.settings.favourable)};
}

Band range_of(const std::array<BlendMeasures, 3>& measures, double BlendMeasures::*value) {
  return {std::min({measures[0].*value, measures[1].*value, measures[2].*value}),
          std::max({measures[0].*value, measures[1].*value, measures[2].*value})};
}

std::string warmth(const std::array<BlendMeasures, 3>& measures) {
  const Band band = range_of(measures, &BlendMeasures::hottest);
  const std::string middle = rounded_temperature(measures[1].hottest);
  const std::string all = temperature_range(band);
  return all == middle ? middle : middle + " (likely " + all + ")";
}

std::string works_or_not(const BlendPoint& point, const BlendMeasures& middle, const BlendAims& aims) {
  const auto missed = misses(point.share, middle, aims);
  if (missed.empty()) return "works";
  std::vector<std::string> words;
  words.reserve(missed.size());
  for (const RangeEnd miss : missed) words.push_back(reason_in_words(miss));
  return listed(words);
}

json ranged(const std::array<BlendMeasures, 3>& measures, double BlendMeasures::*value) {
  const Band band = range_of(measures, value);
  return {{"value", finite_or_null(measures[1].*value)},
          {"low", finite_or_null(band.low)},
          {"high", finite_or_null(band.high)}};
}

json range_json(const std::optional<WorkingRange>& range) {
  if (!range) return {};
  return {{"low", finite_or_null(range->low)},
          {"high", finite_or_null(range->high)},
          {"low_reason", reason_in_words(range->low_end)},
          {"high_reason", reason_in_words(range->high_end)},
          {"low_in_buckets", in_buckets(range->low)},
          {"high_in_buckets", in_buckets(range->high)}};
}

json marked_json(const std::optional<MarkedShare>& mark) {
  if (!mark) return {};
  return {{"woodchip_share", finite_or_null(mark->share)}, {"words", mark->words}};
}

}  // namespace

std::string blend_table(const BlendRange& range, const BlendAims& aims) {
  std::vector<std::vector<std::string>> lines{{"chips", "in buckets", "enough air", "air in",
                                               "open pores at the base", "hottest", "water at the end", ""}};
  for (const BlendPoint& point : range.points) {
    const auto measures = in_each_setting(point);
    const BlendMeasures& middle = measures[1];
    lines.push_back({percent(point.share), in_buckets(point.share),
                     percent_with_band(middle.aired_share, range_of(measures, &BlendMeasures::aired_share)),
                     litres_a_minute(middle.air_in), percent(middle.base_air_between), warmth(measures),
                     percent(middle.moisture), works_or_not(point, middle, aims)});
    if (range.marked && range.marked->share == point.share)
      lines.back().back() += " (" + range.marked->words + ")";
  }
  return text_table(lines);
}

json to_json(const BlendRange& range, const BlendAims& aims) {
  json points = json::array();
  for (const BlendPoint& point : range.points) {
    const auto measures = in_each_setting(point);
    json reasons = json::array();
    for (const RangeEnd miss : misses(point.share, measures[1], aims))
      reasons.push_back(reason_in_words(miss));
    points.push_back({{"woodchip_share", finite_or_null(point.share)},
                      {"in_buckets", in_buckets(point.share)},
                      {"aired_share", ranged(measures, &BlendMeasures::aired_share)},
                      {"air_in_m3_h", ranged(measures, &BlendMeasures::air_in)},
                      {"base_air_between", ranged(measures, &BlendMeasures::base_air_between)},
                      {"hottest_c", ranged(measures, &BlendMeasures::hottest)},
                      {"moisture_at_end", ranged(measures, &BlendMeasures::moisture)},
                      {"settled_height_m", finite_or_null(point.settings.middle.settled_height)},
                      {"works", reasons.empty()},
                      {"misses", reasons}});
  }
  json sure;
  if (range.sure)
    sure = {{"low", finite_or_null(range.sure->low)}, {"high", finite_or_null(range.sure->high)}};
  return {{"points", points},
          {"aims",
           {{"aired_share", aims.aired_share},
            {"hottest_c", aims.hottest},
            {"moisture_at_end", aims.moisture},
            {"woodchip_share_at_most", aims.chips}}},
          {"range", range_json(range.middle)},
          {"range_adverse", range_json(range.adverse)},
          {"range_favourable", range_json(range.favourable)},
          {"range_sure", sure},
          {"marked", marked_json(range.marked)},
          {"recommended_share", range.recommended ? finite_or_null(*range.recommended) : json()},
          {"recommended_in_buckets", range.recommended ? json(in_buckets(*range.recommended)) : json()},
          {"verdict", range.verdict}};
}

}  // namespace updraught
