// All that is said of one computed case, made from its result alone.
#pragma once

#include <string>
#include <vector>

#include "post/answer/cautions.h"
#include "post/answer/findings.h"

namespace updraught {

/// What was found, and the sentences made of it.
struct Told {
  Findings findings;
  std::vector<std::string> verdict;  ///< with what the reader of the case decided by itself at its end
  std::vector<Caution> cautions;
};

/// Says it, whatever verdict the result holds. Throws std::invalid_argument for a result without any step.
Told tell(const Result& result);

/// The figures of the result with these sentences.
Summary summary_of(const Result& result, const Told& told);

}  // namespace updraught
