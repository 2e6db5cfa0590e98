#include "post/answer/verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "post/result/key_figures.h"
#include "post/words/words.h"

namespace updraught {

namespace {

// Below this much air between the pieces hardly any air moves: published threshold for sludge with coarse
// chips (Eftoda and McCartney 2004 found 20 % free air space at the least workable share of chips).
constexpr double closing_air_between = 0.20;
// An opening counts where it passes this share of all the air; our choice.
constexpr double opening_that_counts = 0.05;
// Shares of the bed's hours differ in words from here on, as in comparisons.
const double share_that_differs = key_figure("airless_share").counts;
// Heat that goes one way is told from here on (W); less prints as nothing.
constexpr double least_heat = 0.5;
// Frost is told where the coldest part is below 0 degC for longer than this in all (h); our choice.
constexpr double least_frost = 6.0;

std::string the(const std::string& name) {
  return name.starts_with("the ") ? name : "the " + name;
}

bool breathes_both_ways(const OpeningFlow& flow) {
  return std::min(flow.air_in, flow.air_out) > 0.25 * std::max(flow.air_in, flow.air_out);
}

// The share that decides the words "lower", "middle" and so on matters only where there is a part worth
// naming.
std::string part_without(const Findings& findings) {
  if (!findings.without || findings.without->volume <= 0.0) return "";
  const double volume = findings.bed_volume * (1.0 - findings.aired_share);
  return fmt::format("; the part without is {}, about {}", place_in_words(*findings.without), litres(volume));
}

std::string factor_in_words(const HeldBack& held) {
  switch (held.factor) {
    case Limiting::food:
      return "food that is used up";
    case Limiting::oxygen:
      return "want of air";
    case Limiting::temperature:
      return held.temperature < 45.0 ? "cold" : "heat";
    case Limiting::moisture:
      return "dryness";
    case Limiting::nitrogen:
      return "want of nitrogen";
    case Limiting::piece_size:
      return "pieces that are too coarse";
    case Limiting::few_microbes:
      return "microbes that are still too few";
  }
  return "";
}

std::string from_to(double from, double to) {
  if (to - from < 0.05) return "on " + day_name(from);
  return fmt::format("from {} to {}", day_name(from), plain_number(to_digits(to, 3)));
}

// What more chips would do about want of air.
std::string first_mend(const MoreChips& more) {
  const double gain = more.airless_share - more.other_airless_share;
  if (gain < share_that_differs) {
    return fmt::format(
        " More chips alone ({} of the buckets, not {}) do not mend that: quickly computed, {} of the bed's "
        "hours go "
        "without air with them, {} without.",
        percent(more.other_share), percent(more.share), percent(more.other_airless_share),
        percent(more.airless_share));
  }
  return fmt::format(
      " First mend: {} more buckets of chips in this recipe ({} of the buckets, not {}): quickly computed, "
      "{} of the "
      "bed's hours go without air then, not {}.",
      plain_number(to_digits(more.more_buckets, 2)), percent(more.other_share), percent(more.share),
      percent(more.other_airless_share), percent(more.airless_share));
}

double watts(const Findings& findings, const char* path) {
  const auto found = findings.heat_by_path.find(path);
  return found == findings.heat_by_path.end() ? 0.0 : found->second;
}

// Heat that goes one way (W, out of the bed), and the words for either direction.
struct HeatWay {
  double watts = 0.0;
  const char* out = "";
  const char* in = "";
};

// Walls and floor are told apart only where heat passes them in opposite directions.
std::vector<HeatWay> heat_ways(const Findings& findings) {
  const double walls = watts(findings, "walls");
  const double floor = watts(findings, "floor");
  std::vector<HeatWay> ways{{watts(findings, "air"), "goes with the air and the water that it carries off",
                             "from the air that passes"}};
  if (walls * floor >= 0.0) {
    ways.push_back({walls + floor, "through walls and floor", "through walls and floor"});
  } else {
    ways.push_back({walls, "through the walls", "through the walls"});
    ways.push_back({floor, "through the floor", "through the floor"});
  }
  ways.push_back({watts(findings, "top"), "through the top", "through the top"});
  return ways;
}

// What is said of the weather that is left out, and of the part of it that is not.
std::string weather_note(const Findings& findings) {
  if (findings.wind > 0.0) {
    return fmt::format(
        "A steady wind of {} m/s presses on the openings and cools walls and lid; gusts, a wind that turns, "
        "sun and rain are left out.",
        plain_number(to_digits(findings.wind, 2)));
  }
  std::string text = "Computed in still air: wind, sun and rain are left out";
  if (findings.own_film)
    text += fmt::format("; outside walls and lid the {} W/m2K of the case hold",
                        plain_number(to_digits(*findings.own_film, 3)));
  return text + ".";
}

// What turning does here, and what of it is left out.
std::string turning_note(const Findings& findings) {
  std::vector<std::string> days;
  for (const double day : findings.turned_days) days.push_back(day_name(to_digits(day, 3)));
  return "Turned on " + listed(days) +
         ": all of it mixed and settled anew, its pores filled with outside air once; what cools while "
         "it lies open is not computed.";
}

// What went on top, and what found no room.
std::string say_filling(const Findings& findings) {
  std::vector<std::string> told;
  if (!findings.filled_days.empty())
    told.push_back(fmt::format("More went on top {}: {} kg in all.", times_and_days(findings.filled_days),
                               plain_number(to_digits(findings.filled, 3))));
  if (!findings.watered_days.empty())
    told.push_back(fmt::format("It was watered {}: {} L in all.", times_and_days(findings.watered_days),
                               plain_number(to_digits(findings.poured, 3))));
  std::string text = fmt::format("{}", fmt::join(told, " "));
  if (findings.full_days.empty()) return text;
  const std::string full = day_name(to_digits(findings.full_days.front(), 3));
  return text + (text.empty() ? "" : " ") +
         (findings.full_days.size() == 1
              ? "On " + full + " the bin was full, and what should have gone on top was left out."
              : fmt::format("From {} on the bin was full {} times, and what should have gone on top was left "
                            "out.",
                            full, findings.full_days.size()));
}

}  // namespace

std::string say_aired(const Findings& findings) {
  std::string text;
  const std::string share = percent_with_band(findings.aired_share, findings.aired_band);
  if (!std::isfinite(findings.aired_share))
    return fmt::format("How much of the bed has enough air (oxygen above 5 %) on {} is unknown.",
                       day_name(findings.day));
  // Of a bed that lives, the whole run was told.
  if (findings.aired_share >= 0.985 && findings.course) return "";
  if (findings.aired_share >= 0.985) {
    text = fmt::format("On {}, as good as all of the bed has enough air (oxygen above 5 %): {}",
                       day_name(findings.day), share);
  } else if (findings.aired_share <= 0.015) {
    text = fmt::format("On {}, next to none of the bed has enough air (oxygen above 5 %): {}",
                       day_name(findings.day), share);
  } else {
    text = fmt::format("On {}, {} of the bed has enough air (oxygen above 5 %){}", day_name(findings.day),
                       share, part_without(findings));
  }
  return text + ".";
}

std::string say_air_paths(const Findings& findings) {
  double all_in = 0.0;
  double all_out = 0.0;
  for (const OpeningFlow& flow : findings.openings) {
    all_in += flow.air_in;
    all_out += flow.air_out;
  }
  if (findings.openings.empty()) return "";
  if (all_in <= 0.0 && all_out <= 0.0) return "No air moves through any opening.";
  std::vector<std::string> enters;
  std::vector<std::string> leaves;
  std::vector<std::string> both;
  for (const OpeningFlow& flow : findings.openings) {
    const bool in = flow.air_in > opening_that_counts * all_in;
    const bool out = flow.air_out > opening_that_counts * all_out;
    if (in && out && breathes_both_ways(flow)) {
      both.push_back(fmt::format("{} ({} in, {} out)", the(flow.name), litres_a_minute(flow.air_in),
                                 litres_a_minute(flow.air_out)));
    } else if (in && flow.air_in >= flow.air_out) {
      enters.push_back(fmt::format("{} ({})", the(flow.name), litres_a_minute(flow.air_in)));
    } else if (out) {
      leaves.push_back(fmt::format("{} ({})", the(flow.name), litres_a_minute(flow.air_out)));
    }
  }
  std::string text;
  if (!enters.empty()) text = "air enters through " + listed(enters);
  if (!leaves.empty())
    text += (text.empty() ? "air leaves through " : " and leaves through ") + listed(leaves);
  if (!both.empty())
    text += (text.empty() ? "air comes and goes through " : "; it comes and goes through ") + listed(both);
  text = capitalised(text);
  if (findings.air_through > 0.0 && findings.gas_volume > 0.0) {
    text +=
        fmt::format("; the bed's air is renewed every {}", span(findings.gas_volume / findings.air_through));
  }
  return text + ".";
}

std::string say_near_wall(const Findings& findings) {
  std::vector<std::string> parts;
  for (const OpeningFlow& flow : findings.openings) {
    if (!std::isfinite(flow.near_wall) || flow.air_in <= 0.0) continue;
    parts.push_back(fmt::format(
        "{} of what enters through {} stays within 10 cm of the wall{}", percent(flow.near_wall),
        the(flow.name), flow.near_wall >= 0.5 ? " and misses the middle" : "; the rest reaches the middle"));
  }
  return parts.empty() ? "" : listed(parts) + ".";
}

std::string say_base(const Findings& findings) {
  if (!findings.materials.any) return "";
  const bool closes = findings.base_air_between < closing_air_between;
  const bool gains = findings.base_air_between > findings.loose_air_between + 0.005;
  const std::string where = findings.lowest_layer ? "in the lowest layer" : "there";
  const std::string loose = findings.lowest_layer ? "when that lies loose" : "when loose";
  std::string text =
      fmt::format("The base {}: {} kPa above it {} {} open pores {}, {} {} {}",
                  closes ? "closes" : "stays open", plain_number(to_digits(findings.base_stress / 1000.0, 2)),
                  closes ? "leaves" : "still leaves", percent(findings.base_air_between), where,
                  gains ? "more than the" : "against", percent(findings.loose_air_between),
                  gains ? "of the fresh filling: what rots and drains makes room" : loose);
  if (closes) text += "; below about 20 % hardly any air moves";
  return text + ".";
}

std::string say_held_back(const Findings& findings) {
  if (!findings.materials.any || findings.held_back.empty()) return "";
  const HeldBack& first = findings.held_back.front();
  std::string text =
      fmt::format("What holds it back most is {}: in {} of the bed ({}), {}", factor_in_words(first),
                  percent(first.share), place_in_words(first.place), from_to(first.from_day, first.to_day));
  if (findings.held_back.size() > 1) {
    const HeldBack& second = findings.held_back[1];
    text += fmt::format("; {} it is {} ({})", from_to(second.from_day, second.to_day),
                        factor_in_words(second), percent(second.share));
  }
  text += ".";
  if (findings.more_chips && wants_air(findings)) text += first_mend(*findings.more_chips);
  return text;
}

std::string say_warmth(const Findings& findings) {
  // Of a bed that does not get going, say_course has told how warm it gets, and no rule is near.
  if (findings.course && !findings.course->going) return "";
  std::string text = "The hottest part reaches about " + rounded_temperature(findings.hottest);
  if (findings.hottest_band) {
    const std::string range = temperature_range(*findings.hottest_band);
    if (range != rounded_temperature(findings.hottest)) text += " (likely " + range + ")";
  }
  text += " on " + day_name(std::round(findings.hottest_day * 10.0) / 10.0) + ".";
  if (!findings.materials.any) return text;
  // US 40 CFR 503 appendix B, from memory: three days in a vessel or static pile, fifteen days and five turns
  // in a windrow.
  const double asked = findings.open_heap ? 360.0 : 72.0;
  const char* rule = findings.open_heap ? "a common rule for turned heaps asks for 360 h and five turns"
                                        : "a common rule for closed bins asks for 72 h";
  const double distance = findings.coldest_hours_hot - asked;
  text += fmt::format(" The coldest part is above 55 °C for {} h; {}, measured in every part: {} h {}.",
                      rounded(findings.coldest_hours_hot), rule, rounded(std::abs(distance)),
                      distance < 0.0 ? "fewer" : "more");
  return text;
}

std::string say_freezing(const Findings& findings) {
  if (!findings.materials.any || findings.hours_below_freezing < least_frost) return "";
  return "Its coldest part is below 0 °C for " + span(findings.hours_below_freezing) +
         " in all: freezing is not computed, neither the pores that ice closes nor the heat that it gives "
         "and "
         "takes.";
}

std::string say_heat(const Findings& findings) {
  if (findings.heat_made <= 0.0) return "";
  const std::vector<HeatWay> ways = heat_ways(findings);
  const auto all = [&ways](double sign) {
    return std::accumulate(ways.begin(), ways.end(), 0.0, [sign](double sum, const HeatWay& way) {
      return sum + std::max(sign * way.watts, 0.0);
    });
  };
  const double lost = all(1.0);
  const double gained = all(-1.0);
  std::vector<std::string> out;
  std::vector<std::string> in;
  for (const HeatWay& way : ways) {
    if (way.watts > 0.0 && lost >= least_heat) out.push_back(percent(way.watts / lost) + " " + way.out);
    if (-way.watts >= least_heat) in.push_back(fmt::format("{:.0f} W {}", -way.watts, way.in));
  }
  if (std::any_of(ways.begin(), ways.end(), [](const HeatWay& way) { return std::isnan(way.watts); }))
    return "";
  if (lost < least_heat)
    return gained < least_heat ? "" : "No heat is lost on average; the bed takes up " + listed(in) + ".";
  std::string text = fmt::format("Of {:.0f} W of heat lost on average, {}", lost, listed(out));
  if (!in.empty()) text += "; meanwhile it takes up " + listed(in);
  const double air = std::max(watts(findings, "air"), 0.0);
  text += air > lost - air ? ": evaporation, not the walls, cools it"
                           : ": walls, floor and top cool it more than evaporation does";
  return text + ".";
}

std::string say_notes(const Findings& findings) {
  std::vector<std::string> notes;
  if (findings.stopped) notes.push_back("Stopped before its end; this speaks of the time up to then.");
  if (findings.materials.any) notes.push_back(weather_note(findings));
  if (!findings.turned_days.empty()) notes.push_back(turning_note(findings));
  if (findings.materials.food) {
    notes.push_back("The acid start of food waste, which can stall a bed near 40 to 45 °C, is not computed.");
  }
  for (const std::string& name : findings.holes_as_rows) {
    notes.push_back(capitalised(the(name)) + " was computed as a row of holes all round.");
  }
  if (findings.quick && findings.course) {
    notes.push_back(
        fmt::format("What is likely comes from {} plausible beds in quick detail, which makes of the hours "
                    "without air {} where this "
                    "computation makes {}; eight of ten lie within.",
                    findings.tried.beds.size(), percent(findings.quick->airless_share),
                    percent(findings.course->airless_share)));
  }
  std::string text;
  for (const std::string& note : notes) text += (text.empty() ? "" : " ") + note;
  return text;
}

std::vector<std::string> verdict(const Findings& findings) {
  std::vector<std::string> out;
  for (const std::string& sentence :
       {findings.ended, say_answer(findings), say_course(findings), say_plausible(findings),
        say_filling(findings), say_aired(findings), say_air_paths(findings), say_near_wall(findings),
        say_base(findings), say_held_back(findings), say_warmth(findings), say_freezing(findings),
        say_heat(findings), say_least_sure(findings), say_notes(findings)}) {
    if (!sentence.empty()) out.push_back(sentence);
  }
  return out;
}

}  // namespace updraught
