// Plausible beds of a case: the case at the points of a sample, in quick detail, each in a child process
// (theory 8.4).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/run/members.h"
#include "cases/run/sample_points.h"
#include "cases/terminal/options.h"
#include "cases/terminal/progress.h"
#include "post/result/tried_beds.h"

namespace updraught {

/// What a person says of the sample.
struct SampleOptions {
  int tries = 0;  ///< plausible beds; 0: 64, 32 or 16, by what they should cost
  int seed = 1;
};

/// As many as are wanted, or by what these cases should cost on two cores where each bed takes so many
/// computations; never by a clock, so that equal words give equal answers.
int tries_for(const std::vector<const ReadCase*>& cases, const SampleOptions& wanted,
              double computations_a_bed = 1.0);

/// What one plausible bed of a case should cost on one core (s). A wind that the case does not name can make
/// it dearer than the case in quick detail.
double seconds_of_a_bed(const ReadCase& read);

/// The same of all plausible beds of a case; 0 where nothing is uncertain.
double seconds_of_beds(const ReadCase& read, const SampleOptions& wanted);

/// A case in quick detail; with another woodchip share where given.
Member quick_member(const ReadCase& read, std::optional<double> woodchip_share = {});

/// A detail or cells that were asked for in place of the quick ones.
void keep_asked_detail(const Overrides& asked, Overrides& overrides);

/// Moves a member of a case to a point of the sample (from 1). There a wind may blow through the bin, so that
/// it must be computed whole.
void move_to(const ReadCase& read, const Sample& sample, int number, Member& member);

/// The case as it is and at every point, in this order.
std::vector<Member> plausible_members(const ReadCase& read, const Sample& sample);

/// What those told.
struct PlausibleBeds {
  std::optional<Summary> asked;    ///< the case as it is, in quick detail; empty where that failed
  TriedBeds tried;                 ///< without those that failed
  std::vector<Summary> summaries;  ///< of the beds tried
};
PlausibleBeds beds_from(const MembersDone& done, std::size_t place, const ReadCase& read,
                        const Sample& sample);

/// Cores that a command may use.
int cores_for(const CommonOptions& common);

/// Runs members for a command, as many at once as it may use cores, and tells how far they are.
MembersDone run_for_command(const std::vector<Member>& members, const CommonOptions& common,
                            Progress& progress, const std::string& what);

}  // namespace updraught
