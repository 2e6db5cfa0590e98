// Cautions, each only where the case or what came out of it calls for it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "post/answer/findings.h"

namespace updraught {

/// What stands on everything that is printed, in one sentence.
std::string computed_not_measured();

/// A short sentence, and where it belongs.
struct Caution {
  enum class Kind {
    warning,  ///< for the hour, in a frame near the answer
    reach,    ///< what a computation is no proof of; stands on everything that is printed
    care      ///< for the small print
  };
  Kind kind = Kind::care;
  std::string words;
  double run_off = 0.0;  ///< kg of run-off that the words tell; 0: they tell of none
};

/// The most urgent first; empty for a bed of prescribed properties.
std::vector<Caution> cautions(const Findings& findings, const Problem& problem);

/// The sentences of all, or of one kind.
std::vector<std::string> words_of(const std::vector<Caution>& cautions,
                                  std::optional<Caution::Kind> kind = {});

/// What several beds together ask for, each sentence once, of one kind; of their run-off the most.
std::vector<std::string> words_once(const std::vector<std::vector<Caution>>& of_beds, Caution::Kind kind);

/// What rules ask of materials that carry germs, a sentence each: sewage sludge, cooked food and meat, other
/// food and manure.
std::vector<std::string> about_rules(const Materials& materials);

}  // namespace updraught
