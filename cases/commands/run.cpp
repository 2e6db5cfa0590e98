// run: computes a case; verdict, figures, results.
#include <fmt/format.h>

#include "cases/announce.h"
#include "cases/commands/command.h"
#include "cases/compute.h"
#include "cases/printing.h"
#include "cases/progress.h"
#include "cases/results_folder.h"
#include "cases/settings_runs.h"
#include "cases/stop.h"
#include "post/bands.h"
#include "post/summary_json.h"

namespace updraught {

namespace {

// A child process of another command: nothing but the summary goes out.
int run_member(const RunOptions& options) {
  end_with_parent();
  Overrides overrides = options.overrides;
  overrides.threads = options.common.threads;
  overrides.setting = setting_from_word(options.member);
  const ReadForCommand outcome = read_for_command(options.case_file, overrides);
  if (!outcome.read) return outcome.code;
  fmt::print("{}\n", to_json(compute_member(*outcome.read)).dump());
  return exit_done;
}

Setting named_setting(const ReadCase& read, const std::string& name) {
  const UncertainSettings settings = uncertain_settings(read);
  if (name == "adverse") return settings.adverse;
  if (name == "favourable") return settings.favourable;
  return settings.middle;
}

void add_band(Computation& computation, const RunOptions& options, Progress& progress) {
  const Summary asked = summarise(computation.result);
  if (computation.read.problem.batches.empty()) {
    computation.result.bands = bands_without_width(asked);
    return;
  }
  const MemberCase one{options.case_file, computation.read, options.overrides};
  std::vector<Member> members = three_settings(one);
  for (const Member& member : one_at_a_time(one)) members.push_back(member);
  std::optional<MoreChipsMember> more;
  if (wants_air(find(computation.result, computation.read.problem))) more = with_more_chips(one);
  if (more) members.push_back(more->member);
  const MembersDone done = run_for_command(members, options.common, progress, "how sure");
  const ThreeSettings quick = settings_from(done.summaries, 0);
  const double day = headline_day(asked);
  computation.band_seconds = done.seconds;
  computation.result.bands = bands_of(asked, quick);
  computation.quick_aired_share = day_at(quick.middle, day).aired_share;
  computation.sensitivity = sensitivity_from(done.summaries, 3, quick.middle, day);
  if (!more) return;
  more->chips.aired_share = *computation.quick_aired_share;
  more->chips.other_aired_share = day_at(done.summaries.back(), day).aired_share;
  computation.more_chips = more->chips;
}

// Low and high are worth a message when they cannot be had, not the loss of the result.
std::string try_to_add_band(Computation& computation, const RunOptions& options, Progress& progress) {
  const bool wanted = !options.no_band && options.setting.empty();
  if (computation.result.run.stopped)
    return wanted ? "Stopped; low and high were not computed." : "Stopped before its end.";
  if (!wanted) return "";
  try {
    add_band(computation, options, progress);
  } catch (const MemberFailed& error) {
    return std::string("Low and high are missing: ") + error.what();
  } catch (const Stopped&) {
    return "Stopped; low and high were not computed.";
  }
  return "";
}

void print_for_people(const Computation& computation, const Summary& summary, bool pictures) {
  fmt::print("{}\n\n{}\n{}", computation.result.title, paragraphs(summary.verdict),
             paragraphs(summary.cautions));
  if (pictures) {
    fmt::print("\nThe sheet to look at first: {}\n", (computation.folder / "figures" / "sheet.png").string());
    fmt::print("For visualisers: {}\n", (computation.folder / "view" / "bed.pvd").string());
  }
  fmt::print("Results: {}\n", computation.folder.string());
}

void tell_before(const ReadCase& read, const RunOptions& options, Progress& progress) {
  for (const Diagnostic& doubt : read.doubts) progress.say(to_text(doubt));
  const bool with_band = !options.no_band && options.setting.empty();
  const Announced cost = announced(read, options.common.threads, with_band);
  progress.say(fmt::format("This takes {}; {}.", told_duration(cost), told_memory(cost)));
}

int run_case(const RunOptions& options) {
  Overrides overrides = options.overrides;
  overrides.threads = options.common.threads;
  ReadForCommand outcome = read_for_command(options.case_file, overrides);
  if (!outcome.read) return outcome.code;
  if (!options.setting.empty()) {
    // Read again, since a setting can make the fill too high for the bin.
    overrides.setting = named_setting(*outcome.read, options.setting);
    outcome = read_for_command(options.case_file, overrides);
    if (!outcome.read) return outcome.code;
  }
  const ReadCase& read = *outcome.read;
  const std::filesystem::path folder = results_folder(options.common.out, read.name + ".results");
  require_free(folder, options.common.force);

  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  tell_before(read, options, progress);
  Computation computation = compute(read, folder, progress);
  const std::string trouble = try_to_add_band(computation, options, progress);
  put_into_words(computation);
  const Summary summary = write_results(computation, !options.no_figures);
  if (options.common.json) {
    fmt::print("{}\n", to_json(summary).dump(2));
  } else {
    print_for_people(computation, summary, !options.no_figures);
  }
  if (trouble.empty()) return exit_done;
  fmt::print(stderr, "updraught: {}\n", trouble);
  return exit_cannot_compute;
}

}  // namespace

int run_command(const RunOptions& options) {
  return with_plain_messages(
      [&options] { return options.member.empty() ? run_case(options) : run_member(options); });
}

}  // namespace updraught
