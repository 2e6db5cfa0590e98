#include <algorithm>
#include <cmath>

#include "post/answer/chip_range.h"
#include "post/tables/summary_json.h"
#include "post/words/odds.h"
#include "post/words/text_table.h"
#include "post/words/words.h"

namespace updraught {

namespace {

using nlohmann::json;

std::string works_or_not(const BlendPoint& point, const TipAims& aims) {
  const auto missed = misses(point, aims);
  if (missed.empty()) return "works";
  std::vector<std::string> words;
  words.reserve(missed.size());
  for (const Miss miss : missed) words.push_back(miss_in_words(miss));
  return listed(words);
}

/// Buckets of a row: no two rows, which are whole points apart, have the same.
std::string row_buckets(double share) {
  constexpr double half_a_point = 0.005;
  return in_buckets_within(share, share - half_a_point, share + half_a_point - 1e-6);
}

std::string air_from(const Course& course) {
  const auto from = airs_from(course);
  if (!from) return "never";
  return *from <= 0.0 ? "start" : day_name(to_digits(*from / 86400.0, 2));
}

json tips_json(const ChipTips& tips) {
  return {{"least", tips.least ? finite_or_null(*tips.least) : json()},
          {"most", tips.most ? finite_or_null(*tips.most) : json()}};
}

json band_json(const std::optional<Band>& band) {
  if (!band) return {};
  return {{"low", finite_or_null(band->low)}, {"high", finite_or_null(band->high)}};
}

json marked_json(const std::optional<MarkedShare>& mark) {
  if (!mark) return {};
  return {{"woodchip_share", finite_or_null(mark->share)}, {"words", mark->words}};
}

json influences_json(const std::vector<Influence>& influences) {
  json out = json::array();
  for (const Influence& one : influences)
    out.push_back({{"key", one.key}, {"rank_correlation", finite_or_null(one.correlation)}});
  return out;
}

json point_json(const ChipRange& range, const BlendPoint& point) {
  json reasons = json::array();
  for (const Miss miss : misses(point, range.aims)) reasons.push_back(miss_in_words(miss));
  const auto from = airs_from(point.course);
  return {{"woodchip_share", finite_or_null(point.share)},
          {"in_buckets", row_buckets(point.share)},
          {"airless_share", finite_or_null(point.course.airless_share)},
          {"airs_from_day", from ? finite_or_null(*from / 86400.0) : json()},
          {"mean_air_in_m3_h", finite_or_null(point.course.mean_air_in)},
          {"base_air_between", finite_or_null(point.base_air_between)},
          {"hottest_c", finite_or_null(point.course.hottest)},
          {"hours_hot", finite_or_null(point.course.hours_hot)},
          {"moisture_at_end", finite_or_null(point.course.moisture_at_end)},
          {"height_at_end_m", finite_or_null(point.course.height_at_end)},
          {"works", reasons.empty()},
          {"works_in", range.works_at(point.share)},
          {"misses", reasons}};
}

}  // namespace

std::string blend_table(const ChipRange& range) {
  std::vector<std::vector<std::string>> lines{{"chips", "in buckets", "has its air from", "hours without",
                                               "open pores at the base", "hottest", "hours above 55 °C",
                                               "water at the end", "works in beds", ""}};
  for (const BlendPoint& point : range.points) {
    const Course& course = point.course;
    const int all = static_cast<int>(range.beds.size());
    lines.push_back(
        {percent(point.share), row_buckets(point.share), air_from(course), percent(course.airless_share),
         percent(point.base_air_between), rounded_temperature(course.hottest), rounded(course.hours_hot),
         percent(course.moisture_at_end), all == 0 ? "-" : how_many(range.works_at(point.share), all),
         works_or_not(point, range.aims)});
    if (range.marked && range.marked->share == point.share)
      lines.back().back() += " (" + range.marked->words + ")";
  }
  return text_table(lines);
}

json to_json(const ChipRange& range) {
  json points = json::array();
  for (const BlendPoint& point : range.points) points.push_back(point_json(range, point));
  json beds = json::array();
  for (const ChipTips& bed : range.beds) {
    beds.push_back(tips_json(bed));
    beds.back()["number"] = bed.number;
  }
  return {{"points", points},
          {"days", finite_or_null(range.days)},
          {"aims",
           {{"air_within_days", finite_or_null(range.aims.air_within / 86400.0)},
            {"hours_hot", range.aims.hours_hot},
            {"moisture_at_end", range.aims.moisture},
            {"woodchip_share_at_most", range.aims.most}}},
          {"range", tips_json(range.asked)},
          {"least_likely", band_json(range.least)},
          {"most_likely", band_json(range.most)},
          {"plausible_beds", beds},
          {"beds_with_a_share_that_works", range.beds_that_can_work()},
          {"influences", influences_json(range.influences)},
          {"marked", marked_json(range.marked)},
          {"surest_share", range.works_in > 0 ? finite_or_null(range.best) : json()},
          {"surest_works_in", range.works_in},
          {"verdict", range.verdict}};
}

}  // namespace updraught
