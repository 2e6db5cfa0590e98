// The question, how long, and what is computed at all: question, days, until, settles, microbes, diffusion,
// outputs.
#include <algorithm>

#include "cases/reader/keys/keys.h"
#include "cases/reader/parts/parsed_case.h"

namespace updraught {

namespace {

constexpr double day = 86400.0;

/// true, false, or a table of constants.
void read_microbes(const Table& top, Problem& problem) {
  const auto value = top.value("microbes");
  if (!value) return;
  if (value->is_flag()) {
    problem.microbes_live = value->flag().value_or(true);
    return;
  }
  const auto table = value->table();
  if (!table) return;
  table->allow();
  MicrobeConstants& into = problem.microbes;
  into.growth = table->quantity_or(into.growth, "growth");
  into.oxygen_half = table->quantity_or(into.oxygen_half, "oxygen_half");
  into.heat_per_oxygen = table->quantity_or(into.heat_per_oxygen, "heat");
  into.respiratory_quotient = table->quantity_or(into.respiratory_quotient, "quotient");
  into.rim = table->quantity_or(into.rim, "rim");
  into.respirometer_moisture = table->quantity_or(into.respirometer_moisture, "best_moisture");
  into.product_of_responses = table->word("responses").value_or("product") == "product";
}

void read_diffusion(const Table& top, Problem& problem) {
  const auto word = top.word("diffusion");
  if (!word) return;
  // The words stand in the order of the laws.
  const auto& laws = find_rule(top_keys(), "diffusion")->words;
  problem.diffusion = static_cast<DiffusionLaw>(std::find(laws.begin(), laws.end(), *word) - laws.begin());
}

void read_duration(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  const double days = top.quantity_or(14.0, "days");
  problem.duration = day * days;
  problem.until_settled = top.word("until").has_value();
  problem.picture_every = top.quantity_or(day, "pictures_every");
}

/// Each day within the duration, and once. Where another duration was laid over the case, what comes after it
/// is left out.
void read_turnings(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  for (const Value& value : top.list("turned_on")) {
    const auto days = value.quantity();
    if (!days) continue;
    const Event turning{Event::Kind::turn, day * *days};
    const bool too_late = turning.time >= problem.duration;
    if (too_late && top.laid_over("days")) continue;
    if (too_late)
      value.report("The bed would be turned when all is over.",
                   "Write a day before the last, or a longer `days`.");
    const auto same = [&](const Event& other) { return other.time == turning.time; };
    if (std::any_of(problem.events.begin(), problem.events.end(), same))
      value.report("This day stands in the list already.", "Keep it once.");
    problem.events.push_back(turning);
  }
}

/// What the laws of a mixture are moved by, since their constants are known within ranges only.
void read_laws(const Table& top, ParsedCase& parsed_case) {
  const auto laws = top.table("laws");
  if (!laws) return;
  laws->allow();
  LawFactors& into = parsed_case.problem.laws;
  into.packing_excess_shift = laws->quantity_or(into.packing_excess_shift, "packing_excess_shift");
  parsed_case.packing_laid = laws->laid_over("packing_excess_shift");
  into.ergun_factor = laws->quantity_or(into.ergun_factor, "ergun_factor");
  into.uptake_factor = laws->quantity_or(into.uptake_factor, "uptake_factor");
}

}  // namespace

void read_longest_step(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  const Surroundings& outside = problem.outside;
  // A day's wave needs its own dozen steps; otherwise the bed alone decides.
  const bool varies = outside.daily_swing != 0.0 || !outside.table_time.empty();
  const double usual = varies ? 7200.0 : 14400.0;
  problem.longest_step = top.quantity_or(usual, "longest_step");
}

void read_control(const Table& top, ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  problem.title = top.text("question").value_or("");
  problem.design = top.text("design").value_or("");
  problem.told_day = top.quantity_or(0.0, "told_day");
  read_duration(top, parsed_case);
  read_turnings(top, parsed_case);
  read_laws(top, parsed_case);
  read_microbes(top, problem);
  read_diffusion(top, problem);
  problem.settles = top.flag_or(true, "settles");
  problem.hold_temperature = top.quantity("hold_temperature");
}

}  // namespace updraught
