#include "post/answer/comparison.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "post/words/words.h"

namespace updraught {

namespace {

struct Measure {
  std::string key;
  std::string label;
  std::string unit;
  double counts;  // smallest difference that counts
  bool relative;  // `counts` is a share of the larger value
  double Day::*value;
};

// Two points of aired bed are the job's own threshold. The others are our choice: temperatures are not known
// finer than 5 degC, air within a tenth, heights within a finger's breadth.
const std::vector<Measure>& measures() {
  static const std::vector<Measure> all{
      {"aired_share", "bed with enough air", "%", 0.02, false, &Day::aired_share},
      {"well_aired_share", "bed with plenty of air", "%", 0.02, false, &Day::well_aired_share},
      {"air_in_m3_h", "air that enters", "L/min", 0.1, true, &Day::air_in},
      {"hottest_c", "hottest part", "°C", 5.0, false, &Day::hottest},
      {"mean_temperature_c", "mean temperature", "°C", 5.0, false, &Day::mean_temperature},
      {"height_m", "height of the bed", "cm", 0.01, false, &Day::height},
      {"oxygen_uptake_g_h", "oxygen used", "g/h", 0.1, true, &Day::oxygen_uptake}};
  return all;
}

std::array<double, 3> in_each(const ThreeSettings& quick, double day, double Day::*value) {
  return {day_at(quick.adverse, day).*value, day_at(quick.middle, day).*value,
          day_at(quick.favourable, day).*value};
}

std::array<double, 3> less(const std::array<double, 3>& a, const std::array<double, 3>& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}

MeasureRow row_of(const Measure& measure, const std::vector<ComparedCase>& cases, double day) {
  MeasureRow row{measure.key, measure.label, measure.unit, measure.counts, {}, {}};
  for (const ComparedCase& one : cases) {
    const Day& here = day_at(one.asked, day);
    const double value = here.*measure.value;
    const auto quick = in_each(one.quick, day, measure.value);
    row.values.push_back({value, kept_possible(measure.key, laid_on(value, quick[0], quick[1], quick[2]))});
    const double first = row.values.front().value;
    const double scale = measure.relative ? std::max(std::abs(first), std::abs(value)) : 1.0;
    const auto apart = less(quick, in_each(cases.front().quick, day, measure.value));
    row.differences.push_back(difference(value - first, apart, measure.counts * scale));
  }
  return row;
}

bool all_computed(const std::vector<ComparedCase>& cases, ThreeSettings ComparedCase::*quick) {
  return std::all_of(cases.begin(), cases.end(), [quick](const ComparedCase& one) {
    const ThreeSettings& each = one.*quick;
    return !each.adverse.days.empty() && !each.middle.days.empty() && !each.favourable.days.empty();
  });
}

GapRow gap_row(double gap, const std::vector<ComparedCase>& cases, ThreeSettings ComparedCase::*quick,
               double day) {
  GapRow row;
  row.gap = gap;
  for (const ComparedCase& one : cases) {
    const auto here = in_each(one.*quick, day, &Day::aired_share);
    row.values.push_back({here[1], Band{*std::min_element(here.begin(), here.end()),
                                        *std::max_element(here.begin(), here.end())}});
    const auto apart = less(here, in_each(cases.front().*quick, day, &Day::aired_share));
    row.differences.push_back(difference(apart[1], apart, 0.02));
  }
  return row;
}

// Where a difference is not clear but neither the asked results nor any setting turns it: who is ahead, and
// where. Empty where they disagree or none of the settings parts the two.
std::string never_against(const Difference& apart, double counts, const std::string& first,
                          const std::string& other) {
  const auto [lowest, highest] = std::minmax_element(apart.by_setting.begin(), apart.by_setting.end());
  const bool other_leads = std::min(apart.value, *lowest) >= -counts && *highest > counts;
  const bool first_leads = std::max(apart.value, *highest) <= counts && *lowest < -counts;
  if (!other_leads && !first_leads) return "";
  const std::array<const char*, 3> waste{"waste that packs tight and breathes hard", "waste in between",
                                         "waste that packs loose and breathes little"};
  const std::array<const char*, 3> how_many{"one of three", "two of three", "all three"};
  std::string names;
  std::size_t ahead = 0;
  for (std::size_t setting = 0; setting < 3; ++setting) {
    if (std::abs(apart.by_setting[setting]) <= counts) continue;
    names += (ahead++ > 0 ? "; " : "") + std::string(waste[setting]);
  }
  return ", but in no setting of the uncertain inputs does " + (other_leads ? first : other) +
         " air more; in " + how_many[ahead - 1] + " (" + names + ") " + (other_leads ? other : first) +
         " airs more";
}

std::string clear_or_not(const Difference& apart, double counts, const std::string& first,
                         const std::string& other) {
  if (apart.clear) return "the difference is larger than the uncertainty";
  return "no clear difference" + never_against(apart, counts, first, other);
}

std::string pair_in_words(const std::vector<std::string>& names, const MeasureRow& row, std::size_t other) {
  const RangedValue& one = row.values[0];
  const RangedValue& two = row.values[other];
  return names[0] + " airs " + percent_with_band(one.value, one.band) + " of its bed, " + names[other] + " " +
         percent_with_band(two.value, two.band) + "; " +
         clear_or_not(row.differences[other], row.counts, names[0], names[other]);
}

// Which of two answers a difference gives: one way, the other way, or none.
int answer(const Difference& difference) {
  return !difference.clear ? 0 : difference.value > 0.0 ? 1 : -1;
}

std::string gap_sentence(const Comparison& comparison, std::size_t other) {
  std::string text = "In quick detail, " + comparison.names[0] + " against " + comparison.names[other] + ": ";
  std::vector<std::string> parts;
  for (const GapRow& row : comparison.gaps) {
    const std::string gap = row.gap > 0.0
                                ? "with a gap of " + plain_number(1000.0 * row.gap) + " mm at the wall "
                                : std::string("with the bed tight against the wall ");
    parts.push_back(gap + percent(row.values[0].value) + " against " + percent(row.values[other].value) +
                    ", " + (row.differences[other].clear ? "clear" : "no clear difference"));
  }
  if (parts.empty()) return "";
  text += parts.front();
  if (parts.size() > 1) text += "; " + parts.back();
  if (answer(comparison.gaps.front().differences[other]) !=
      answer(comparison.gaps.back().differences[other])) {
    text += "; so the answer hangs on the gap at the wall";
  }
  return text + ".";
}

std::vector<std::string> sentences(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  std::vector<std::string> out;
  const MeasureRow& aired = comparison.rows.front();
  for (std::size_t other = 1; other < cases.size(); ++other) {
    out.push_back("On " + day_name(comparison.day) + ", " + pair_in_words(comparison.names, aired, other) +
                  ".");
    const std::string gaps = gap_sentence(comparison, other);
    if (!gaps.empty()) out.push_back(gaps);
  }
  for (std::size_t i = 0; i < cases.size(); ++i) {
    if (!cases[i].air_paths.empty()) out.push_back(comparison.names[i] + ": " + cases[i].air_paths);
  }
  return out;
}

}  // namespace

Difference difference(double asked, const std::array<double, 3>& by_setting, double counts) {
  Difference out;
  out.value = asked;
  out.band = laid_on(asked, by_setting[0], by_setting[1], by_setting[2]);
  out.by_setting = settings_behind(asked, by_setting[0], by_setting[1], by_setting[2]);
  const auto [least_behind, most_behind] = std::minmax_element(out.by_setting.begin(), out.by_setting.end());
  const double least = std::min(asked, *least_behind), most = std::max(asked, *most_behind);
  out.clear = least > counts || most < -counts;
  return out;
}

Comparison compare(const std::vector<ComparedCase>& cases) {
  if (cases.size() < 2) throw std::invalid_argument("a comparison needs two cases or more");
  Comparison out;
  out.day = headline_day(cases.front().asked);
  for (const ComparedCase& one : cases) {
    out.day = std::min(out.day, headline_day(one.asked));
    out.names.push_back(one.asked.name);
  }
  for (const Measure& measure : measures()) out.rows.push_back(row_of(measure, cases, out.day));
  for (const auto& [gap, quick] :
       {std::pair(0.0, &ComparedCase::quick_no_gap), std::pair(compared_gap, &ComparedCase::quick_with_gap)})
    if (all_computed(cases, quick)) out.gaps.push_back(gap_row(gap, cases, quick, out.day));
  out.verdict = sentences(out, cases);
  return out;
}

}  // namespace updraught
