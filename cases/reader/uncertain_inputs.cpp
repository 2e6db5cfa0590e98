#include "cases/reader/uncertain_inputs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "cases/reader/keys/limits.h"
#include "cases/reader/whole_case.h"
#include "cases/text/key_path.h"

namespace updraught {

namespace {

using Distribution = UncertainInput::Distribution;

constexpr double temperature_doubt = 3.0;  // K, our choice
constexpr double likely_gap = 0.002;       // m, our choice, as in comparisons
constexpr double likely_wind = 2.0;        // m/s, our choice: a light breeze about a bin

/// What is in the bed at the start, and what goes on top later, once each.
std::vector<ParsedBatch> batches_of(const ParsedCase& parsed_case) {
  std::vector<ParsedBatch> all = parsed_case.batches;
  for (const ParsedRefill& refill : parsed_case.refills) all.push_back(refill.batch);
  return all;
}

FactorRange mean_range(const ParsedCase& parsed_case) {
  FactorRange sum{0.0, 0.0, 0.0, 0.0};
  double mass = 0.0;
  for (const ParsedBatch& batch : batches_of(parsed_case)) {
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
  const LawFactors& own = parsed_case.problem.laws;
  const FactorRange range = mean_range(parsed_case);
  const auto add_factor = [&](const char* key, double low, double middle, double high, const char* words,
                              const char* test) {
    add({key, "", middle * low, middle, middle * high, Distribution::log_triangular,
         "ranges of the feedstocks, by mass", words, test},
        factor_limits, inputs);
  };
  add({"laws.packing_excess_shift", "", own.packing_excess_shift - packing_doubt, own.packing_excess_shift,
       own.packing_excess_shift + packing_doubt, Distribution::triangular,
       "our choice within the range 0 to 0.6 of m", "how tightly the waste packs between the chips",
       "a bucket test of the mix, ten minutes, tells"},
      shift_limits, inputs);
  add_factor("laws.ergun_factor", range.ergun_low, own.ergun_factor, range.ergun_high,
             "how fine the pores are", "blowing air through a full bucket tells");
  add_factor("laws.uptake_factor", range.uptake_low, own.uptake_factor, range.uptake_high,
             "how hard the microbes breathe", "a thermometer in the middle over the first days tells");
}

/// A value of a feedstock that is uncertain, in words; `%` stands for the material.
struct MaterialDoubt {
  const char* key;
  const char* unit;
  const char* words;
  const char* test;
};

std::string with_name(std::string words, const std::string& name) {
  return words.replace(words.find('%'), 1, name);
}

/// One ranged value of a feedstock; what is exact is left out.
void add_material(const std::string& what, const LibraryEntry& entry, const MaterialDoubt& doubt,
                  std::vector<UncertainInput>& inputs) {
  const auto found = entry.values.find(doubt.key);
  if (found == entry.values.end()) return;
  const auto key = std::find_if(feedstock_keys().begin(), feedstock_keys().end(),
                                [&](const FeedstockKey& one) { return one.name == doubt.key; });
  const Ranged& ranged = found->second;
  if (ranged.low == ranged.high) return;
  add({to_text(KeyPath{{"feedstocks"}, {what}, {doubt.key}}), doubt.unit, ranged.low, ranged.value,
       ranged.high, Distribution::triangular, ranged.source, with_name(doubt.words, what), doubt.test},
      {key->least, key->most, ""}, inputs);
}

/// What the factors on all materials do not carry: water, weight, softness, what lives in it.
void add_feedstock(const ParsedPortion& portion, const ParsedCase& parsed_case, bool activity_given,
                   std::vector<UncertainInput>& inputs) {
  const LibraryEntry* entry = parsed_case.library.find(portion.what);
  if (entry == nullptr || portion.feedstock.moisture >= 1.0) return;
  add_material(portion.what, *entry,
               {"moisture", "", "how wet the % is", "weighing a sample before and after drying tells"},
               inputs);
  if (!activity_given) {
    add_material(portion.what, *entry,
                 {"activity", "", "how much lives in the % at the start",
                  "a thermometer in the middle over the first days tells"},
                 inputs);
    add_material(portion.what, *entry,
                 {"heat_loving_activity", "", "how much that loves heat lives in the % at the start",
                  "a thermometer in the middle over the first days tells"},
                 inputs);
  }
  if (entry->chips) {
    // Their loose density follows from wood, pores and water.
    add_material(portion.what, *entry,
                 {"water_capacity", "", "how much water the % takes from the waste",
                  "weighing chips before and after a night in water tells"},
                 inputs);
    return;
  }
  add_material(portion.what, *entry,
               {"loose_density", "kg/m3", "how heavy a bucket of the % is", "weighing a full bucket tells"},
               inputs);
  add_material(portion.what, *entry,
               {"softness_stress", "Pa", "how soft the % is under a load",
                "counting the buckets that fill the bin tells"},
               inputs);
  add_material(portion.what, *entry,
               {"rotted_stiffness", "", "how limp the % goes as it rots",
                "a look at how far the bed sinks in a week tells"},
               inputs);
}

void add_recipe(const ParsedCase& parsed_case, std::vector<UncertainInput>& inputs) {
  std::vector<std::string> done;
  for (const ParsedBatch& batch : batches_of(parsed_case)) {
    for (const ParsedPortion& portion : batch.portions) {
      if (std::find(done.begin(), done.end(), portion.what) != done.end()) continue;
      done.push_back(portion.what);
      add_feedstock(portion, parsed_case, batch.activity.has_value(), inputs);
    }
  }
}

void add_temperature(const char* key, double middle, const Limits& limits, const char* words,
                     std::vector<UncertainInput>& inputs) {
  add({key, "degC", middle - temperature_doubt, middle, middle + temperature_doubt, Distribution::triangular,
       "our choice", words, "a thermometer tells"},
      limits, inputs);
}

void add_surroundings(const ParsedCase& parsed_case, std::vector<UncertainInput>& inputs) {
  const Problem& problem = parsed_case.problem;
  const Surroundings& outside = problem.outside;
  const double shift = parsed_case.temperature_shift;
  if (outside.daily_swing == 0.0 && outside.table_time.empty())
    add_temperature("outside.temperature", outside.temperature - shift, air_limits, "how warm it is outside",
                    inputs);
  else
    add({"outside.shift", "K", shift - temperature_doubt, shift, shift + temperature_doubt,
         Distribution::triangular, "our choice", "how warm it is outside", "a thermometer tells"},
        warmth_limits, inputs);
  if (!parsed_case.film_given)
    add({"outside.wind", "m/s", 0.0, outside.wind, std::max(likely_wind, 2.0 * outside.wind),
         Distribution::triangular, "our choice", "how windy it is beside the bin",
         "smoke or a strip of paper tells: 2 m/s is felt on the face"},
        wind_limits, inputs);
  if (problem.initial.kind == Initial::Kind::uniform && !problem.hold_temperature)
    add_temperature("initial.temperature", problem.initial.temperature, face_limits,
                    "how warm the filling is at the start", inputs);
}

double inverse_triangular(double low, double middle, double high, double share) {
  if (!(high > low)) return middle;
  const double width = high - low;
  if (share * width < middle - low) return low + std::sqrt(share * width * (middle - low));
  return high - std::sqrt((1.0 - share) * width * (high - middle));
}

}  // namespace

std::vector<UncertainInput> uncertain_inputs(const ParsedCase& parsed_case) {
  std::vector<UncertainInput> inputs;
  const Problem& problem = parsed_case.problem;
  if (!problem.batches.empty()) {
    add_laws(parsed_case, inputs);
    add_recipe(parsed_case, inputs);
    if (!problem.prescribed.permeability)
      add({"wall_gap", "m", 0.0, problem.wall_gap, std::max(likely_gap, 2.0 * problem.wall_gap),
           Distribution::triangular, "our choice", "how wide a gap a shrinking bed leaves at the wall",
           "a look at the rim after a week tells"},
          gap_limits, inputs);
  }
  add_surroundings(parsed_case, inputs);
  return inputs;
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
