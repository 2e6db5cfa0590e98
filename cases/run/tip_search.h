// Finds for a case, and for the plausible beds of a sample, the shares of woodchip at which they tip.
#pragma once

#include <functional>
#include <vector>

#include "cases/run/plausible_beds.h"
#include "post/result/chip_tips.h"

namespace updraught {

/// The beds of one design and what was computed of them.
struct TipSearch {
  const ReadCase* read = nullptr;
  TipAims aims;
  double start = 0.5;     ///< share at which to begin
  bool want_hot = true;   ///< look for the most that is hot as well
  bool as_asked = false;  ///< in the detail that was asked for on the command line, not the quick one

  struct Bed {
    int number = 0;  ///< in the sample; 0: the case as it is
    std::vector<ShareTried> tried;
    bool failed = false;  ///< a computation of it could not be done
  };
  std::vector<Bed> beds;
};

/// The case as it is, and the first `count` points of the sample (0: the case alone).
TipSearch tip_search(const ReadCase& read, const TipAims& aims, int count);

/// The highest share of at most `aims.most` that the case can take (its bin may not hold more).
TipAims within_the_bin(const ReadCase& read, TipAims aims);

/// What is known already of the case's own share of chips: of the case as it is and of plausible beds.
/// Nothing where the case has no chips.
void know_share(TipSearch& search, const QuickRuns& known);

/// Halves until every tip of every search is found, all next shares of all beds beside each other. Returns
/// the seconds of computing. Throws Stopped.
double find_tips(std::vector<TipSearch>& searches, const Sample& sample, const CommonOptions& common,
                 Progress& progress, const std::string& what);

/// What was found of a bed; both empty where a computation failed.
ChipTips tips_of(const TipSearch& search, const TipSearch::Bed& bed);

}  // namespace updraught
