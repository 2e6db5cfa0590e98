#include "cases/run/plausible_beds.h"

#include <fmt/format.h>

#include <algorithm>
#include <thread>

#include "cases/machine/expected_cost.h"
#include "cases/run/members_beside.h"

namespace updraught {

namespace {

// About half a minute on two cores, where a computation takes up to 1.4 times what it should cost
// (docs/solvers.md) with start and reading.
constexpr double seconds_to_spend = 45.0;
// About a minute and a half. Where beds are dearer, for instance several whole ones with wind through them,
// fewer have to do.
constexpr double most_seconds = 150.0;
// Numbers of points with which the sequence fills the cube most evenly.
constexpr int many_tries = 64;
constexpr int usual_tries = 32;
constexpr int few_tries = 16;

}  // namespace

int cores_for(const CommonOptions& common) {
  return common.threads > 0 ? common.threads : std::max(1, int(std::thread::hardware_concurrency()));
}

double seconds_of_a_bed(const ReadCase& read) {
  Member member = quick_member(read);
  move_to(read, Sample({&read}, 1, 1), 1, member);
  const ReadOutcome bed = read_case_text(read.text, read.file, member.overrides);
  return expected_cost(bed.read ? bed.read->problem : read.problem, 1).seconds;
}

int tries_for(const std::vector<const ReadCase*>& cases, const SampleOptions& wanted,
              double computations_a_bed) {
  if (wanted.tries > 0) return wanted.tries;
  double seconds = 0.0;
  for (const ReadCase* read : cases) seconds += computations_a_bed * seconds_of_a_bed(*read);
  if (seconds * many_tries <= seconds_to_spend) return many_tries;
  return seconds * usual_tries <= most_seconds ? usual_tries : few_tries;
}

double seconds_of_beds(const ReadCase& read, const SampleOptions& wanted) {
  if (read.problem.batches.empty() || read.problem.uncertain.empty()) return 0.0;
  return tries_for({&read}, wanted) * seconds_of_a_bed(read);
}

Member quick_member(const ReadCase& read, std::optional<double> woodchip_share) {
  Member member{read.file, read.text, in_quick_detail(read.overrides), read.name};
  if (woodchip_share) put(member.overrides, "woodchip_share", case_text(*woodchip_share));
  return member;
}

void keep_asked_detail(const Overrides& asked, Overrides& overrides) {
  for (const char* key : {"detail", "cells"})
    if (const Override* wanted = find(asked, key)) {
      drop(overrides, "detail");
      overrides.push_back(*wanted);
    }
}

void move_to(const ReadCase& read, const Sample& sample, int number, Member& member) {
  put(member.overrides, sample.laid_at(read, number));
  member.name += fmt::format(", plausible bed {}", number);
}

std::vector<Member> plausible_members(const ReadCase& read, const Sample& sample) {
  std::vector<Member> out{quick_member(read)};
  for (int number = 1; number <= sample.count(); ++number) {
    out.push_back(quick_member(read));
    move_to(read, sample, number, out.back());
  }
  return out;
}

PlausibleBeds beds_from(const MembersDone& done, std::size_t place, const ReadCase& read,
                        const Sample& sample) {
  PlausibleBeds out;
  if (done.have(place)) out.asked = done.summaries[place];
  out.tried.seed = sample.seed();
  for (const UncertainInput& input : read.problem.uncertain) out.tried.inputs.push_back(input.key);
  for (int number = 1; number <= sample.count(); ++number) {
    const std::size_t here = place + static_cast<std::size_t>(number);
    if (!done.have(here) || !done.summaries[here].course) continue;
    out.tried.beds.push_back({number, sample.point(read, number), *done.summaries[here].course});
    out.summaries.push_back(done.summaries[here]);
  }
  return out;
}

MembersDone run_for_command(const std::vector<Member>& members, const CommonOptions& common,
                            Progress& progress, const std::string& what) {
  return MembersBeside(members, program_file(common.program), cores_for(common)).finish(progress, what);
}

}  // namespace updraught
