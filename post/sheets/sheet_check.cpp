// The check on a sheet: what was counted, and how exactly.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "post/sheets/sheets.h"

namespace updraught {

namespace {

/// The larger amount. What is no number must not pass for a small one.
double larger(double worst, double error) {
  return std::isfinite(error) ? std::max(worst, std::abs(error)) : std::numeric_limits<double>::infinity();
}

double largest_imbalance(const Balances& b) {
  double worst = 0.0;
  for (const double error : {b.dry_gas, b.oxygen, b.heat, b.water, b.dry_mass}) worst = larger(worst, error);
  return worst;
}

/// "0.08", "1.2": two digits that count, of a small number.
std::string short_number(double value) {
  return std::isfinite(value) ? fmt::format("{:.2g}", value) : "an unknown number of";
}

}  // namespace

std::vector<std::string> check_words(std::span<const Result> results) {
  double worst = 0.0;
  double warmth = 0.0, oxygen = 0.0;  // how far steps ended from where they were predicted to end
  bool banded = false;
  bool rings = false;
  for (const Result& result : results) {
    worst = std::max(worst, largest_imbalance(result.run.balances));
    warmth = larger(warmth, result.run.balances.step_temperature);
    oxygen = larger(oxygen, result.run.balances.step_oxygen);
    banded = banded || !result.bands.empty();
    rings = rings || result.problem.box_as_rings;
  }
  std::vector<std::string> out;
  const double percent = 100.0 * worst;
  const std::string missing = percent < 1e-6            ? "less than 0.000001 %"
                              : !std::isfinite(percent) ? "an unknown part"
                                                        : fmt::format("at most {:.1g} %", percent);
  out.push_back("Air, oxygen, heat, water and dry matter were counted in, out and in store: " + missing +
                " is unaccounted for.");
  out.push_back(fmt::format(
      "From one step in time to the next the bed as a whole was off its course by at most {} °C and "
      "{} % oxygen.",
      short_number(warmth), short_number(100.0 * oxygen)));
  if (banded)
    out.emplace_back("In brackets and shaded: low to high, which 8 of 10 plausible beds keep within.");
  if (rings)
    out.emplace_back(
        "A box is drawn and computed here as a round bin whose middle is as far from cold walls.");
  return out;
}

}  // namespace updraught
