// The quick computations behind low and high: one case in three settings of its uncertain inputs
// (theory 8.4).
#pragma once

#include <optional>
#include <vector>

#include "cases/run/members.h"
#include "cases/terminal/options.h"
#include "cases/terminal/progress.h"
#include "post/answer/findings.h"

namespace updraught {

/// Members in the settings adverse, middle, favourable, in quick detail; with another wall gap (m) or
/// woodchip share where given.
std::vector<Member> three_settings(const ReadCase& read, std::optional<double> wall_gap = {},
                                   std::optional<double> woodchip_share = {});

/// Three summaries from a place on, in that order.
ThreeSettings settings_from(const std::vector<Summary>& summaries, std::size_t place);

/// Members that move one uncertain input alone to its adverse end: mixing, Ergun sizes, uptake.
std::vector<Member> one_at_a_time(const ReadCase& read);

/// What those three say on a day, against the middle setting.
Sensitivity sensitivity_from(const std::vector<Summary>& summaries, std::size_t place, const Summary& middle,
                             double day);

/// The case with ten points more chips in its one mix, in the middle setting and quick detail; nothing where
/// more than 90 % of the buckets would be chips, where there are several layers, or where the bin cannot hold
/// them.
struct MoreChipsMember {
  Member member;
  MoreChips chips;  ///< shares and buckets; what it airs is not known yet
};
std::optional<MoreChipsMember> with_more_chips(const ReadCase& read);

/// Runs members for a command, as many at once as it may use cores, and tells how far they are.
MembersDone run_for_command(const std::vector<Member>& members, const CommonOptions& common,
                            Progress& progress, const std::string& what);

}  // namespace updraught
