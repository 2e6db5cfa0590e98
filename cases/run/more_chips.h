// What more chips in a recipe would do: one more quick computation.
#pragma once

#include <optional>

#include "cases/run/members.h"
#include "post/result/result.h"

namespace updraught {

/// The case with ten points more chips in its one mix, in quick detail; nothing where more than 90 % of the
/// buckets would be chips, where there are several layers, or where the bin cannot hold them.
struct MoreChipsMember {
  Member member;
  MoreChips chips;  ///< shares and buckets; what they bring is not known yet
};
std::optional<MoreChipsMember> with_more_chips(const ReadCase& read);

}  // namespace updraught
