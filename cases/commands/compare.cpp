// compare: the same measures of several cases side by side, and whether they differ more than is uncertain.
#include "post/compare.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cases/commands/command.h"
#include "cases/compute.h"
#include "cases/printing.h"
#include "cases/progress.h"
#include "cases/results_folder.h"
#include "cases/settings_runs.h"
#include "cases/stop.h"
#include "post/figures.h"
#include "post/summary_json.h"
#include "post/verdict.h"
#include "post/words.h"

namespace updraught {

namespace {

constexpr std::size_t members_a_case =
    9;  // three settings at its own wall gap, at none, and at the compared one

constexpr std::size_t most_on_a_sheet = 4;

struct ReadCases {
  std::vector<ReadCase> cases;
  int code = exit_done;
};

// Two files of one name in different folders must not share a folder of results.
void name_apart(std::vector<ReadCase>& cases) {
  std::set<std::string> taken;
  for (ReadCase& one : cases) {
    const std::string stem = one.name;
    for (int n = 2; !taken.insert(one.name).second; ++n) one.name = fmt::format("{}-{}", stem, n);
  }
}

// All mistakes in all files are told, not only those of the first.
ReadCases read_all(const CompareOptions& options) {
  ReadCases out;
  Overrides overrides = options.overrides;
  overrides.threads = options.common.threads;
  for (const std::filesystem::path& file : options.case_files) {
    ReadForCommand outcome = read_for_command(file, overrides);
    if (outcome.read) {
      out.cases.push_back(std::move(*outcome.read));
    } else {
      out.code = std::max(out.code, outcome.code);
    }
  }
  name_apart(out.cases);
  return out;
}

std::string folder_name(const std::vector<ReadCase>& cases) {
  std::string name = cases.front().name + "-and-" + cases[1].name;
  if (cases.size() > 2) name += fmt::format("-and-{}-more", cases.size() - 2);
  return name + ".comparison";
}

std::vector<Member> members_of(const std::vector<Computation>& computed, const CompareOptions& options) {
  std::vector<Member> out;
  for (std::size_t i = 0; i < computed.size(); ++i) {
    const MemberCase one{options.case_files[i], computed[i].read, options.overrides};
    for (const auto& members :
         {three_settings(one), three_settings(one, 0.0), three_settings(one, compared_gap)}) {
      out.insert(out.end(), members.begin(), members.end());
    }
  }
  return out;
}

std::vector<ComparedCase> with_bands(std::vector<Computation>& computed, const MembersDone& done) {
  std::vector<ComparedCase> out;
  for (std::size_t i = 0; i < computed.size(); ++i) {
    Computation& one = computed[i];
    ComparedCase compared;
    compared.quick = settings_from(done.summaries, members_a_case * i);
    compared.quick_no_gap = settings_from(done.summaries, members_a_case * i + 3);
    compared.quick_with_gap = settings_from(done.summaries, members_a_case * i + 6);
    const Summary asked = summarise(one.result);
    one.result.bands = bands_of(asked, compared.quick);
    one.quick_aired_share = day_at(compared.quick.middle, headline_day(asked)).aired_share;
    put_into_words(one);
    compared.asked = summarise(one.result);
    compared.air_paths = say_air_paths(one.findings);
    out.push_back(compared);
  }
  return out;
}

// Cases computed before a stop keep their results, without bands.
int end_early(std::vector<Computation>& computed, const std::string& why) {
  for (Computation& one : computed) {
    if (one.result.bands.empty()) put_into_words(one);
    write_results(one, true);
  }
  fmt::print(stderr, "updraught: {} The cases computed so far keep their results.\n", why);
  return exit_cannot_compute;
}

nlohmann::json as_json(const Comparison& comparison, const std::vector<Summary>& summaries,
                       double band_seconds) {
  nlohmann::json cases = nlohmann::json::array();
  for (const Summary& summary : summaries) cases.push_back(to_json(summary));
  nlohmann::json out = to_json(comparison);
  out["cases"] = cases;
  out["band_seconds"] = finite_or_null(band_seconds);
  return out;
}

std::vector<std::string> cautions_once(const std::vector<Computation>& computed) {
  std::vector<std::string> out;
  for (const Computation& one : computed) {
    for (const std::string& caution : one.cautions) {
      if (std::find(out.begin(), out.end(), caution) == out.end()) out.push_back(caution);
    }
  }
  return out;
}

// Each case asks its own question; the same one is asked once.
std::string questions(const std::vector<Computation>& computed) {
  std::vector<std::string> asked;
  std::string out;
  for (const Computation& one : computed) {
    const std::string& title = one.result.title;
    if (title.empty() || std::find(asked.begin(), asked.end(), title) != asked.end()) continue;
    asked.push_back(title);
    out += (out.empty() ? "" : " ") + title;
  }
  return out;
}

// The aired share at both wall gaps, one line each, for the sheet.
SheetTable gap_lines(const Comparison& comparison) {
  SheetTable out;
  for (const GapRow& gap : comparison.gaps) {
    std::vector<std::string> line{
        fmt::format("Enough air, gap of {:.0f} mm at the wall (quick)", 1e3 * gap.gap)};
    for (const RangedValue& value : gap.values) {
      std::string cell = percent(value.value);
      // A range that is none once rounded is left out, as in the rows above it.
      if (value.band && percent(value.band->low) != percent(value.band->high))
        cell += fmt::format(" ({:.0f}–{:.0f})", 100.0 * value.band->low, 100.0 * value.band->high);
      line.push_back(cell);
    }
    out.push_back(line);
  }
  return out;
}

void draw(const Comparison& comparison, const std::vector<Computation>& computed,
          const std::filesystem::path& folder) {
  // A sheet holds up to four cases side by side; more would not be readable in print.
  if (computed.size() > most_on_a_sheet) return;
  SheetWords words;
  words.question = questions(computed);
  words.answer = comparison.verdict;
  words.more_rows = gap_lines(comparison);
  words.notes = cautions_once(computed);
  std::vector<Result> results;
  results.reserve(computed.size());
  for (const Computation& one : computed) results.push_back(one.result);
  write_compare_sheet(results, words, comparison.day, folder.string());
}

int write_and_print(const Comparison& comparison, std::vector<Computation>& computed, double band_seconds,
                    const std::filesystem::path& folder, bool json) {
  std::vector<Summary> summaries;
  summaries.reserve(computed.size());
  for (Computation& one : computed) summaries.push_back(write_results(one, true));
  const nlohmann::json object = as_json(comparison, summaries, band_seconds);
  const std::string table = comparison_table(comparison);
  const std::string words = paragraphs(comparison.verdict) + "\n" + paragraphs(cautions_once(computed));
  write_text(folder / "comparison.json", object.dump(2) + "\n");
  write_text(folder / "table.txt", table);
  write_text(folder / "verdict.txt", words);
  draw(comparison, computed, folder);
  if (json) {
    fmt::print("{}\n", object.dump(2));
  } else {
    fmt::print("{}\n{}\nResults: {}\n", words, table, folder.string());
    if (computed.size() <= most_on_a_sheet)
      fmt::print("The sheet to look at first: {}\n", (folder / "compare.png").string());
  }
  return exit_done;
}

int compare_cases(const CompareOptions& options) {
  const ReadCases read = read_all(options);
  if (read.code != exit_done) return read.code;
  const std::filesystem::path folder = results_folder(options.common.out, folder_name(read.cases));
  require_free(folder, options.common.force);

  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  std::vector<Computation> computed;
  for (const ReadCase& one : read.cases) {
    computed.push_back(compute(one, folder / one.name, progress));
    if (computed.back().result.run.stopped) return end_early(computed, "stopped.");
  }
  MembersDone done;
  try {
    done = run_for_command(members_of(computed, options), options.common, progress, "how sure");
  } catch (const MemberFailed& error) {
    return end_early(computed, error.what());
  } catch (const Stopped&) {
    return end_early(computed, "stopped.");
  }
  const std::vector<ComparedCase> cases = with_bands(computed, done);
  return write_and_print(compare(cases), computed, done.seconds, folder, options.common.json);
}

}  // namespace

int compare_command(const CompareOptions& options) {
  return with_plain_messages([&options] { return compare_cases(options); });
}

}  // namespace updraught
