#include "post/result/tried_beds.h"

#include <gsl/gsl_statistics_double.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace updraught {

namespace {

/// Beds from which ranks begin to say anything; our choice.
constexpr std::size_t least_beds = 8;

bool all_alike(const std::vector<double>& values) {
  return std::adjacent_find(values.begin(), values.end(), std::not_equal_to<>()) == values.end();
}

}  // namespace

const TriedBed* bed_of(const TriedBeds& tried, int number) {
  const auto found = std::find_if(tried.beds.begin(), tried.beds.end(),
                                  [number](const TriedBed& bed) { return bed.number == number; });
  return found == tried.beds.end() ? nullptr : &*found;
}

double quantile(std::vector<double> values, double share) {
  if (values.empty()) throw std::invalid_argument("no values have no quantile");
  std::sort(values.begin(), values.end());
  const double place = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const double part = place - static_cast<double>(below);
  // Between a number and infinity there is no straight line: the nearer one.
  if (part <= 0.0 || below + 1 == values.size()) return values[below];
  const double low = values[below], high = values[below + 1];
  if (!std::isfinite(low) || !std::isfinite(high)) return part < 0.5 ? low : high;
  return low + part * (high - low);
}

Band band_of(const std::vector<double>& values) {
  return {quantile(values, band_low), quantile(values, band_high)};
}

std::vector<Influence> influences(const TriedBeds& tried, const std::vector<double>& values) {
  if (values.size() != tried.beds.size()) throw std::invalid_argument("a measure has one value for each bed");
  if (values.size() < least_beds || all_alike(values)) return {};
  std::vector<Influence> out;
  std::vector<double> work(2 * values.size());
  for (std::size_t input = 0; input < tried.inputs.size(); ++input) {
    std::vector<double> shares;
    for (const TriedBed& bed : tried.beds) shares.push_back(bed.point.at(input));
    if (all_alike(shares)) continue;
    out.push_back({tried.inputs[input],
                   gsl_stats_spearman(shares.data(), 1, values.data(), 1, values.size(), work.data())});
  }
  std::stable_sort(out.begin(), out.end(), [](const Influence& a, const Influence& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
  return out;
}

}  // namespace updraught
