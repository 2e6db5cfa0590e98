// compare: the same measures of several cases side by side, and whether they differ more than is uncertain.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cases/commands/command.h"
#include "cases/output/printing.h"
#include "cases/output/results_folder.h"
#include "cases/run/compute.h"
#include "cases/run/members_beside.h"
#include "cases/run/plausible_beds.h"
#include "cases/run/tip_search.h"
#include "cases/terminal/progress.h"
#include "cases/terminal/stop.h"
#include "post/answer/comparison.h"
#include "post/answer/verdict.h"
#include "post/sheets/figures.h"
#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"
#include "post/words/words.h"

namespace updraught {

namespace {

// Plausible beds in which the chips that a design needs are looked for: the first of the sample, since each
// takes four or five computations.
constexpr int beds_for_chips = 16;
// Up to this share of chips they are looked for.
constexpr double most_chips = 0.90;
// Computations that it takes to find the share of one bed, and the time on one core (s) up to which they are
// made unasked; our choice.
constexpr double tries_a_bed = 3.5;
constexpr double unasked_seconds = 60.0;

constexpr std::size_t most_on_a_sheet = 4;

struct ReadCases {
  std::vector<ReadCase> cases;
  int code = exit_done;
};

// Each case gets a folder beside the comparison's own files: two files of one name in different folders must
// not share it, and none may have the name of such a file.
void name_apart(std::vector<ReadCase>& cases) {
  std::set<std::string> taken{"comparison.json",    "table.txt",          "verdict.txt", "compare.png",
                              "compare.svg",        "compare.pdf",        written_list,  work_folder,
                              "compare-page-2.png", "compare-page-2.svg", aside_folder};
  for (ReadCase& one : cases) {
    const std::string stem = one.name = file_word(one.name, "case");
    for (int n = 2; !taken.insert(one.name).second; ++n) one.name = fmt::format("{}-{}", stem, n);
  }
}

// What a case is called in the answer: its design's own name, where no other has the same.
std::string called(const Computation& one, const std::vector<Computation>& all) {
  const std::string& design = one.read.problem.design;
  const auto same = [&](const Computation& other) { return other.read.problem.design == design; };
  return design.empty() || std::count_if(all.begin(), all.end(), same) > 1 ? one.result.name : design;
}

// All mistakes in all files are told, not only those of the first.
ReadCases read_all(const CompareOptions& options) {
  ReadCases out;
  for (const std::filesystem::path& file : options.case_files) {
    ReadForCommand outcome = for_command(read_case_file(file, options.overrides), options.common.threads);
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

Sample sample_of(const std::vector<ReadCase>& cases, const SampleOptions& wanted) {
  std::vector<const ReadCase*> list;
  list.reserve(cases.size());
  for (const ReadCase& one : cases) list.push_back(&one);
  return Sample(list, tries_for(list, wanted), wanted.seed);
}

std::vector<Member> members_of(const std::vector<ReadCase>& cases, const Sample& sample) {
  std::vector<Member> out;
  for (const ReadCase& one : cases) {
    const std::vector<Member> members = plausible_members(one, sample);
    out.insert(out.end(), members.begin(), members.end());
  }
  return out;
}

// The cases of which plausible beds are there; the others are told and left out.
std::vector<ComparedCase> with_beds(std::vector<Computation>& computed, const MembersDone& done,
                                    const Sample& sample, std::vector<std::string>& troubles) {
  std::vector<ComparedCase> out;
  for (std::size_t i = 0; i < computed.size(); ++i) {
    Computation& one = computed[i];
    PlausibleBeds beds = beds_from(done, i * static_cast<std::size_t>(sample.count() + 1), one.read, sample);
    if (beds.tried.beds.size() < 2 || one.result.run.series.empty()) {
      troubles.push_back(one.read.name +
                         " was left out of the comparison, since its plausible beds are missing.");
      put_into_words(one);
      continue;
    }
    const Summary asked = summarise(one.result);
    one.result.bands = bands_of(asked, beds.summaries);
    if (beds.asked) one.result.quick.asked = beds.asked->course;
    one.result.quick.tried = std::move(beds.tried);
    put_into_words(one);
    out.push_back({called(one, computed),
                   *asked.course,
                   one.result.quick.asked,
                   one.result.quick.tried,
                   {},
                   one.read.problem.uncertain,
                   say_air_paths(one.told.findings)});
  }
  return out;
}

/// Whether there is a share of chips to look for.
bool mixes_chips(const ReadCase& read) {
  const auto is_chips = [](const RecipeLine& line) { return line.chips; };
  return !read.problem.batches.empty() && !std::all_of(read.recipe.begin(), read.recipe.end(), is_chips);
}

/// What it should take to look for the chips that each design needs, on one core (s).
double seconds_for_chips(const std::vector<Computation>& computed, const Sample& sample) {
  double seconds = 0.0;
  for (const Computation& one : computed)
    seconds += tries_a_bed * (1 + std::min(sample.count(), beds_for_chips)) * seconds_of_a_bed(one.read);
  return seconds;
}

/// How many chips each design needs to keep its air, where all of them mix some into something.
double find_chips(std::vector<ComparedCase>& compared, const std::vector<Computation>& computed,
                  const Sample& sample, const CommonOptions& common, Progress& progress) {
  TipAims aims;
  aims.most = most_chips;
  std::vector<TipSearch> searches;
  for (const Computation& one : computed) {
    if (!mixes_chips(one.read)) return 0.0;
    if (one.result.quick.tried.beds.empty()) continue;
    searches.push_back(tip_search(one.read, aims, std::min(sample.count(), beds_for_chips)));
    searches.back().want_hot = false;
    know_share(searches.back(), one.result.quick);
  }
  const double seconds = find_tips(searches, sample, common, progress, "chips that are needed");
  for (std::size_t n = 0; n < searches.size(); ++n)
    for (const TipSearch::Bed& bed : searches[n].beds)
      if (!bed.failed) compared[n].tips.push_back(tips_of(searches[n], bed));
  return seconds;
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

std::vector<std::string> cautions_once(const std::vector<Computation>& computed, Caution::Kind kind) {
  std::vector<std::vector<Caution>> all;
  all.reserve(computed.size());
  for (const Computation& one : computed) all.push_back(one.told.cautions);
  return words_once(all, kind);
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

void draw(const Comparison& comparison, const std::vector<Computation>& computed,
          const std::filesystem::path& folder, std::vector<std::string>& troubles) {
  SheetWords words;
  words.question = questions(computed);
  words.answer = comparison.verdict;
  words.notes = cautions_once(computed, Caution::Kind::care);
  words.warnings = cautions_once(computed, Caution::Kind::warning);
  std::vector<Result> results;
  // Only those that the table speaks of stand side by side.
  for (const Computation& one : computed) {
    const auto& names = comparison.names;
    const std::string name = called(one, computed);
    if (std::find(names.begin(), names.end(), name) == names.end()) continue;
    results.push_back(one.result);
    results.back().name = name;
  }
  const FigureFiles files = write_compare_sheet(results, words, day_to_draw(results), folder.string());
  for (const std::string& trouble : files.troubles) troubles.push_back(sentence(trouble));
}

/// What a comparison leaves, beside the folders of its cases.
struct Answer {
  Comparison comparison;
  std::string words;
  std::string table;
  std::string json;  ///< text
};

Answer answer_of(const std::vector<ComparedCase>& cases, const std::vector<Computation>& computed,
                 double band_seconds) {
  Answer out;
  out.comparison = compare(cases);
  std::vector<Summary> summaries;
  summaries.reserve(computed.size());
  for (const Computation& one : computed) {
    summaries.push_back(summary_of(one.result, one.told));
  }
  out.json = json_text(as_json(out.comparison, summaries, band_seconds)) + "\n";
  out.words = paragraphs(out.comparison.verdict) + "\n";
  for (const Caution::Kind kind : {Caution::Kind::warning, Caution::Kind::reach, Caution::Kind::care})
    out.words += paragraphs(cautions_once(computed, kind));
  out.table = comparison_table(out.comparison);
  return out;
}

void write_answer(const Answer& answer, const std::filesystem::path& folder,
                  std::vector<std::string>& troubles) {
  try_to(troubles, [&] { write_text_file(folder / "verdict.txt", answer.words); });
  try_to(troubles, [&] { write_text_file(folder / "comparison.json", answer.json); });
  try_to(troubles, [&] { write_text_file(folder / "table.txt", answer.table); });
}

void write_cases(std::vector<Computation>& computed, std::vector<std::string>& troubles) {
  for (Computation& one : computed) {
    const WrittenResults written = write_results(one, true);
    for (const std::string& trouble : written.troubles) troubles.push_back(one.read.name + ": " + trouble);
    if (!written.summary.ended.empty()) troubles.push_back(one.read.name + ": " + written.summary.ended);
  }
}

// Cases computed before a stop keep their results, without bands.
int end_early(std::vector<Computation>& computed, ResultsFolder& place, std::vector<std::string> troubles) {
  for (Computation& one : computed)
    if (one.result.bands.empty()) put_into_words(one);
  write_cases(computed, troubles);
  settle(place, false, troubles);
  troubles.push_back("The cases computed so far keep their results in " + place.shown().string() + ".");
  return told_troubles(troubles);
}

void print_answer(const Answer& answer, const std::filesystem::path& folder, bool sheet, bool as_object) {
  if (as_object) return print(answer.json);
  std::string text = fmt::format("{}\n{}\nResults: {}\n", answer.words, answer.table, folder.string());
  if (sheet) text += fmt::format("The sheet to look at first: {}\n", (folder / "compare.png").string());
  if (answer.comparison.names.size() > most_on_a_sheet)
    text += "No sheet holds more than four cases side by side; each has one of its own in its folder.\n";
  print(text);
}

int compare_into(ResultsFolder& place, const std::vector<ReadCase>& cases, const CompareOptions& options) {
  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  const Sample sample = sample_of(cases, options.sample);
  MembersBeside beds(members_of(cases, sample), program_file(options.common.program),
                     cores_for(options.common));
  std::vector<Computation> computed;
  for (const ReadCase& one : cases) {
    computed.push_back(compute(one, place.work() / one.name, progress, [&] { return beds.threads_here(); }));
    if (computed.back().result.run.stopped) return end_early(computed, place, {"Stopped."});
  }
  std::vector<ComparedCase> compared;
  std::vector<std::string> troubles;
  double seconds = 0.0;
  try {
    const MembersDone done = beds.finish(progress, "how sure");
    if (done.failed > 0) troubles.push_back(failures_in_words(done));
    compared = with_beds(computed, done, sample, troubles);
    if (compared.size() < 2) {
      troubles.emplace_back("Fewer than two cases are left to compare.");
      return end_early(computed, place, troubles);
    }
    seconds = done.seconds;
    if (options.chips || (!options.no_chips && seconds_for_chips(computed, sample) <= unasked_seconds))
      seconds += find_chips(compared, computed, sample, options.common, progress);
    else if (!options.no_chips)
      progress.say("How many chips each design needs would take long to find; --chips asks for it.");
  } catch (const Stopped&) {
    return end_early(computed, place, {"Stopped."});
  }
  const Answer answer = answer_of(compared, computed, seconds);
  write_answer(answer, place.work(), troubles);
  write_cases(computed, troubles);
  // A sheet holds up to four cases side by side; more would not be readable in print.
  const bool sheet = compared.size() <= most_on_a_sheet;
  if (sheet) try_to(troubles, [&] { draw(answer.comparison, computed, place.work(), troubles); });
  settle(place, troubles.empty(), troubles);
  print_answer(answer, place.shown(), sheet && troubles.empty(), options.common.json);
  return told_troubles(troubles);
}

int compare_cases(const CompareOptions& options) {
  const ReadCases read = read_all(options);
  if (read.code != exit_done) return read.code;
  ResultsFolder place(results_folder(options.common.out, folder_name(read.cases)), options.common.force);
  return with_results_folder(place, [&] { return compare_into(place, read.cases, options); });
}

}  // namespace

int compare_command(const CompareOptions& options) {
  return with_plain_messages([&options] { return compare_cases(options); });
}

}  // namespace updraught
