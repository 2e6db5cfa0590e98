// run: computes a case; verdict, figures, results.
#include <fmt/format.h>

#include <iostream>

#include "cases/commands/command.h"
#include "cases/output/announce.h"
#include "cases/output/case_files.h"
#include "cases/output/printing.h"
#include "cases/output/results_folder.h"
#include "cases/run/likely.h"
#include "cases/terminal/stop.h"
#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"

namespace updraught {

namespace {

/// One plausible bed alone has no others around it.
bool wants_likely(const RunOptions& options) {
  return !options.no_band && options.bed == 0;
}

/// The case, or the one plausible bed of it that was asked for.
ReadForCommand read_asked(const RunOptions& options) {
  const int threads = options.common.threads;
  ReadForCommand asked = for_command(read_case_file(options.case_file, options.overrides), threads);
  if (!asked.read || options.bed == 0) return asked;
  const ReadCase& read = *asked.read;
  Overrides overrides = read.overrides;
  put(overrides, Sample({&read}, options.bed, options.sample.seed).laid_at(read, options.bed));
  // Checked as every case is, since another bed can be too high for the bin.
  return for_command(read_case_text(read.text, read.file, overrides), threads);
}

void announce(const ReadCase& read, const RunOptions& options, Progress& progress) {
  for (const Diagnostic& doubt : read.doubts) progress.say(to_text(doubt));
  const double beds = wants_likely(options) ? seconds_of_beds(read, options.sample) : 0.0;
  const Announced cost = announced(read, options.common.threads, beds);
  progress.say(fmt::format("This takes {}; {}.", told_duration(cost), told_memory(cost)));
}

/// What is likely, then all of it in words. Returns what could not be done.
std::string judge(Computation& computation, const RunOptions& options, Progress& progress) {
  std::string trouble;
  if (wants_likely(options))
    trouble = add_likely(computation, options.sample, options.common, progress);
  else if (computation.result.run.stopped)
    trouble = "Stopped before its end.";
  put_into_words(computation);
  return trouble;
}

void print_answer(const Computation& computation, const WrittenResults& written, const ResultsFolder& place,
                  const RunOptions& options) {
  if (options.common.json)
    print(json_text(to_json(written.summary)) + "\n");
  else
    print_for_people(computation.result, computation.told, place.shown(),
                     !options.no_figures && written.troubles.empty());
}

int compute_into(ResultsFolder& place, const ReadCase& read, const RunOptions& options) {
  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  announce(read, options, progress);

  // The solver lays the bed and marches it to its end; the store grows with it.
  Computation computation = compute(read, place.work(), progress);

  std::vector<std::string> troubles;
  if (const std::string trouble = judge(computation, options, progress); !trouble.empty())
    troubles.push_back(trouble);

  // The end of the store, tables and figures; then all of it from where it was written to where it belongs.
  const WrittenResults written = write_results(computation, !options.no_figures);
  troubles.insert(troubles.end(), written.troubles.begin(), written.troubles.end());
  if (!written.summary.ended.empty()) troubles.push_back(written.summary.ended);
  settle(place, troubles.empty(), troubles);

  print_answer(computation, written, place, options);
  return told_troubles(troubles);
}

int run_case(const RunOptions& options) {
  const ReadForCommand asked = read_asked(options);
  if (!asked.read) return asked.code;
  ResultsFolder place(results_folder(options.common.out, file_word(asked.read->name, "case") + ".results"),
                      options.common.force);
  return with_results_folder(place, [&] { return compute_into(place, *asked.read, options); });
}

/// In a child process of another command: nothing but the summary goes out.
int run_member(const RunOptions& options) {
  end_with_parent();
  const ReadForCommand asked = for_command(
      read_case_stream(std::cin, options.case_file.string(), options.overrides), options.common.threads);
  if (!asked.read) return asked.code;
  print(json_text(to_json(compute_member(*asked.read)), -1) + "\n");
  return exit_done;
}

}  // namespace

int run_command(const RunOptions& options) {
  return with_plain_messages([&options] { return options.member ? run_member(options) : run_case(options); });
}

}  // namespace updraught
