#include "cases/reader/uncertain_inputs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "cases/reader/keys/limits.h"
#include "cases/reader/parsed_case.h"
#include "cases/text/key_path.h"

namespace updraught {

namespace {

using Distribution = UncertainInput::Distribution;

constexpr double temperature_doubt = 3.0;  // K, our choice
constexpr double likely_gap = 0.002;       // m, our choice, as in comparisons
constexpr double likely_wind = 2.0;        // m/s, our choice: a light breeze about a bin

/// One of the three strongest inputs, and which of its ends is the adverse one.
struct StrongInput {
  const char* key;
  bool low_is_adverse;
};
constexpr std::array<StrongInput, 3> strong_inputs{
    {{"laws.packing_excess_shift", true}, {"laws.ergun_factor", true}, {"laws.uptake_factor", false}}};

FactorRange mean_range(const ParsedCase& parsed_case) {
  FactorRange sum{0.0, 0.0, 0.0, 0.0};
  double mass = 0.0;
  for (const ParsedBatch& batch : parsed_case.batches) {
    for (const ParsedPortion& portion : batch.portions) {
      const double kilograms = portion.wet_mass();
      mass += kilograms;
      sum.ergun_low += kilograms * portion.range.ergun_low;
      sum.ergun_high += kilograms * portion.range.ergun_high;
      sum.uptake_low += kilograms * portion.range.uptake_low;
      sum.uptake_high += kilograms * portion.range.uptake_high;
    }
  }
  if (mass <= 0.0) return {};
  return {sum.ergun_low / mass, sum.ergun_high / mass, sum.uptake_low / mass, sum.uptake_high / mass};
}

/// Adds an input whose ends lie within what its key may say.
void add(UncertainInput input, const Limits& limits, std::vector<UncertainInput>& inputs) {
  input.low = std::clamp(input.low, limits.low, input.middle);
  input.high = std::clamp(input.high, input.middle, limits.high);
  inputs.push_back(std::move(input));
}

void add_laws(const ParsedCase& parsed_case, std::vector<UncertainInput>& inputs) {
  const Setting& own = parsed_case.problem.setting;
  const FactorRange range = mean_range(parsed_case);
  const auto add_factor = [&](const StrongInput& strong, double low, double middle, double high) {
    add({strong.key, "", middle * low, middle, middle * high, Distribution::log_triangular,
         "ranges of the feedstocks, by mass"},
        factor_limits, inputs);
  };
  add({strong_inputs[0].key, "", own.mixing_offset - packing_doubt, own.mixing_offset,
       own.mixing_offset + packing_doubt, Distribution::triangular,
       "our choice within the range 0 to 0.6 of m"},
      shift_limits, inputs);
  add_factor(strong_inputs[1], range.ergun_low, own.ergun_factor, range.ergun_high);
  add_factor(strong_inputs[2], range.uptake_low, own.uptake_factor, range.uptake_high);
}

/// One ranged value of a feedstock; what is exact is left out.
void add_feedstock_key(const std::string& what, const LibraryEntry& entry, const char* name, const char* unit,
                       std::vector<UncertainInput>& inputs) {
  const auto found = entry.values.find(name);
  if (found == entry.values.end()) return;
  const auto key = std::find_if(feedstock_keys().begin(), feedstock_keys().end(),
                                [&](const FeedstockKey& one) { return one.name == name; });
  const Ranged& ranged = found->second;
  if (ranged.low == ranged.high) return;
  add({to_text(KeyPath{{"feedstocks"}, {what}, {name}}), unit, ranged.low, ranged.value, ranged.high,
       Distribution::triangular, ranged.source},
      {key->least, key->most, ""}, inputs);
}

/// What the factors on all materials do not carry: water, weight, softness, what lives in it.
void add_feedstock(const ParsedPortion& portion, const ParsedCase& parsed_case, bool activity_given,
                   std::vector<UncertainInput>& inputs) {
  const LibraryEntry* entry = parsed_case.library.find(portion.what);
  if (entry == nullptr || portion.feedstock.moisture >= 1.0) return;
  add_feedstock_key(portion.what, *entry, "moisture", "", inputs);
  if (!activity_given) add_feedstock_key(portion.what, *entry, "activity", "", inputs);
  if (entry->chips) return;  // their loose density follows from wood, pores and water
  add_feedstock_key(portion.what, *entry, "loose_density", "kg/m3", inputs);
  add_feedstock_key(portion.what, *entry, "softness_stress", "Pa", inputs);
}

void add_recipe(const ParsedCase& parsed_case, std::vector<UncertainInput>& inputs) {
  std::vector<std::string> done;
  for (const ParsedBatch& batch : parsed_case.batches) {
    for (const ParsedPortion& portion : batch.portions) {
      if (std::find(done.begin(), done.end(), portion.what) != done.end()) continue;
      done.push_back(portion.what);
      add_feedstock(portion, parsed_case, batch.activity.has_value(), inputs);
    }
  }
}

void add_temperature(const char* key, double middle, const Limits& limits,
                     std::vector<UncertainInput>& inputs) {
  add({key, "degC", middle - temperature_doubt, middle, middle + temperature_doubt, Distribution::triangular,
       "our choice"},
      limits, inputs);
}

void add_surroundings(const ParsedCase& parsed_case, std::vector<UncertainInput>& inputs) {
  const Problem& problem = parsed_case.problem;
  const Surroundings& outside = problem.outside;
  const double shift = parsed_case.temperature_shift;
  if (outside.daily_swing == 0.0 && outside.table_time.empty())
    add_temperature("outside.temperature", outside.temperature - shift, air_limits, inputs);
  else
    add({"outside.shift", "K", shift - temperature_doubt, shift, shift + temperature_doubt,
         Distribution::triangular, "our choice"},
        warmth_limits, inputs);
  if (!parsed_case.film_given)
    add({"outside.wind", "m/s", 0.0, outside.wind, std::max(likely_wind, 2.0 * outside.wind),
         Distribution::triangular, "our choice"},
        wind_limits, inputs);
  if (problem.initial.kind == Initial::Kind::uniform && !problem.hold_temperature)
    add_temperature("initial.temperature", problem.initial.temperature, face_limits, inputs);
}

double inverse_triangular(double low, double middle, double high, double share) {
  if (!(high > low)) return middle;
  const double width = high - low;
  if (share * width < middle - low) return low + std::sqrt(share * width * (middle - low));
  return high - std::sqrt((1.0 - share) * width * (high - middle));
}

/// Lays one end, or the middle, of a strong input; nothing where the case has no such input.
void lay_strong(const Problem& problem, const StrongInput& strong, double UncertainInput::*end,
                Overrides& overrides) {
  for (const UncertainInput& input : problem.uncertain)
    if (input.key == strong.key) put(overrides, input.key, case_text(input.*end, input.unit));
}

double UncertainInput::*adverse_end(const StrongInput& strong) {
  return strong.low_is_adverse ? &UncertainInput::low : &UncertainInput::high;
}

}  // namespace

FactorRange range_of(const LibraryEntry& entry) {
  FactorRange range;
  const auto ergun = entry.values.find(entry.chips ? "ergun_share" : "ergun_size");
  if (ergun != entry.values.end() && ergun->second.value > 0.0) {
    range.ergun_low = ergun->second.low / ergun->second.value;
    range.ergun_high = ergun->second.high / ergun->second.value;
  }
  double low = 0.0;
  double middle = 0.0;
  double high = 0.0;
  for (const std::string pool : {"easy", "middling", "hard"}) {
    const auto rate = entry.values.find(pool + "_rate");
    const auto share = entry.values.find(pool + "_share");
    const auto demand = entry.values.find(pool + "_demand");
    if (rate == entry.values.end() || share == entry.values.end() || demand == entry.values.end()) continue;
    const double weight = share->second.value * demand->second.value;
    low += weight * rate->second.low;
    middle += weight * rate->second.value;
    high += weight * rate->second.high;
  }
  if (middle > 0.0) {
    range.uptake_low = low / middle;
    range.uptake_high = high / middle;
  }
  return range;
}

std::vector<UncertainInput> uncertain_inputs(const ParsedCase& parsed_case) {
  std::vector<UncertainInput> inputs;
  const Problem& problem = parsed_case.problem;
  if (!problem.batches.empty()) {
    add_laws(parsed_case, inputs);
    add_recipe(parsed_case, inputs);
    if (!problem.prescribed.permeability)
      add({"wall_gap", "m", 0.0, problem.wall_gap, std::max(likely_gap, 2.0 * problem.wall_gap),
           Distribution::triangular, "our choice"},
          gap_limits, inputs);
  }
  add_surroundings(parsed_case, inputs);
  return inputs;
}

UncertainSettings uncertain_settings(const Problem& problem) {
  UncertainSettings settings;
  for (const StrongInput& strong : strong_inputs) {
    const auto adverse = adverse_end(strong);
    lay_strong(problem, strong, adverse, settings.adverse);
    lay_strong(problem, strong, &UncertainInput::middle, settings.middle);
    lay_strong(problem, strong,
               adverse == &UncertainInput::low ? &UncertainInput::high : &UncertainInput::low,
               settings.favourable);
  }
  return settings;
}

std::vector<Overrides> one_input_adverse(const Problem& problem) {
  std::vector<Overrides> all;
  for (const StrongInput& strong : strong_inputs) {
    all.push_back(uncertain_settings(problem).middle);
    lay_strong(problem, strong, adverse_end(strong), all.back());
  }
  return all;
}

double value_at(const UncertainInput& input, double share) {
  if (input.distribution == Distribution::triangular)
    return inverse_triangular(input.low, input.middle, input.high, share);
  const double value =
      std::exp(inverse_triangular(std::log(input.low), std::log(input.middle), std::log(input.high), share));
  return std::clamp(value, input.low, input.high);
}

Overrides sample(const std::vector<UncertainInput>& inputs, const std::vector<double>& point) {
  if (inputs.size() != point.size())
    throw std::invalid_argument("a sample needs one share for each uncertain input");
  Overrides overrides;
  for (std::size_t n = 0; n < inputs.size(); ++n)
    put(overrides, inputs[n].key, case_text(value_at(inputs[n], point[n]), inputs[n].unit));
  return overrides;
}

}  // namespace updraught
