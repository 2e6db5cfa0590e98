// The whole run in a few sentences, with what plausible beds say of it; declared in verdict.h.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "post/answer/figure_words.h"
#include "post/answer/verdict.h"
#include "post/result/chip_tips.h"
#include "post/words/odds.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;
// Less than this share of the bed's hours is as good as none.
constexpr double none_of_it = 0.005;

std::string on_day(double seconds) {
  return day_name(to_digits(seconds / seconds_a_day, 2));
}

std::vector<double> values_of(const KeyFigure& figure, const TriedBeds& tried) {
  std::vector<double> out;
  for (const TriedBed& bed : tried.beds) out.push_back(figure.value(bed.course));
  return out;
}

/// "likely day 1.5 to day 3"; empty without plausible beds.
std::string likely_of(const char* key, const TriedBeds& tried) {
  if (tried.beds.empty()) return "";
  const KeyFigure& one = key_figure(key);
  const Band band = band_of(values_of(one, tried));
  if (shown(one, band.low) == shown(one, band.high)) return "";
  const bool whole = std::isinf(band.high) || one.shown_as == ShownAs::day;
  return likely(whole ? with_unit(one, band.low) : shown(one, band.low), with_unit(one, band.high));
}

std::string in_brackets(const std::string& words) {
  return words.empty() ? "" : " (" + words + ")";
}

std::string warmth(const Course& course) {
  if (!course.going)
    return fmt::format("It does not get going within {} days: the hottest part reaches about {:.0f} °C",
                       plain_number(to_digits(course.duration / seconds_a_day, 2)),
                       5.0 * std::round(course.hottest / 5.0));
  const std::string going = fmt::format("It gets going on {} (45 °C)", on_day(*course.going));
  if (!course.hot) return going + ", though never hot (55 °C)";
  return going + fmt::format(" and first gets hot (55 °C) on {}", on_day(*course.hot));
}

/// Follows warmth after a comma. When it is worst is not told: a bed that lies without air for days has no
/// such moment.
std::string air(const Course& course) {
  if (course.airless_share < none_of_it)
    return course.going ? "and never goes short of air"
                        : "and while so little breathes, there is air, whatever the openings do";
  if (!course.lost)
    return std::string("and most of it has enough air (oxygen above 5 %) ") +
           (course.worst_share < 0.5 ? "but for less than a day at a time" : "throughout");
  std::string most = "and most of it is without enough air (oxygen above 5 %) ";
  if (*course.lost > 0.0) most += "from " + on_day(*course.lost) + (course.regained ? " " : " on");
  if (course.regained) most += (*course.lost > 0.0 ? "to " : "until ") + on_day(*course.regained);
  if (*course.lost <= 0.0 && !course.regained) most += "throughout";
  if (course.died) most += ", and again from " + on_day(*course.died) + " on";
  return most;
}

std::string hours_without(const Course& course, const TriedBeds& tried) {
  return fmt::format("{} of the bed's hours go without air in all{}", percent(course.airless_share),
                     in_brackets(likely_of("airless_share", tried)));
}

std::string hours_hot(const Course& course, const TriedBeds& tried) {
  if (!course.hot)
    return "the hottest part reaches " + rounded_temperature(course.hottest) +
           in_brackets(likely_of("hottest_c", tried));
  return fmt::format("the hottest part is above 55 °C for {} h{}", rounded(course.hours_hot),
                     in_brackets(likely_of("hours_hot", tried)));
}

const UncertainInput* input_of(const Findings& findings, const std::string& key) {
  const auto found = std::find_if(findings.inputs.begin(), findings.inputs.end(),
                                  [&](const UncertainInput& input) { return input.key == key; });
  return found == findings.inputs.end() ? nullptr : &*found;
}

/// The figure that differs most between plausible beds, and what it is called in a sentence.
const KeyFigure& telling_figure(const TriedBeds& tried) {
  const KeyFigure& airless = key_figure("airless_share");
  const Band band = band_of(values_of(airless, tried));
  return band.high - band.low > airless.counts ? airless : key_figure("hottest_c");
}

}  // namespace

std::string say_answer(const Findings& findings) {
  if (!findings.course) return "";
  return warmth(*findings.course) + ", " + air(*findings.course) + ".";
}

std::string say_course(const Findings& findings) {
  if (!findings.course) return "";
  const Course& course = *findings.course;
  std::string text = hours_without(course, findings.tried);
  if (course.airless_share >= none_of_it)
    text += fmt::format(", at the worst {} of the bed has enough", percent(course.worst_share));
  return text + "; " + hours_hot(course, findings.tried) + ".";
}

// So that a bed on the edge is told as one.
std::string say_plausible(const Findings& findings) {
  const TriedBeds& tried = findings.tried;
  if (!findings.course || tried.beds.empty()) return "";
  const TipAims aims;
  int airy = 0;
  int hot = 0;
  for (const TriedBed& bed : tried.beds) {
    airy += bed.course.going && keeps_air(bed.course, aims);
    hot += bed.course.hot.has_value();
  }
  const int all = static_cast<int>(tried.beds.size());
  return fmt::format(
      "Of the plausible beds, {} get going (45 °C) and have air in most of the bed from day 3 on at the "
      "latest; "
      "{} get hot (55 °C) somewhere.",
      how_many(airy, all), how_many(hot, all));
}

std::string say_least_sure(const Findings& findings) {
  if (findings.tried.beds.empty()) return "";
  const KeyFigure& moved = telling_figure(findings.tried);
  const std::string what = moved.key == "hottest_c" ? "how hot it gets" : "the hours without air";
  std::vector<std::string> named;
  for (const Influence& one : influences(findings.tried, values_of(moved, findings.tried))) {
    const UncertainInput* input = input_of(findings, one.key);
    if (named.size() == 2 || input == nullptr || std::abs(one.correlation) < telling_correlation) break;
    named.push_back(input->words + in_brackets(input->test));
  }
  if (named.empty()) return "No single uncertain input stands out in what it does to " + what + ".";
  if (named.size() == 1)
    return fmt::format("What moves {} most among all that is uncertain is {}.", what, named[0]);
  return fmt::format("What moves {} most among all that is uncertain is {}, then {}.", what, named[0],
                     named[1]);
}

}  // namespace updraught
