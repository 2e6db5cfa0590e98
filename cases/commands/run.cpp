// run: computes a case; verdict, figures, results.
#include <fmt/format.h>

#include <iostream>
#include <new>

#include "cases/commands/command.h"
#include "cases/output/announce.h"
#include "cases/output/case_files.h"
#include "cases/output/printing.h"
#include "cases/output/results_folder.h"
#include "cases/run/compute.h"
#include "cases/run/more_chips.h"
#include "cases/run/plausible_beds.h"
#include "cases/terminal/progress.h"
#include "cases/terminal/stop.h"
#include "post/result/intervals.h"
#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"

namespace updraught {

namespace {

// A child process of another command: nothing but the summary goes out.
int run_member(const RunOptions& options) {
  end_with_parent();
  const ReadForCommand outcome = for_command(
      read_case_stream(std::cin, options.case_file.string(), options.overrides), options.common.threads);
  if (!outcome.read) return outcome.code;
  print(json_text(to_json(compute_member(*outcome.read)), -1) + "\n");
  return exit_done;
}

// What the quick computations tell; what one of them lacks is left out. Returns what could not be done.
std::string use_members(Computation& computation, const MembersDone& done, const Sample& sample,
                        std::optional<MoreChipsMember> more) {
  PlausibleBeds beds = beds_from(done, 0, computation.read, sample);
  QuickRuns& told = computation.result.quick;
  told.seconds = done.seconds;
  if (beds.asked) told.asked = beds.asked->course;
  if (beds.tried.beds.size() > 1) {
    computation.result.bands = bands_of(summarise(computation.result), beds.summaries);
    told.tried = std::move(beds.tried);
  }
  if (more && told.asked && done.have(done.summaries.size() - 1)) {
    more->chips.airless_share = told.asked->airless_share;
    more->chips.other_airless_share = done.summaries.back().course->airless_share;
    told.more_chips = more->chips;
  }
  const std::string failures = failures_in_words(done);
  return failures.empty() || !computation.result.bands.empty() ? failures
                                                               : "What is likely is missing: " + failures;
}

std::string add_band(Computation& computation, const RunOptions& options, Progress& progress) {
  const ReadCase& read = computation.read;
  // What is prescribed is what was asked for, weather and all.
  if (read.problem.batches.empty() || read.problem.uncertain.empty()) {
    computation.result.bands = bands_without_width(summarise(computation.result));
    return "";
  }
  const Sample sample({&read}, tries_for({&read}, options.sample), options.sample.seed);
  std::vector<Member> members = plausible_members(read, sample);
  std::optional<MoreChipsMember> more;
  if (wants_air(find(computation.result))) more = with_more_chips(read);
  if (more) members.push_back(more->member);
  const MembersDone done = run_for_command(members, options.common, progress, "how sure");
  return use_members(computation, done, sample, more);
}

// What is likely is worth a message when it cannot be had, not the loss of the result.
std::string try_to_add_band(Computation& computation, const RunOptions& options, Progress& progress) {
  const bool wanted = !options.no_band && options.bed == 0;
  if (computation.result.run.stopped)
    return wanted ? "Stopped; what is likely was not computed." : "Stopped before its end.";
  if (!wanted) return "";
  try {
    return add_band(computation, options, progress);
  } catch (const Stopped&) {
    return "Stopped; what is likely was not computed.";
  } catch (const std::bad_alloc&) {
    return "What is likely is missing: there is not enough memory for it.";
  } catch (const std::exception& error) {
    return sentence(std::string("What is likely is missing: ") + error.what());
  }
}

void tell_before(const ReadCase& read, const RunOptions& options, Progress& progress) {
  for (const Diagnostic& doubt : read.doubts) progress.say(to_text(doubt));
  const bool with_band = !options.no_band && options.bed == 0;
  const Announced cost =
      announced(read, options.common.threads, with_band ? seconds_of_beds(read, options.sample) : 0.0);
  progress.say(fmt::format("This takes {}; {}.", told_duration(cost), told_memory(cost)));
}

int run_into(ResultsFolder& place, const ReadCase& read, const RunOptions& options) {
  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  tell_before(read, options, progress);
  Computation computation = compute(read, place.work(), progress);
  std::vector<std::string> troubles;
  const std::string trouble = try_to_add_band(computation, options, progress);
  if (!trouble.empty()) troubles.push_back(trouble);
  put_into_words(computation);
  const WrittenResults written = write_results(computation, !options.no_figures);
  troubles.insert(troubles.end(), written.troubles.begin(), written.troubles.end());
  if (!written.summary.ended.empty()) troubles.push_back(written.summary.ended);
  settle(place, troubles.empty(), troubles);
  if (options.common.json) {
    print(json_text(to_json(written.summary)) + "\n");
  } else {
    print_for_people(computation.result, computation.told, place.shown(),
                     !options.no_figures && written.troubles.empty());
  }
  return told_troubles(troubles);
}

int run_case(const RunOptions& options) {
  const int threads = options.common.threads;
  ReadForCommand outcome = for_command(read_case_file(options.case_file, options.overrides), threads);
  if (!outcome.read) return outcome.code;
  if (options.bed > 0) {
    // Read again, since another bed can be too high for the bin.
    const ReadCase first = *outcome.read;
    const Sample sample({&first}, options.bed, options.sample.seed);
    Overrides overrides = first.overrides;
    put(overrides, sample.laid_at(first, options.bed));
    outcome = for_command(read_case_text(first.text, first.file, overrides), threads);
    if (!outcome.read) return outcome.code;
  }
  const ReadCase& read = *outcome.read;
  ResultsFolder place(results_folder(options.common.out, file_word(read.name, "case") + ".results"),
                      options.common.force);
  return with_results_folder(place, [&] { return run_into(place, read, options); });
}

}  // namespace

int run_command(const RunOptions& options) {
  return with_plain_messages([&options] { return options.member ? run_member(options) : run_case(options); });
}

}  // namespace updraught
