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
};

/// The most urgent first; empty for a bed of prescribed properties.
std::vector<Caution> cautions(const Findings& findings, const Problem& problem);

/// The sentences of all, or of one kind.
std::vector<std::string> words_of(const std::vector<Caution>& cautions,
                                  std::optional<Caution::Kind> kind = {});

/// What rules ask of materials that carry germs, a sentence each: sewage sludge, cooked food and meat, other
/// food and manure.
std::vector<std::string> about_rules(const Materials& materials);

}  // namespace updraught
