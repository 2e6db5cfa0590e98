#include "cases/run/more_chips.h"

#include <cmath>

#include "cases/run/plausible_beds.h"

namespace updraught {

std::optional<MoreChipsMember> with_more_chips(const ReadCase& read) {
  double waste = 0.0;
  double chips = 0.0;
  for (const RecipeLine& line : read.recipe) (line.chips ? chips : waste) += line.buckets;
  if (read.problem.batches.size() != 1 || waste <= 0.0) return {};
  MoreChipsMember out;
  out.chips.share = chips / (chips + waste);
  // Whole points, so that the sentence names the share that is computed.
  out.chips.other_share = std::round(100.0 * out.chips.share + 10.0) / 100.0;
  if (out.chips.other_share > 0.9) return {};
  out.chips.more_buckets = out.chips.other_share / (1.0 - out.chips.other_share) * waste - chips;
  out.member = quick_member(read, out.chips.other_share);
  out.member.name += " with more chips";
  if (!read_case_text(read.text, read.file, out.member.overrides).read) return {};
  return out;
}

}  // namespace updraught
