// Cautions, each only where the case or what came out of it calls for it.
#pragma once

#include <string>
#include <vector>

#include "post/answer/findings.h"

namespace updraught {

/// What stands on everything that is printed, in one sentence.
std::string computed_not_measured();

/// What rules ask of materials that carry germs, a sentence each: sewage sludge, cooked food and meat, other
/// food and manure.
std::vector<std::string> about_rules(const Materials& materials);

/// Short sentences, the most urgent first; empty for a bed of prescribed properties.
std::vector<std::string> cautions(const Findings& findings, const Problem& problem);

}  // namespace updraught
