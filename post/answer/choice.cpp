// Which design to take, in words; declared in comparison.h.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "post/answer/comparison.h"
#include "post/answer/figure_words.h"
#include "post/words/odds.h"
#include "post/words/words.h"

namespace updraught {

namespace {

bool clearly_more_air(const Standing& s) {
  return s.air.clearly_below();
}

/// Why the first is taken before the second.
std::string reason(const Standing& s, const std::string& other) {
  if (s.split && !clearly_more_air(s))
    return fmt::format(
        "it is hot for longer: {} plausible beds it is warmer than {}, though {} it has less air",
        odds(s.warmth.above, s.warmth.pairs), other, odds(s.air.above, s.air.pairs));
  if (s.split)
    return fmt::format("{} plausible beds it has more air than {}, which is warmer {}",
                       odds(s.air.below, s.air.pairs), other, odds(s.warmth.below, s.warmth.pairs));
  if (clearly_more_air(s))
    return fmt::format("{} plausible beds it has more air than {}, less {}", odds(s.air.below, s.air.pairs),
                       other, odds(s.air.above, s.air.pairs));
  if (s.warmth.clearly_above())
    return fmt::format("{} plausible beds it is warmer than {}, colder {}",
                       odds(s.warmth.above, s.warmth.pairs), other, odds(s.warmth.below, s.warmth.pairs));
  return fmt::format("{} plausible beds it is hot for longer than {}, for less long {}",
                     odds(s.hot.above, s.hot.pairs), other, odds(s.hot.below, s.hot.pairs));
}

/// Plausible beds that live and keep their air; a cold one has air, whatever the openings do.
int keeping_air(const ComparedCase& one) {
  return static_cast<int>(std::count_if(
      one.tried.beds.begin(), one.tried.beds.end(),
      [](const TriedBed& bed) { return bed.course.going && keeps_air(bed.course, TipAims{}); }));
}

/// How a person would find out, from the input that turns the difference most.
std::string what_would_decide(const ComparedCase& one, const ComparedCase& other) {
  TriedBeds pairs{one.tried.seed, one.tried.inputs, {}};
  std::vector<double> apart;
  for (const TriedBed& bed : one.tried.beds) {
    const TriedBed* its = bed_of(other.tried, bed.number);
    if (its == nullptr) continue;
    pairs.beds.push_back(bed);
    apart.push_back(bed.course.airless_share - its->course.airless_share);
  }
  const std::vector<Influence> strongest = influences(pairs, apart);
  const std::string chips = "another share of chips";
  if (strongest.empty()) return "What would decide: " + chips + ".";
  const auto input = std::find_if(one.inputs.begin(), one.inputs.end(),
                                  [&](const UncertainInput& i) { return i.key == strongest.front().key; });
  if (input == one.inputs.end() || input->test.empty()) return "What would decide: " + chips + ".";
  return fmt::format("What would decide: {} ({}), or {}.", input->words, input->test, chips);
}

/// What is wrong with a bed as it was asked for; empty: it gets going and keeps its air from day 3 on.
std::string trouble(const Course& asked) {
  if (!asked.going)
    return fmt::format("the bed does not get going within {} days",
                       plain_number(to_digits(asked.duration / 86400.0, 2)));
  if (keeps_air(asked, TipAims{})) return "";
  return fmt::format("the bed lacks air in {} of its hours", percent(asked.airless_share));
}

/// That none of the cases works as it was asked for, and why; empty where one does, and where too few days
/// were asked for to tell.
std::string none_works(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  std::vector<std::string> parts;
  std::set<std::string> troubles;
  for (const std::size_t n : comparison.order) {
    const std::string its = trouble(cases[n].asked);
    if (its.empty() || cases[n].asked.duration < TipAims{}.air_within) return "";
    troubles.insert(its);
    parts.push_back(fmt::format("with {} {}", cases[n].name, its));
  }
  if (troubles.size() > 1 && cases.size() > 2)
    return "None works as it is: each lacks air or does not get going. ";
  return fmt::format("{} works as it is: {}. ", cases.size() == 2 ? "Neither" : "None",
                     troubles.size() == 1 ? *troubles.begin() : listed(parts));
}

/// Whether at least eight of ten plausible beds do; our choice.
bool surely_has_air(const ComparedCase& one) {
  const int all = static_cast<int>(one.tried.beds.size());
  return all >= fewest_pairs && 10 * keeping_air(one) >= 8 * all;
}

/// "warmer: one in 6 of 10, other in 1 of 10".
std::string each(const std::string& what, const ComparedCase& a, const ComparedCase& b, int for_a, int for_b,
                 int pairs) {
  return fmt::format("{}: {} {}, {} {}", what, a.name, odds(for_a, pairs), b.name, odds(for_b, pairs));
}

/// Why neither of two is taken: the pairs of each figure that speaks for one or the other.
std::vector<std::string> weighed(const Standing& s, const ComparedCase& a, const ComparedCase& b) {
  // As rounded to tenths, so that the counts that are told leave room for them.
  const bool some_alike = 10 * (s.air.pairs - s.air.below - s.air.above) >= s.air.pairs;
  const bool warmer = s.warmth.clearly_above() || s.warmth.clearly_below();
  const bool longer = s.hot.clearly_above() || s.hot.clearly_below();
  std::vector<std::string> out;
  out.push_back(each("more air", a, b, s.air.below, s.air.above, s.air.pairs) +
                (some_alike ? "; else they hardly differ" : ""));
  out.push_back(each(warmer || longer ? "warmer on average" : "warmer", a, b, s.warmth.above, s.warmth.below,
                     s.warmth.pairs));
  if (warmer || longer) out.push_back(each("hot for longer", a, b, s.hot.above, s.hot.below, s.hot.pairs));
  return out;
}

/// The same as sentences.
std::string in_sentences(const std::vector<std::string>& figures) {
  std::vector<std::string> sentences;
  sentences.reserve(figures.size());
  for (const std::string& figure : figures) sentences.push_back(capitalised(figure) + ".");
  return fmt::format("{}", fmt::join(sentences, " "));
}

/// Two of them, the one that stands first before the other.
struct FirstTwo {
  const ComparedCase& a;
  const ComparedCase& b;
  const Standing& standing;
};

FirstTwo first_two(const Comparison& comparison, const std::vector<ComparedCase>& cases,
                   const std::vector<std::size_t>& order) {
  return {cases[order[0]], cases[order[1]], comparison.standings[order[0]][order[1]]};
}

/// The designs that each by itself may be taken, in order, none of which is clearly better than another.
std::vector<std::size_t> all_that_do(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  std::vector<std::size_t> taken;
  for (const std::size_t one : comparison.order) {
    const bool alike = std::all_of(taken.begin(), taken.end(), [&](std::size_t other) {
      return comparison.standings[one][other].better == 0;
    });
    if (alike && surely_has_air(cases[one])) taken.push_back(one);
  }
  return taken;
}

std::string not_clear(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  const FirstTwo two = first_two(comparison, cases, comparison.order);
  if (const auto taken = all_that_do(comparison, cases); taken.size() >= 2) {
    std::vector<std::string> names;
    names.reserve(taken.size());
    for (const std::size_t one : taken) names.push_back(cases[one].name);
    const bool two_names = names.size() == 2;
    return fmt::format(
        "Take {}{}: each gets going, most of the bed with air from day 3 on, in at least 8 of 10 plausible "
        "beds; {} is clearly better.",
        two_names ? "either " : "", either_of(names), two_names ? "neither" : "none");
  }
  const std::string more = in_sentences(weighed(two.standing, two.a, two.b));
  const std::string head = none_works(comparison, cases);
  if (two.standing.air.pairs < fewest_pairs)
    return fmt::format(
        "{}Too few plausible beds to choose between {} and {}: {} were computed, at least {} are needed. {}",
        head, two.a.name, two.b.name, two.standing.air.pairs, fewest_pairs, more);
  return fmt::format("{}No clear difference between {} and {} in plausible beds. {} {}", head, two.a.name,
                     two.b.name, more, what_would_decide(two.a, two.b));
}

/// Whether none of these is clearly better than another.
bool level(const Comparison& comparison, const std::vector<std::size_t>& designs) {
  for (const std::size_t one : designs)
    for (const std::size_t other : designs)
      if (comparison.standings[one][other].better != 0) return false;
  return true;
}

std::string choice(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  const std::size_t best = comparison.order.front();
  std::vector<std::string> reasons, names{cases[best].name};
  std::vector<std::size_t> first{best};
  for (std::size_t n = 1; n < comparison.order.size(); ++n) {
    const std::size_t other = comparison.order[n];
    const Standing& s = comparison.standings[best][other];
    if (s.better > 0) {
      reasons.push_back(reason(s, cases[other].name));
    } else {
      first.push_back(other);
      names.push_back(cases[other].name);
    }
  }
  if (reasons.empty()) return not_clear(comparison, cases);
  std::string why = reasons.front();
  for (std::size_t n = 1; n < reasons.size(); ++n) why += "; " + reasons[n];
  const std::string head = none_works(comparison, cases);
  if (first.size() == 1) return fmt::format("{}Take {}: {}.", head, names.front(), why);
  if (level(comparison, first))
    return fmt::format("{}Take {}: no clear difference between them. {}: {}.", head, either_of(names),
                       capitalised(names.front()), why);
  names.erase(names.begin());
  return fmt::format("{}Take {}: {}. No clear difference to {}.", head, cases[best].name, why, listed(names));
}

std::string fact(const std::string& head, const Comparison& comparison, const std::string& key) {
  const auto row = std::find_if(comparison.rows.begin(), comparison.rows.end(),
                                [&](const FigureRow& r) { return r.figure.key == key; });
  std::vector<std::string> parts;
  for (const std::size_t n : comparison.order)
    parts.push_back(comparison.names[n] + " " +
                    with_likely(row->figure, row->values[n].value, row->values[n].band));
  return head + ": " + listed(parts) + ".";
}

std::string share_or_more(double share) {
  return std::isinf(share) ? "more than was tried" : percent(share);
}

std::string chips_fact(const Comparison& comparison) {
  const ChipsRow& row = *comparison.chips;
  std::vector<std::string> parts;
  for (const std::size_t n : comparison.order) {
    const RangedValue& value = row.values[n];
    const std::string range = likely(share_or_more(value.band.low), share_or_more(value.band.high));
    parts.push_back(comparison.names[n] + " " + share_or_more(value.value) +
                    (range.empty() ? "" : " (" + range + ")"));
  }
  std::string text = "Chips needed to keep its air, of the buckets: " + listed(parts);
  if (comparison.order.size() == 2) {
    // Each less the first case, wherever that stands in the order.
    const Paired& apart = row.pairs[1];
    const double sign = comparison.order[0] == 0 ? 1.0 : -1.0;
    if (std::isfinite(apart.middle) && std::isfinite(apart.band.low) && std::isfinite(apart.band.high)) {
      const double low = std::min(sign * apart.band.low, sign * apart.band.high);
      const double high = std::max(sign * apart.band.low, sign * apart.band.high);
      text +=
          fmt::format(": {} needs {} points {} (likely {} to {})", comparison.names[comparison.order[1]],
                      rounded(100.0 * std::abs(apart.middle)), sign * apart.middle >= 0.0 ? "more" : "fewer",
                      rounded(100.0 * low), rounded(100.0 * high));
    }
  }
  return text + ".";
}

std::string ranking(const Comparison& comparison) {
  std::string text = "In order: " + comparison.names[comparison.order.front()];
  for (std::size_t n = 1; n < comparison.order.size(); ++n) {
    const Standing& s = comparison.standings[comparison.order[n - 1]][comparison.order[n]];
    text += (s.better > 0 ? "; then " : ", not clearly before ") + comparison.names[comparison.order[n]];
  }
  return text + ".";
}

std::string keep_air_sentence(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  std::vector<std::string> parts;
  for (const std::size_t n : comparison.order)
    parts.push_back(fmt::format("{} {}", cases[n].name,
                                odds(keeping_air(cases[n]), static_cast<int>(cases[n].tried.beds.size()))));
  return "It gets going and most of it has its air from day 3 on at the latest: " + listed(parts) +
         " of the plausible beds.";
}

/// "how windy it is beside the bin: 0 m/s there, 0 to 2 m/s in plausible beds", for each input that a case
/// takes from the very end of its range.
std::vector<std::string> ends_of_ranges(const ComparedCase& one) {
  std::vector<std::string> out;
  for (const UncertainInput& input : one.inputs) {
    if (input.low == input.high || (input.middle != input.low && input.middle != input.high)) continue;
    const std::string unit = input.unit.empty() ? "" : " " + input.unit;
    out.push_back(fmt::format("{}: {:g}{} there, {:g} to {:g}{} in plausible beds", input.words, input.middle,
                              unit, input.low, input.high, unit));
  }
  return out;
}

/// Why what was asked lies outside what is likely: a case at the end of a range, such as in still air.
std::string outside_likely_sentence(const Comparison& comparison, const std::vector<ComparedCase>& cases) {
  const auto row = std::find_if(comparison.rows.begin(), comparison.rows.end(),
                                [](const FigureRow& r) { return r.figure.key == "airless_share"; });
  std::vector<std::string> names, ends;
  for (const std::size_t n : comparison.order) {
    const RangedValue& airless = row->values[n];
    if (airless.value >= airless.band.low && airless.value <= airless.band.high) continue;
    const std::vector<std::string> its = ends_of_ranges(cases[n]);
    if (its.empty()) continue;
    names.push_back(cases[n].name);
    for (const std::string& end : its)
      if (std::find(ends.begin(), ends.end(), end) == ends.end()) ends.push_back(end);
  }
  if (names.empty()) return "";
  return fmt::format(
      "The hours without enough air of {} lie outside what is likely, since what was asked stands at the end "
      "of a range: {}.",
      listed(names), listed(ends));
}

std::string detail_sentence(const std::vector<ComparedCase>& cases) {
  const KeyFigure& airless = key_figure("airless_share");
  std::vector<std::string> parts;
  bool agree = true;
  for (const ComparedCase& one : cases) {
    if (!one.quick) continue;
    const std::string quick = with_unit(airless, airless.value(*one.quick));
    const std::string asked = with_unit(airless, airless.value(one.asked));
    agree = agree && quick == asked;
    parts.push_back(fmt::format("{} {} where the asked detail gives {}", one.name, quick, asked));
  }
  if (parts.empty()) return "";
  if (agree)
    return "Plausible beds are computed in quick detail; of the cases themselves it gives the same hours "
           "without enough air.";
  return "Plausible beds are computed in quick detail, which makes of the hours without enough air: " +
         listed(parts) + ".";
}

}  // namespace

std::vector<std::string> choice_in_words(const Comparison& comparison,
                                         const std::vector<ComparedCase>& cases) {
  std::vector<std::string> out{choice(comparison, cases)};
  out.push_back(fact("Share of the bed's hours without enough air", comparison, "airless_share"));
  out.push_back(fact("Hottest part", comparison, "hottest_c"));
  if (comparison.chips)
    out.push_back(chips_fact(comparison));
  else
    out.push_back(fact("Hours above 55 °C of the hottest part", comparison, "hours_hot"));
  if (const auto taken = all_that_do(comparison, cases);
      taken.size() >= 2 && taken.front() == comparison.order.front()) {
    const FirstTwo two = first_two(comparison, cases, taken);
    out.push_back(in_sentences(weighed(two.standing, two.a, two.b)));
  }
  if (cases.size() > 2) out.push_back(ranking(comparison));
  out.push_back(keep_air_sentence(comparison, cases));
  for (const ComparedCase& one : cases)
    if (!one.air_paths.empty()) out.push_back(capitalised(one.name) + ": " + one.air_paths);
  for (const std::string& sentence : {outside_likely_sentence(comparison, cases), detail_sentence(cases)})
    if (!sentence.empty()) out.push_back(sentence);
  return out;
}

}  // namespace updraught
