// mix: what a recipe is like, and what to add, from the packing law alone: no air is computed.
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "cases/commands/bucket_report.h"
#include "cases/commands/command.h"
#include "cases/library/recipe_text.h"
#include "cases/machine/data_folder.h"
#include "cases/output/printing.h"
#include "cases/terminal/diagnostics.h"
#include "cases/text/source.h"
#include "post/answer/cautions.h"
#include "post/tables/summary_json.h"
#include "post/words/text_table.h"
#include "post/words/words.h"
#include "solver/material/bucket.h"
#include "solver/material/recipe.h"

namespace updraught {

namespace {

using nlohmann::json;

/// Everything that the answer is told from.
struct Mix {
  std::string question;
  MixQuestion ask;
  MixAnswer answer;
  std::vector<std::string> cautions;
  std::optional<BucketReport> bucket;  ///< where readings of a bucket test were given
};

std::optional<double> read_option(const std::string& option, const std::string& text, const Measure& measure,
                                  const Limits& limits, const Units& units) {
  const QuantityReading read = read_quantity(text, measure, units);
  if (read.value && *read.value >= limits.low && *read.value <= limits.high) return read.value;
  const std::string told = read.value
                               ? fmt::format("\"{}\" is out of range. Known limits: {}.", text, limits.told)
                               : fmt::format("{} {}", read.problem, read.hint);
  print_error(fmt::format("updraught: mix: {}: {}\n", option, told));
  return {};
}

MixQuestion question_of(const std::vector<TextPortion>& portions, double bucket, double depth,
                        const FeedstockLibrary& library) {
  MixQuestion ask;
  ask.bucket = bucket;
  ask.depth = depth;
  const LibraryEntry* chips = library.find("woodchip, coarse");
  const LibraryEntry* dry = library.find("cardboard");
  if (chips == nullptr || dry == nullptr)
    throw std::runtime_error("the feedstock library lacks woodchip or cardboard");
  ask.chips = chips->feedstock;
  ask.dry = dry->feedstock;
  ask.portions = portions_of(portions);
  for (const Portion& portion : ask.portions)
    if (portion.feedstock.chips) ask.chips = portion.feedstock;
  return ask;
}

/// Where rules forbid much: a recipe of peelings and grass needs no warning here.
std::vector<std::string> cautions_of(const std::vector<Portion>& portions) {
  Problem problem;
  problem.batches.emplace_back();
  problem.batches.front().portions = portions;
  const Materials materials = materials_in(problem);
  if (!materials.cooked && !materials.sludge) return {};
  return about_rules(materials);
}

std::string buckets(double count) {
  return fmt::format("{:.1f} {}", count, count < 1.05 && count > 0.95 ? "bucket" : "buckets");
}

std::string buckets_with_range(const Buckets& add) {
  if (!add.value) return "no amount is enough";
  const std::string high = add.high ? fmt::format("{:.1f}", *add.high) : "no limit";
  return fmt::format("{} (likely {:.1f} to {})", buckets(*add.value), add.low.value_or(0.0), high);
}

std::string likely_percent(const Likely& share) {
  return percent_with_band(share.value, Band{share.low, share.high});
}

std::string ratio(double value) {
  return std::isfinite(value) ? fmt::format("{:.0f}", value) : "no nitrogen in it";
}

std::string finding_text(MixFinding finding, const Mix& mix) {
  const MixAnswer& a = mix.answer;
  const MixLimits& limits = mix.ask.limits;
  switch (finding) {
    case MixFinding::base_closes:
      return fmt::format(
          "The base closes: loose it has {} open pores between the pieces, under {} of its own weight {}, "
          "under {} {}, and {} there once it rots and goes limp; below about {} hardly any air moves.",
          percent(a.air_loose.value), depth_words(0.5 * mix.ask.depth), percent(a.air_half.value),
          depth_words(mix.ask.depth), percent(a.air_base.value), percent(a.air_limp.value),
          percent(limits.air_at_base));
    case MixFinding::base_closes_later:
      return fmt::format(
          "The base closes later: loose it has {} open pores between the pieces, under {} of its own weight "
          "{}, under "
          "{} {}, but only {} there once it rots and goes limp; below about {} hardly any air moves.",
          percent(a.air_loose.value), depth_words(0.5 * mix.ask.depth), percent(a.air_half.value),
          depth_words(mix.ask.depth), percent(a.air_base.value), percent(a.air_limp.value),
          percent(limits.air_at_base));
    case MixFinding::chips_float:
      return "The woodchip does not touch at the base, so it only takes up room there.";
    case MixFinding::too_wet:
      return fmt::format("It is wet: {} water, above the usual {}.", percent(a.moisture),
                         percent(limits.wettest));
    case MixFinding::too_dry:
      return fmt::format("It is dry: {} water, below the usual {}. Water it.", percent(a.moisture),
                         percent(limits.driest));
    case MixFinding::much_nitrogen:
      return fmt::format(
          "It has much nitrogen for its carbon (C:N {} of what is within reach): expect a smell of ammonia. "
          "Straw, leaves or cardboard hold it.",
          ratio(a.cn_available));
    case MixFinding::little_nitrogen:
      return fmt::format(
          "It has little nitrogen (C:N {} of what is within reach): it warms slowly. Grass, kitchen waste or "
          "manure help.",
          ratio(a.cn_available));
  }
  return {};
}

constexpr double worth_telling = 0.05;  // buckets

/// "3.3 buckets of woodchip, coarse", or nothing where none is needed or none would help.
void tell_addition(const Buckets& add, const std::string& what, std::vector<std::string>& parts) {
  if (add.value && *add.value > worth_telling)
    parts.push_back(fmt::format("{} of {}", buckets(*add.value), what));
}

std::string answer_text(const Mix& mix) {
  const MixAnswer& a = mix.answer;
  std::string text;
  if (!a.chips.value) text += "No amount of woodchip keeps the base of this mix open at this depth. ";
  if (!a.dry.value)
    text += fmt::format("No amount of {} brings the water down far enough. ", mix.ask.dry.name);
  std::vector<std::string> parts;
  tell_addition(a.chips, mix.ask.chips.name, parts);
  tell_addition(a.dry, mix.ask.dry.name, parts);
  if (parts.empty()) return text.empty() ? "No woodchip and no dry material needs to be added." : text;
  return fmt::format(
      "{}Add {}. Then: {} water, {} open pores at the base ({} once it has gone limp), C:N {} of what is "
      "within reach, {} of "
      "the buckets woodchip.",
      text, listed(parts), percent(a.mended_moisture), percent(a.mended_air_base), percent(a.mended_air_limp),
      ratio(a.mended_cn_available), percent(a.mended_chip_share));
}

/// What the advice does not know. blend asks for more chips since it computes the air.
std::string scope_text(const Mix& mix) {
  return fmt::format(
      "This goes by water, C:N and open pores at the base alone; no air is computed. Whether enough air gets "
      "through a bed {} deep it does not say: that mostly takes more woodchip, and the more the deeper the "
      "bed. What your bin needs: updraught blend CASE (updraught start CASE writes a case).",
      depth_words(mix.ask.depth));
}

void print_bucket(const BucketReport& report) {
  for (const std::string& sentence : report.sentences) std::printf("%s\n", sentence.c_str());
  if (!report.keys.empty()) std::printf("Into the case:\n");
  for (const BucketKey& key : report.keys) std::printf("  %s\n%s\n", key.line.c_str(), key.why.c_str());
  std::printf("The advice below goes by the library's values.\n\n");
}

void print_text(const Mix& mix) {
  const MixAnswer& a = mix.answer;
  std::printf("%s\n(a bucket holds %s, the bed is %.2g m deep)\n\n", printable(mix.question).c_str(),
              litres(mix.ask.bucket).c_str(), mix.ask.depth);
  if (mix.bucket) print_bucket(*mix.bucket);
  std::printf("%s\n", answer_text(mix).c_str());
  std::printf("%s\n", scope_text(mix).c_str());
  for (const MixFinding finding : a.findings) std::printf("%s\n", finding_text(finding, mix).c_str());
  const std::vector<std::vector<std::string>> lines{
      {"water, of the total weight", percent(a.moisture)},
      {"C:N", fmt::format("{} in all, {} of what microbes reach within weeks", ratio(a.cn_total),
                          ratio(a.cn_available))},
      {"weight, loose", fmt::format("{:.0f} kg/m3", a.loose_density)},
      {"woodchip, of all buckets", percent(a.chip_share)},
      {"air between the pieces, loose", likely_percent(a.air_loose)},
      {fmt::format("the same, under {} of its own weight", depth_words(0.5 * mix.ask.depth)),
       likely_percent(a.air_half)},
      {fmt::format("the same, under {} (the base)", depth_words(mix.ask.depth)), likely_percent(a.air_base)},
      {"the same there once it rots and goes limp", likely_percent(a.air_limp)},
      {"free air space (all open pores) at the base", likely_percent(a.total_base)},
      {fmt::format("{} to add", mix.ask.chips.name), buckets_with_range(a.chips)},
      {fmt::format("{} to add", mix.ask.dry.name), buckets_with_range(a.dry)}};
  std::printf("\n%s", text_table(lines).c_str());
  std::printf(
      "\nWoodchip is for open pores at the base, the dry material for the water. The ranges say how "
      "differently\n"
      "such materials pack and how wet they come. Computed from packing alone, not measured.\n");
  for (const std::string& caution : mix.cautions) std::printf("%s\n", caution.c_str());
}

json number_or_null(double value) {
  return std::isfinite(value) ? json(value) : json(nullptr);
}

json likely_json(const Likely& share) {
  return {{"value", share.value}, {"low", share.low}, {"high", share.high}};
}

json buckets_json(const std::string& what, const Buckets& add) {
  const auto maybe = [](const std::optional<double>& value) { return value ? json(*value) : json(nullptr); };
  return {{"what", what}, {"buckets", maybe(add.value)}, {"low", maybe(add.low)}, {"high", maybe(add.high)}};
}

void print_json(const Mix& mix) {
  const MixAnswer& a = mix.answer;
  json reasons = json::array();
  for (const MixFinding finding : a.findings) reasons.push_back(finding_text(finding, mix));
  const json object{{"recipe", mix.question},
                    {"bucket_l", 1000.0 * mix.ask.bucket},
                    {"depth_m", mix.ask.depth},
                    {"moisture", a.moisture},
                    {"cn", number_or_null(a.cn_total)},
                    {"cn_available", number_or_null(a.cn_available)},
                    {"loose_density_kg_m3", a.loose_density},
                    {"woodchip_share", a.chip_share},
                    {"air_between_loose", likely_json(a.air_loose)},
                    {"air_between_half_depth", likely_json(a.air_half)},
                    {"air_between_base", likely_json(a.air_base)},
                    {"air_between_base_limp", likely_json(a.air_limp)},
                    {"free_air_space_base", likely_json(a.total_base)},
                    {"base_stress_pa", a.base_stress},
                    {"chips_carry", a.chips_carry},
                    {"add", json::array({buckets_json(mix.ask.chips.name, a.chips),
                                         buckets_json(mix.ask.dry.name, a.dry)})},
                    {"after",
                     {{"moisture", a.mended_moisture},
                      {"air_between_base", a.mended_air_base},
                      {"air_between_base_limp", a.mended_air_limp},
                      {"woodchip_share", a.mended_chip_share},
                      {"cn_available", number_or_null(a.mended_cn_available)}}},
                    {"answer", answer_text(mix)},
                    {"scope", scope_text(mix)},
                    {"reasons", reasons},
                    {"cautions", mix.cautions},
                    {"bucket_test", mix.bucket ? mix.bucket->numbers : json(nullptr)}};
  std::printf("%s\n", json_text(object).c_str());
}

}  // namespace

int mix_command(const MixOptions& options) {
  const Units units;
  const FeedstockLibrary library = load_feedstock_library(data_folder() / "feedstocks.toml");
  const auto bucket = read_option("--bucket", options.bucket, volume_measure(),
                                  {1e-4, 1.0, "a bucket holds between 0.1 and 1000 L"}, units);
  const auto depth = read_option("--depth", options.depth, length_measure(),
                                 {0.01, 10.0, "a bed is between 1 cm and 10 m deep"}, units);
  if (!bucket || !depth) return exit_wrong_use;
  const RecipeTextReading recipe = read_recipe_text(options.recipe, *bucket, library, units);
  for (const std::string& problem : recipe.problems) print_error("updraught: mix: " + problem + "\n");
  if (!recipe.problems.empty()) return exit_wrong_use;
  Mix mix{options.recipe, question_of(recipe.portions, *bucket, *depth, library), {}, {}, {}};
  mix.cautions = cautions_of(mix.ask.portions);
  const BucketReadings readings = read_bucket({options.loose, options.tapped, options.water_poured}, *bucket,
                                              1.0 / filled_volume(blend(mix.ask.portions)), units);
  for (const std::string& problem : readings.problems) print_error("updraught: mix: " + problem + "\n");
  if (!readings.problems.empty()) return exit_wrong_use;
  if (readings.any()) mix.bucket = report_bucket(recipe.portions, readings, *depth);
  mix.answer = assess_recipe(mix.ask);
  options.common.json ? print_json(mix) : print_text(mix);
  return exit_done;
}

}  // namespace updraught
