// The range of chips in sentences; declared in chip_range.h.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "post/answer/chip_range.h"
#include "post/words/odds.h"
#include "post/words/words.h"

namespace updraught {

namespace {

/// Buckets for a share within a stretch that works: never rounded to one that does not.
std::string buckets(double share, double least, double most) {
  return in_buckets_within(share, least, most);
}

const BlendPoint* nearest_outside(const ChipRange& range, double share, bool below) {
  const BlendPoint* nearest = nullptr;
  for (const BlendPoint& point : range.points) {
    if (below ? point.share >= share : point.share <= share) continue;
    if (misses(point, range.aims).empty()) continue;
    if (!nearest || std::abs(point.share - share) < std::abs(nearest->share - share)) nearest = &point;
  }
  return nearest;
}

std::string why(Miss miss, const BlendPoint& there) {
  const std::string where = "at " + percent(there.share) + " ";
  const std::string airless = percent(there.course.airless_share) + " of the bed's hours go without air";
  switch (miss) {
    case Miss::base_closes:
      return "the base closes (" + where + percent(there.base_air_between) + " open pores there, and " +
             airless + ")";
    case Miss::too_little_air:
      return "too little air gets in (" + where + airless + ")";
    case Miss::too_little_warmth:
      return fmt::format(
          "it is not hot for long enough ({}above 55 °C for {} h; the hottest part reaches {})", where,
          rounded(there.course.hours_hot), rounded_temperature(there.course.hottest));
    case Miss::too_dry:
      return "it gets too dry (" + where + percent(there.course.moisture_at_end) + " water at the end)";
    case Miss::full_of_chips:
      return "the bin is full of chips (" + where + percent(1.0 - there.share) + " of the buckets are waste)";
  }
  return "";
}

std::string end_in_words(const ChipRange& range, bool low) {
  const double end = low ? *range.asked.least : *range.asked.most;
  const BlendPoint* outside = nearest_outside(range, end, low);
  if (outside == nullptr)
    return fmt::format("The {} share tried works too ({}).", low ? "lowest" : "highest", percent(end));
  return std::string(low ? "With fewer chips " : "With more chips ") +
         why(misses(*outside, range.aims).front(), *outside) + ".";
}

std::string range_of_end(const std::optional<Band>& band) {
  if (!band || !std::isfinite(band->low) || !std::isfinite(band->high)) return "";
  const std::string range = likely(rounded(100.0 * band->low), percent(band->high));
  return range.empty() ? "" : "; " + range;
}

/// In how many plausible beds the surest share works, and what the others lack.
std::string best_share(const ChipRange& range) {
  const int all = static_cast<int>(range.beds.size());
  if (all == 0) return "";
  if (range.works_in == 0) return "No share that was tried works in any of the plausible beds.";
  const auto short_of_air = [&](const ChipTips& bed) { return !bed.least || *bed.least > range.best + 1e-6; };
  const int airless = static_cast<int>(std::count_if(range.beds.begin(), range.beds.end(), short_of_air));
  std::string text =
      fmt::format("Surest is {} ({}): it works {} plausible beds", percent(range.best),
                  buckets(range.best, range.best - 0.02, range.best + 0.02), odds(range.works_in, all));
  if (range.works_in < all)
    text += fmt::format("; {} it lacks air, {} it is not hot for long enough or dries out",
                        odds(airless, all), odds(all - range.works_in - airless, all));
  return text + ".";
}

/// That beds differ in which share works, and what tells them apart.
std::string what_moves_it(const ChipRange& range) {
  const int all = static_cast<int>(range.beds.size());
  if (all == 0 || range.influences.empty() ||
      std::abs(range.influences.front().correlation) < telling_correlation)
    return "";
  const auto input = std::find_if(range.inputs.begin(), range.inputs.end(), [&](const UncertainInput& one) {
    return one.key == range.influences.front().key;
  });
  if (input == range.inputs.end()) return "";
  return fmt::format(
      "{} plausible beds some share works, though not the same one; what moves it most is {}{}.",
      capitalised(odds(range.beds_that_can_work(), all)), input->words,
      input->test.empty() ? "" : " (" + input->test + ")");
}

std::string mend_for(Miss miss) {
  switch (miss) {
    case Miss::base_closes:
    case Miss::too_little_air:
      return "what may help, not computed: a lower bed, larger openings or a vented base";
    case Miss::too_little_warmth:
      return "what may help, not computed: a larger or better insulated bin, or fresher waste";
    case Miss::too_dry:
      return "what may help, not computed: water, or smaller openings";
    case Miss::full_of_chips:
      return "what may help, not computed: a lower bed or larger openings, so that fewer chips do";
  }
  return "";
}

/// Where least is missed, and what common practice would try.
std::string nearest_miss(const ChipRange& range) {
  const auto best = std::min_element(
      range.points.begin(), range.points.end(), [&](const BlendPoint& a, const BlendPoint& b) {
        const auto of_a = misses(a, range.aims).size(), of_b = misses(b, range.aims).size();
        return of_a != of_b ? of_a < of_b : a.course.airless_share < b.course.airless_share;
      });
  std::string text =
      "No share of chips that was tried works. Nearest to it comes " + percent(best->share) + ", but ";
  std::vector<std::string> reasons;
  const std::vector<Miss> missed = misses(*best, range.aims);
  for (const Miss miss : missed) reasons.push_back(why(miss, *best));
  if (missed.empty()) return "No single share of chips works for sure.";
  return text + listed(reasons) + "; " + mend_for(missed.front()) + ".";
}

}  // namespace

std::string aims_in_words(const TipAims& aims) {
  return fmt::format(
      "A share works where at least half of the bed has enough air from day {} on, the hottest part is above "
      "55 °C for "
      "{:.0f} h in all, at least {} water is left at the end, and no more than {} of the buckets are chips.",
      plain_number(aims.air_within / 86400.0), aims.hours_hot, percent(aims.moisture), percent(aims.most));
}

std::vector<std::string> range_in_words(const ChipRange& range) {
  std::vector<std::string> out;
  if (range.works()) {
    const double low = *range.asked.least, high = *range.asked.most;
    out.push_back(fmt::format("Chips work from {} of the buckets ({}{}) to {} ({}{}).", percent(low),
                              buckets(low, low, std::min(high, low + 0.04)), range_of_end(range.least),
                              percent(high), buckets(high, std::max(low, high - 0.04), high),
                              range_of_end(range.most)));
    out.push_back(best_share(range));
    out.push_back(end_in_words(range, true));
    out.push_back(end_in_words(range, false));
  } else {
    out.push_back(nearest_miss(range));
    out.push_back(best_share(range));
  }
  out.push_back(what_moves_it(range));
  out.push_back(aims_in_words(range.aims));
  std::erase(out, "");
  return out;
}

}  // namespace updraught
