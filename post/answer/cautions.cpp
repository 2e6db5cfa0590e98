#include "post/answer/cautions.h"

#include <algorithm>

#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double mouse_gap = 0.006;  // m: mice pass larger openings; practice
constexpr double fire_watch = 70.0;  // degC; practice of fire services for heaps
constexpr double drying = 0.40;      // kg/kg wet: hot and drier than this is on the way to dusty; practice
constexpr double deep_bin = 1.2;     // m: a bin that a person could climb or fall into; our choice
constexpr double large_bed = 3.0;    // m3: heats by itself even when cold outside; our choice

bool lets_mice_in(const Opening& opening) {
  const bool meshed = opening.kind == Opening::Kind::mesh || opening.open_share < 1.0;
  if (meshed) return false;
  if (opening.kind == Opening::Kind::open) return opening.where != Opening::Where::top;
  return std::max(opening.diameter, opening.size) > mouse_gap;
}

bool any_drilled(const Problem& problem) {
  return std::any_of(problem.openings.begin(), problem.openings.end(), [](const Opening& opening) {
    return opening.kind == Opening::Kind::hole || opening.kind == Opening::Kind::holes ||
           opening.kind == Opening::Kind::slots;
  });
}

bool holds_foam(const HeatBoundary& boundary) {
  return std::any_of(boundary.layers.begin(), boundary.layers.end(),
                     [](const WallLayer& layer) { return layer.kind == BoardKind::foam; });
}

bool any_foam(const Problem& problem) {
  return std::any_of(problem.sides.begin(), problem.sides.end(), holds_foam) || holds_foam(problem.floor) ||
         holds_foam(problem.lid_heat);
}

std::string about_openings(const Problem& problem) {
  std::vector<std::string> names;
  for (const Opening& opening : problem.openings) {
    if (lets_mice_in(opening)) names.push_back(opening.name);
  }
  if (names.empty()) return "";
  return "Mice get through openings above about 6 mm (here: " + listed(names) +
         "): steel mesh keeps them out, and its resistance belongs into the case.";
}

std::string about_heat(const Findings& findings) {
  // One plausible bed is enough, likely or not.
  double high = findings.hottest;
  for (const TriedBed& bed : findings.tried.beds) high = std::max(high, bed.course.hottest);
  if (high < fire_watch) return "";
  return "It may reach 70 °C: from there on treat it as a fire risk, do not turn or dig; above 80 °C, or at "
         "smoke or a "
         "burning smell, leave it closed, keep away and call the fire service.";
}

/// "0.27 L of run-off: ..."
std::string run_off(double kilograms) {
  return litres(kilograms / 1000.0) + " of run-off: keep it off drains, wells and streams.";
}

}  // namespace

std::string computed_not_measured() {
  return "Computed, not measured; no proof of hygiene or maturity: rules ask that every part reaches time "
         "and temperature, measured.";
}

std::vector<std::string> about_rules(const Materials& materials) {
  std::vector<std::string> out;
  if (materials.sludge) {
    out.emplace_back(
        "Sewage sludge carries germs and worm eggs, metals and traces of drugs: sludge law decides whether "
        "it may be composted and where it may be spread; ask the authority first, gloves and mask, none of "
        "it near food crops.");
  }
  if (materials.cooked) {
    out.emplace_back(
        "Cooked food and meat fall under food and animal by-product rules: ask the authority first.");
  } else if (materials.food || materials.manure) {
    out.emplace_back(
        "Local rules on food waste, animal by-products, run-off and fire decide; ask the authority or an "
        "adviser.");
  }
  return out;
}

std::vector<std::string> words_of(const std::vector<Caution>& cautions, std::optional<Caution::Kind> kind) {
  std::vector<std::string> out;
  for (const Caution& caution : cautions)
    if (!kind || caution.kind == *kind) out.push_back(caution.words);
  return out;
}

std::vector<std::string> words_once(const std::vector<std::vector<Caution>>& of_beds, Caution::Kind kind) {
  std::vector<std::string> out;
  std::vector<double> amounts;
  std::size_t place = 0;
  for (const std::vector<Caution>& cautions : of_beds)
    for (const Caution& caution : cautions) {
      if (caution.kind != kind) continue;
      if (caution.run_off > 0.0) {
        if (amounts.empty()) place = out.size();
        amounts.push_back(caution.run_off);
      } else if (std::find(out.begin(), out.end(), caution.words) == out.end()) {
        out.push_back(caution.words);
      }
    }
  if (amounts.empty()) return out;
  const std::string most = run_off(*std::max_element(amounts.begin(), amounts.end()));
  out.insert(out.begin() + static_cast<std::ptrdiff_t>(place),
             (of_beds.size() == 1 ? "About " : "Up to about ") + most);
  return out;
}

std::vector<Caution> cautions(const Findings& findings, const Problem& problem) {
  std::vector<Caution> out;
  const auto say = [&out](const std::string& text, Caution::Kind kind = Caution::Kind::care) {
    if (!text.empty()) out.push_back({kind, text});
  };
  const Materials& materials = findings.materials;
  if (!materials.any) return out;
  say(about_heat(findings), Caution::Kind::warning);
  if (findings.hottest >= 55.0 && findings.last_moisture < drying) {
    say("It ends hot and dry (" + percent(findings.last_moisture) + " water): never leave a hot bed to dry.");
  }
  say(computed_not_measured(), Caution::Kind::reach);
  for (const std::string& rule : about_rules(materials)) say(rule);
  say("Lung disease or weak immunity: do not turn or open it. Others: keep it moist, stand upwind, gloves, "
      "wash hands, a "
      "fitted mask where it is dusty.");
  if (materials.weedkiller) {
    say("Manure, hay and straw may carry weedkiller that survives composting: grow a test bean first.");
  }
  say(about_openings(problem));
  if (findings.leachate >= 0.1) {
    say("About " + run_off(findings.leachate));
    out.back().run_off = findings.leachate;
  }
  if (findings.bed_volume >= large_bed) {
    say("Large heaps and stores of chips can heat by themselves: keep stores low, short and covered, and "
        "heaps off "
        "buildings and fences.");
  }
  if (problem.bin.height >= deep_bin && problem.lid.kind == Lid::Kind::closed) {
    say("Never lean or climb into the bin, nor follow someone in: its air can kill. Call the rescue "
        "service.");
  }
  if (any_drilled(problem)) say("Sawing and drilling: mask and eye protection; no painted or treated wood.");
  if (any_foam(problem)) say("Foam board burns with poisonous smoke: cover it, no flames near it.");
  if (std::any_of(problem.openings.begin(), problem.openings.end(),
                  [](const Opening& opening) { return opening.pressure != 0.0; })) {
    say("A fan stands in a wet place: residual-current protection, outdoor rating, a licensed electrician; "
        "stop it before "
        "opening.");
  }
  return out;
}

}  // namespace updraught
