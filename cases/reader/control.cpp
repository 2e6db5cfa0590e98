// The question, how long, and what is computed at all: question, days, until, settles, microbes, diffusion,
// outputs.
#include "cases/reader/draft.h"

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
  table->allow({"growth", "oxygen_half", "heat", "quotient", "rim", "best_moisture", "responses"});
  MicrobeConstants& into = problem.microbes;
  into.growth = table->quantity_or(into.growth, "growth", rate_measure(),
                                   {1e-8, 1e-2, "between 0.001 and 800 per day"});
  into.oxygen_half =
      table->number_or(into.oxygen_half, "oxygen_half", {1e-5, 0.2, "between 0.001 and 20 % oxygen"});
  into.heat_per_oxygen = table->quantity_or(into.heat_per_oxygen, "heat", heat_per_mass_measure(),
                                            {0.0, 3e7, "between 0 and 30 MJ/kg"});
  into.respiratory_quotient =
      table->number_or(into.respiratory_quotient, "quotient", {0.3, 2.0, "between 0.3 and 2"});
  into.rim = table->quantity_or(into.rim, "rim", length_measure(), {1e-5, 0.1, "between 0.01 mm and 10 cm"});
  into.respirometer_moisture =
      table->quantity_or(into.respirometer_moisture, "best_moisture", mass_per_mass_measure(),
                         {0.2, 0.95, "between 20 and 95 %"});
  into.product_of_responses = table->word("responses", {"product", "least"}).value_or("product") == "product";
}

void read_diffusion(const Table& top, Problem& problem) {
  const std::vector<std::string> laws{"Papendick and Campbell 1981", "Millington and Quirk 1960",
                                      "Millington and Quirk 1961", "Penman 1940", "Moldrup 2000"};
  const auto word = top.word("diffusion", laws);
  if (!word) return;
  for (std::size_t law = 0; law < laws.size(); ++law)
    if (laws[law] == *word) problem.diffusion = static_cast<DiffusionLaw>(law);
}

void read_duration(const Table& top, Draft& draft) {
  Problem& problem = draft.problem;
  const double days =
      top.number_or(14.0, "days", {1e-6, 3660.0, "more than 0 and up to 3660 days"}, days_measure());
  problem.duration = day * days;
  problem.until_settled = top.word("until", {"settled"}).has_value();
  problem.picture_every =
      top.quantity_or(day, "pictures_every", time_measure(), {0.01, 4e8, "between 0.01 s and twelve years"});
}

/// What the laws of a mixture are moved by, since their constants are known within ranges only.
void read_laws(const Table& top, Draft& draft) {
  const auto laws = top.table("laws");
  if (!laws) return;
  laws->allow({"packing_excess_shift", "ergun_factor", "uptake_factor"});
  Setting& into = draft.problem.setting;
  into.mixing_offset = laws->number_or(into.mixing_offset, "packing_excess_shift", shift_limits);
  draft.packing_laid = laws->laid_over("packing_excess_shift");
  into.ergun_factor = laws->number_or(into.ergun_factor, "ergun_factor", factor_limits);
  into.uptake_factor = laws->number_or(into.uptake_factor, "uptake_factor", factor_limits);
}

}  // namespace

void read_longest_step(const Table& top, Draft& draft) {
  Problem& problem = draft.problem;
  const Surroundings& outside = problem.outside;
  // A day's wave needs its own dozen steps; otherwise the bed alone decides.
  const bool varies = outside.daily_swing != 0.0 || !outside.table_time.empty();
  const double usual = varies ? 7200.0 : 14400.0;
  problem.longest_step =
      top.quantity_or(usual, "longest_step", time_measure(), {1e-3, 1e7, "between 0.001 s and 100 days"});
}

void read_control(const Table& top, Draft& draft) {
  Problem& problem = draft.problem;
  problem.title = top.text("question").value_or("");
  read_duration(top, draft);
  read_laws(top, draft);
  read_microbes(top, problem);
  read_diffusion(top, problem);
  problem.settles = top.flag_or(true, "settles");
  problem.hold_temperature =
      top.quantity("hold_temperature", temperature_measure(), {0.0, 90.0, "between 0 and 90 degC"});
}

}  // namespace updraught
