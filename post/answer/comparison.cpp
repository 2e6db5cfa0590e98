#include "post/answer/comparison.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

namespace updraught {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

FigureRow row_of(const KeyFigure& figure, const std::vector<ComparedCase>& cases) {
  FigureRow row{figure, {}, {}};
  for (const ComparedCase& one : cases) {
    std::vector<double> values;
    for (const TriedBed& bed : one.tried.beds) values.push_back(figure.value(bed.course));
    row.values.push_back({figure.value(one.asked), band_of(values)});
    row.pairs.push_back(paired(one.tried, cases.front().tried, figure));
  }
  row.pairs.front() = {};
  return row;
}

double least_chips(const ChipTips& tips) {
  return tips.least.value_or(never);
}

/// The tips of one bed in two designs; infinite differences where only one has any.
std::vector<double> differences_in_chips(const ComparedCase& one, const ComparedCase& first) {
  std::vector<double> out;
  for (const ChipTips& tips : one.tips) {
    if (tips.number == 0) continue;
    const auto other = std::find_if(first.tips.begin(), first.tips.end(),
                                    [&](const ChipTips& its) { return its.number == tips.number; });
    if (other == first.tips.end()) continue;
    const double here = least_chips(tips), there = least_chips(*other);
    out.push_back(here == there ? 0.0 : here - there);
  }
  return out;
}

std::optional<ChipsRow> chips_row(const std::vector<ComparedCase>& cases) {
  ChipsRow row;
  for (const ComparedCase& one : cases) {
    std::vector<double> values;
    double asked = never;
    for (const ChipTips& tips : one.tips) {
      if (tips.number == 0)
        asked = least_chips(tips);
      else
        values.push_back(least_chips(tips));
    }
    if (values.empty()) return {};
    row.values.push_back({asked, band_of(values)});
    const std::vector<double> apart = differences_in_chips(one, cases.front());
    row.pairs.push_back(paired(apart, std::vector<double>(apart.size(), TipAims{}.fine)));
  }
  row.pairs.front() = {};
  return row;
}

/// 1 or -1: the first is warmer or colder by its mean or by the hours for which it is hot, clearly by one and
/// not more often the other way by the other; 0: neither, for one of them alone is no reason to take it.
int warmer(const Standing& s) {
  const int mean = s.warmth.above - s.warmth.below, hours = s.hot.above - s.hot.below;
  const auto clearly = [](const Paired& p) { return int(p.clearly_above()) - int(p.clearly_below()); };
  if (clearly(s.warmth) * hours < 0 || clearly(s.hot) * mean < 0) return 0;
  return clearly(s.warmth) != 0 ? clearly(s.warmth) : clearly(s.hot);
}

/// Air decides, and where both have it alike, warmth; against each other they are told as they are, and the
/// warmer one is taken where it is clearly hot for longer too.
Standing standing(const ComparedCase& one, const ComparedCase& other) {
  const KeyFigure& airless = key_figure("airless_share");
  const KeyFigure& warmth = key_figure("mean_temperature_c");
  const KeyFigure& hours = key_figure("hours_hot");
  Standing out;
  out.air = paired(one.tried, other.tried, airless);
  out.warmth = paired(one.tried, other.tried, warmth);
  out.hot = paired(one.tried, other.tried, hours);
  const int air = clearly_better(out.air, airless);
  const int warm = clearly_better(out.warmth, warmth);
  out.split = air * warm < 0;
  if (out.split)
    out.better = clearly_better(out.hot, hours) == warm ? warm : air;
  else
    out.better = air != 0 ? air : warmer(out);
  return out;
}

double typical_airless(const ComparedCase& one) {
  std::vector<double> values;
  for (const TriedBed& bed : one.tried.beds) values.push_back(bed.course.airless_share);
  return quantile(values, 0.5);
}

std::vector<std::size_t> ranked(const std::vector<ComparedCase>& cases,
                                const std::vector<std::vector<Standing>>& standings) {
  std::vector<std::size_t> order(cases.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto wins = [&](std::size_t one) {
    return std::accumulate(standings[one].begin(), standings[one].end(), 0,
                           [](int sum, const Standing& against) { return sum + against.better; });
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if (wins(a) != wins(b)) return wins(a) > wins(b);
    return typical_airless(cases[a]) < typical_airless(cases[b]);
  });
  return order;
}

}  // namespace

Comparison compare(const std::vector<ComparedCase>& cases) {
  if (cases.size() < 2) throw std::invalid_argument("a comparison needs two cases or more");
  Comparison out;
  out.seed = cases.front().tried.seed;
  for (const ComparedCase& one : cases) {
    if (one.tried.beds.empty()) throw std::invalid_argument("a design without plausible beds");
    out.names.push_back(one.name);
  }
  for (const KeyFigure& figure : key_figures()) out.rows.push_back(row_of(figure, cases));
  out.chips = chips_row(cases);
  for (const ComparedCase& one : cases) {
    auto& against = out.standings.emplace_back();
    for (const ComparedCase& other : cases)
      against.push_back(&one == &other ? Standing{} : standing(one, other));
  }
  out.order = ranked(cases, out.standings);
  out.verdict = choice_in_words(out, cases);
  return out;
}

}  // namespace updraught
