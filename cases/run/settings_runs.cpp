#include "cases/run/settings_runs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <thread>

#include "cases/reader/uncertain_inputs.h"
#include "cases/terminal/stop.h"

namespace updraught {

namespace {

Member quick_member(const ReadCase& read, const Overrides& setting) {
  Member member{read.file, read.text, in_quick_detail(read.overrides), read.name};
  put(member.overrides, setting);
  return member;
}

int cores(const CommonOptions& common) {
  return common.threads > 0 ? common.threads : std::max(1, int(std::thread::hardware_concurrency()));
}

}  // namespace

std::vector<Member> three_settings(const ReadCase& read, std::optional<double> wall_gap,
                                   std::optional<double> woodchip_share) {
  const UncertainSettings settings = uncertain_settings(read.problem);
  std::vector<Member> out;
  for (const Overrides& setting : {settings.adverse, settings.middle, settings.favourable}) {
    Member member = quick_member(read, setting);
    // A gap or share that is the case's own is not passed on, so that equal members are computed once.
    if (wall_gap && *wall_gap != read.problem.wall_gap)
      put(member.overrides, "wall_gap", case_text(*wall_gap, "m"));
    if (woodchip_share) put(member.overrides, "woodchip_share", case_text(*woodchip_share));
    out.push_back(member);
  }
  return out;
}

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
  out.member = quick_member(read, uncertain_settings(read.problem).middle);
  put(out.member.overrides, "woodchip_share", case_text(out.chips.other_share));
  out.member.name += " with more chips";
  if (!read_case_text(read.text, read.file, out.member.overrides).read) return {};
  return out;
}

ThreeSettings settings_from(const std::vector<Summary>& summaries, std::size_t place) {
  return {summaries.at(place), summaries.at(place + 1), summaries.at(place + 2)};
}

std::vector<Member> one_at_a_time(const ReadCase& read) {
  std::vector<Member> out;
  for (const Overrides& setting : one_input_adverse(read.problem)) out.push_back(quick_member(read, setting));
  return out;
}

Sensitivity sensitivity_from(const std::vector<Summary>& summaries, std::size_t place, const Summary& middle,
                             double day) {
  const double reference = day_at(middle, day).aired_share;
  const auto moved = [&](std::size_t n) {
    return day_at(summaries.at(place + n), day).aired_share - reference;
  };
  return {moved(0), moved(1), moved(2)};
}

MembersDone run_for_command(const std::vector<Member>& members, const CommonOptions& common,
                            Progress& progress, const std::string& what) {
  progress.start(what);
  MembersPlan plan;
  plan.program = program_file(common.program);
  plan.at_once = cores(common);
  plan.stop = stop_requested;
  plan.on_done = [&](int done, int all) {
    progress.update(double(done) / all, fmt::format("{} of {} quick computations", done, all));
  };
  MembersDone done = run_members(members, plan);
  progress.finish(fmt::format("{} quick computations", done.different - done.failed));
  return done;
}

}  // namespace updraught
