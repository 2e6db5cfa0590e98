#include "cases/commands/bucket_report.h"

#include <fmt/format.h>

#include <cmath>
#include <functional>
#include <map>
#include <stdexcept>

#include "post/words/interval.h"
#include "post/words/words.h"
#include "solver/material/bucket.h"
#include "solver/material/packing.h"
#include "solver/material/recipe.h"

namespace updraught {

namespace {

using nlohmann::json;

constexpr double gravity = 9.80665;   // m/s2
constexpr double agrees = 0.05;       // of the bucket: water and weight tell the same; our choice
constexpr double least_shift = 0.01;  // of m: less is not worth a line
constexpr double most_shift = 0.3;    // of m: beyond, something else than packing differs; our choice

/// Values of an entry at the light or heavy end of what the library knows of its loose weight.
Feedstock at_end(const LibraryEntry& entry, bool heavy) {
  const auto found = entry.values.find(entry.chips ? "loose_porosity" : "loose_density");
  if (found == entry.values.end()) return entry.feedstock;
  const bool high = heavy != entry.chips;  // many pores make chips light
  return to_feedstock(entry, {{found->first, high ? found->second.high : found->second.low}});
}

std::vector<Portion> portions_with(const std::vector<TextPortion>& recipe,
                                   const std::function<Feedstock(const LibraryEntry&)>& feedstock_of) {
  std::vector<Portion> portions;
  for (const TextPortion& part : recipe) {
    const Feedstock feedstock = feedstock_of(*part.entry);
    portions.push_back({feedstock, part.mass > 0.0 ? part.mass : part.volume * feedstock.loose_density});
  }
  return portions;
}

double loose_density_of(const std::vector<Portion>& portions) {
  const Blend b = blend(portions);
  return 1.0 / pack(b, fresh_matter(b), 0.0).volume;
}

std::string kilograms(double density) {
  return fmt::format("{:.0f} kg/m3", density);
}

/// The one material of a recipe beside water, if it is one.
const LibraryEntry* only_material(const std::vector<TextPortion>& recipe) {
  const LibraryEntry* only = nullptr;
  for (const TextPortion& part : recipe) {
    if (part.entry->feedstock.moisture >= 1.0 || (only != nullptr && only != part.entry)) return nullptr;
    only = part.entry;
  }
  return only;
}

class Report {
 public:
  Report(const std::vector<TextPortion>& recipe, const BucketReadings& readings, double bed)
      : recipe_(recipe),
        readings_(readings),
        bed_(bed),
        portions_(portions_of(recipe)),
        blend_(blend(portions_)),
        loose_(pack(blend_, fresh_matter(blend_), 0.0)),
        density_(1.0 / loose_.volume),
        only_(only_material(recipe)) {}

  BucketReport made() {
    if (readings_.loose) tell_loose(readings_.loose->density);
    if (readings_.tapped) tell_tapped(readings_.tapped->density);
    if (readings_.poured) tell_poured(*readings_.poured);
    only_ != nullptr ? key_of_one(*only_) : key_of_mix();
    json keys = json::array();
    for (const BucketKey& key : report_.keys) keys.push_back({{"line", key.line}, {"why", key.why}});
    numbers_["sentences"] = report_.sentences;
    numbers_["keys"] = keys;
    report_.numbers = numbers_;
    return report_;
  }

 private:
  void say(std::string sentence) { report_.sentences.push_back(std::move(sentence)); }

  void tell_loose(double density) {
    const Band range{loose_density_of(portions_with(recipe_, [](const auto& e) { return at_end(e, false); })),
                     loose_density_of(portions_with(recipe_, [](const auto& e) { return at_end(e, true); }))};
    const char* verdict = density < range.low    ? "Yours is lighter than the library knows such material"
                          : density > range.high ? "Yours is heavier than the library knows such material"
                                                 : "Yours lies within that";
    say(
        fmt::format("Your loose bucket weighs {}; the library's {} {} ({:.0f} to {:.0f} over what it knows "
                    "of such material). {}.",
                    kilograms(density), only_ != nullptr ? "weighs" : "mix weighs", kilograms(density_),
                    range.low, range.high, verdict));
    const double open = open_pores_at(blend_, density);
    say(fmt::format("By that weight {} of it is open between the pieces; the library has {}.", percent(open),
                    percent(loose_.between)));
    numbers_["loose"] = {{"kg_m3", density},         {"library_kg_m3", density_},
                         {"library_low", range.low}, {"library_high", range.high},
                         {"open_by_weight", open},   {"library_open", loose_.between}};
  }

  void tell_tapped(double density) {
    const double before = readings_.loose ? readings_.loose->density : density_;
    const double open = open_pores_at(blend_, density);
    if (density < before) {  // of the library's: a dropped bucket below its own loose one is refused
      say(fmt::format(
          "After dropping it weighs {}, less than the library's loose one ({}): weigh it loose as well. By "
          "weight {} stays open between the pieces.",
          kilograms(density), kilograms(before), percent(open)));
      numbers_["tapped"] = {{"kg_m3", density}, {"open_by_weight", open}};
      return;
    }
    const double sinks = 1.0 - before / density;
    say(fmt::format(
        "After dropping it weighs {}: it sinks by {} of {}, and by weight {} stays open between the pieces.",
        kilograms(density), percent(sinks),
        readings_.loose ? "its height" : "the height that the library's loose one has", percent(open)));
    const auto stress = stress_for_volume(blend_, before / density);
    say(stress ? fmt::format("The library's sinks that far under {:.1f} kPa, which is what about {} of it "
                             "weigh; a bed {} deep sinks by {} of its loose height while it is filled.",
                             *stress / 1000.0, depth_words(*stress / (gravity * density)), depth_words(bed_),
                             percent(bed_sinks()))
               : "No load presses the library's so far: yours is softer or was looser, so its "
                 "softness_stress belongs to the low end of its range (updraught feedstocks NAME).");
    say("No key takes this reading, since nobody knows what load the drops stand for. How far the bed in "
        "your bin sinks while you fill it tells more: further than computed means a softness_stress at the "
        "low end of its range, less far the high end.");
    numbers_["tapped"] = {{"kg_m3", density},
                          {"sinks", sinks},
                          {"open_by_weight", open},
                          {"library_stress_pa", stress ? json(*stress) : json(nullptr)},
                          {"library_bed_sinks", bed_sinks()}};
  }

  double bed_sinks() const {
    const Column column = fill_column(blend_, bed_, {});
    return 1.0 - bed_ / (column.mass * loose_.volume);
  }

  void tell_poured(const PouredBucket& poured) {
    const auto& weighed = poured.tapped ? readings_.tapped : readings_.loose;
    const double expected = weighed ? open_pores_at(blend_, weighed->density) : loose_.between;
    say(fmt::format(
        "Water fills {} of the {} bucket; {} {} open between the pieces. {}", percent(poured.share),
        poured.tapped ? "dropped" : "loose", weighed ? "by its weight" : "the library has",
        weighed ? percent(expected) + " is" : percent(expected), poured_verdict(poured.share - expected)));
    numbers_["water_poured"] = {
        {"share", poured.share}, {"of_the_dropped_bucket", poured.tapped}, {"expected", expected}};
  }

  std::string poured_verdict(double more) const {
    if (std::abs(more) <= agrees) return "The two agree.";
    if (more > 0.0)
      return "More than that: it drank water while you poured, or it is drier than the library says. Pour "
             "quicker, and dry a sample for its moisture.";
    return "Less than that: air stayed in the bucket, or it is wetter or holds more sand than the library "
           "says. Pour slowly along the wall, and dry a sample for its moisture.";
  }

  void add_key(std::string line, std::string why) {
    report_.keys.push_back({std::move(line), std::move(why)});
  }

  void key_of_one(const LibraryEntry& entry) {
    const bool poured = readings_.poured && !readings_.poured->tapped && entry.chips;
    if (!poured && !readings_.loose) return tell_no_key_of_water();
    std::map<std::string, double> values;
    std::string inner;
    const auto give = [&](const char* key, double value, const std::string& text) {
      values[key] = value;
      inner += fmt::format("{}{} = {}", inner.empty() ? "" : ", ", key, text);
    };
    if (poured)
      give("loose_porosity", readings_.poured->share, fmt::format("{:.2f}", readings_.poured->share));
    if (poured && readings_.loose) {
      const double basic =
          readings_.loose->density * (1.0 - entry.feedstock.moisture) / (1.0 - readings_.poured->share);
      give("basic_density", basic, fmt::format("\"{:.0f} kg/m3\"", basic));
    } else if (readings_.loose) {
      give("loose_density", readings_.loose->density,
           fmt::format("\"{:.0f} kg/m3\"", readings_.loose->density));
    }
    try {
      to_feedstock(entry, values);
    } catch (const std::invalid_argument& error) {
      return say(
          fmt::format("The readings do not fit what the library says beside them ({}), so no key takes them: "
                      "repeat the test, and dry a sample for its moisture.",
                      error.what()));
    }
    add_key(fmt::format("feedstocks = {{ \"{}\" = {{ {} }} }}", entry.name, inner),
            std::string("The case computes with your bucket") +
                (poured && readings_.loose ? ": pores from the water, and how dense the pieces are from both."
                                           : " instead of the library's."));
    if (!poured) tell_no_key_of_water();
  }

  void tell_no_key_of_water() {
    if (readings_.poured)
      say("No key takes the water: a case computes open pores from weight, so it is a check of weight and "
          "moisture.");
  }

  void key_of_mix() {
    if (readings_.loose) {
      const auto shift = packing_shift_for(portions_, readings_.loose->density);
      if (shift && std::abs(*shift) < least_shift)
        say("The library's mix is as heavy as yours, so no key needs to change.");
      else if (shift && std::abs(*shift) <= most_shift)
        add_key(fmt::format("laws = {{ packing_excess_shift = {:.2f} }}", *shift),
                "It makes the library's mix as heavy as yours, if each material by itself is as heavy as the "
                "library says: weigh those first, one by one.");
      else
        say("Packing alone does not explain that weight: weigh each material by itself (updraught mix with "
            "one material and --loose); its key is loose_density.");
      numbers_["packing_excess_shift"] = shift ? json(*shift) : json(nullptr);
    }
    tell_no_key_of_water();
  }

  const std::vector<TextPortion>& recipe_;
  const BucketReadings& readings_;
  double bed_;
  std::vector<Portion> portions_;
  Blend blend_;
  Packed loose_;
  double density_;
  const LibraryEntry* only_;
  BucketReport report_;
  json numbers_ = json::object();
};

}  // namespace

std::string depth_words(double depth) {
  return depth < 0.995 ? fmt::format("{:.0f} cm", 100.0 * depth) : fmt::format("{:.1f} m", depth);
}

std::vector<Portion> portions_of(const std::vector<TextPortion>& recipe) {
  return portions_with(recipe, [](const LibraryEntry& entry) { return entry.feedstock; });
}

BucketReport report_bucket(const std::vector<TextPortion>& recipe, const BucketReadings& readings,
                           double bed) {
  return Report(recipe, readings, bed).made();
}

}  // namespace updraught
