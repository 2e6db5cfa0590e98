#include "cases/run/check_steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "post/words/text_table.h"
#include "post/words/words.h"
#include "solver/run.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;
constexpr double none = std::numeric_limits<double>::quiet_NaN();

RunResult watched_run(Problem problem, double share, const char* what, Progress& progress) {
  problem.step_share = share;
  progress.start(what);
  Observer observer;
  observer.on_step = [&](const Grid&, const State& state, const SeriesRow&) {
    progress.update(state.time() / problem.duration, fmt::format("day {:.1f}", state.time() / seconds_a_day));
  };
  RunResult result = run(problem, observer);
  progress.finish(fmt::format("{} steps", result.steps));
  return result;
}

/// Day from which on half of the bed has enough air again, after it had not; NaN: it never comes to that.
double day_of_striking(const std::vector<SeriesRow>& series) {
  bool wanted = false;
  for (std::size_t n = 1; n < series.size(); ++n) {
    const double before = series[n - 1].aired_share, now = series[n].aired_share;
    wanted = wanted || before < 0.5;
    if (!wanted || now < 0.5 || before >= 0.5) continue;
    const double share = (0.5 - before) / (now - before);
    return (series[n - 1].time + share * (series[n].time - series[n - 1].time)) / seconds_a_day;
  }
  return none;
}

/// Hours without enough air, as a mean over the bed.
double hours_wanting(const std::vector<SeriesRow>& series) {
  double sum = 0.0;
  for (std::size_t n = 1; n < series.size(); ++n)
    sum += (1.0 - 0.5 * (series[n].aired_share + series[n - 1].aired_share)) *
           (series[n].time - series[n - 1].time);
  return sum / 3600.0;
}

double hottest(const std::vector<SeriesRow>& series) {
  return std::max_element(series.begin(), series.end(),
                          [](const SeriesRow& a, const SeriesRow& b) { return a.hottest < b.hottest; })
      ->hottest;
}

double lost(const std::vector<SeriesRow>& series) {
  return series.front().dry_mass > 0.0
             ? 100.0 * (series.front().dry_mass - series.back().dry_mass) / series.front().dry_mass
             : 0.0;
}

bool stands_still(const StepMeasure& m) {
  if (std::isnan(m.usual) || std::isnan(m.halved)) return std::isnan(m.usual) && std::isnan(m.halved);
  return std::abs(m.usual - m.halved) <= m.counts;
}

std::string told(double value) {
  return std::isnan(value) ? "does not happen" : fmt::format("{:.2f}", value);
}

}  // namespace

bool StepsChecked::stands() const {
  return std::all_of(measures.begin(), measures.end(), stands_still);
}

StepsChecked check_steps(const ReadCase& read, Progress& progress) {
  const RunResult usual = watched_run(read.problem, 1.0, "as it is", progress);
  const RunResult halved = watched_run(read.problem, 0.5, "with steps half as long", progress);
  StepsChecked out{usual.steps, halved.steps, {}};
  const auto add = [&](const char* name, const char* key, const auto& measure, double counts) {
    out.measures.push_back({name, key, measure(usual.series), measure(halved.series), counts});
  };
  const double hours = usual.series.back().time / 3600.0;
  add("day from which half of the bed has air again", "day_of_striking", day_of_striking,
      std::max(0.25, 0.1 * hours / 24.0));
  add("hours without enough air, mean of the bed", "hours_without_air", hours_wanting, 0.03 * hours);
  add("hottest part, °C", "hottest_c", hottest, 1.0);
  add("dry matter lost, %", "dry_mass_lost_percent", lost, 0.5);
  return out;
}

std::string steps_in_words(const StepsChecked& checked) {
  std::vector<std::vector<std::string>> lines{{"", "as it is", "steps half as long", ""}};
  for (const StepMeasure& m : checked.measures)
    lines.push_back({m.name, told(m.usual), told(m.halved), stands_still(m) ? "" : "moves"});
  lines.push_back({"steps in time", std::to_string(checked.steps), std::to_string(checked.halved_steps), ""});
  const std::string answer =
      checked.stands()
          ? "The answer stands when the steps in time are halved."
          : "The answer moves when the steps in time are halved: it lies on an edge. Give the case a shorter "
            "longest_step, or read it as undecided.";
  return answer + "\n\n" + text_table(lines);
}

}  // namespace updraught
