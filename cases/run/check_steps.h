// Whether an answer stands when the steps in time are halved: the case computed twice (theory 9.6).
#pragma once

#include <string>
#include <vector>

#include "cases/reader/read_case.h"
#include "cases/terminal/progress.h"

namespace updraught {

/// What people read of a run, as far as the steps in time decide it.
struct StepMeasure {
  std::string name;  ///< in words
  std::string key;   ///< for JSON
  double usual;      ///< with the steps that the program chooses; NaN: it does not happen
  double halved;     ///< with half of them each
  double counts;     ///< differences below this are nothing to speak of (unit of the measure)
};

struct StepsChecked {
  int steps = 0;         ///< as chosen
  int halved_steps = 0;  ///< with half of them each
  std::vector<StepMeasure> measures;
  /// Whether every measure stands: none moved by more than what counts, nor happens in one run alone.
  bool stands() const;
};

/// Computes the case twice, as it is and with steps half as long, writing nothing. Throws CannotCompute.
StepsChecked check_steps(const ReadCase& read, Progress& progress);

/// The answer first, then a table.
std::string steps_in_words(const StepsChecked& checked);

}  // namespace updraught
