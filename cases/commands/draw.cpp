// draw: makes the words, tables, files for visualisers and figures of a case again, from its store alone.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "cases/commands/command.h"
#include "cases/output/case_files.h"
#include "cases/output/printing.h"
#include "cases/output/results_folder.h"
#include "post/store/store_pack.h"
#include "post/store/store_read.h"
#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"
#include "post/words/words.h"

namespace updraught {

namespace fs = std::filesystem;

namespace {

constexpr double seconds_a_day = 86400.0;

bool is_file(const fs::path& path) {
  std::error_code unknown;  // what cannot be looked at is told when it is read
  return fs::is_regular_file(path, unknown);
}

// Folders inside a folder that hold a store of their own, as a comparison leaves them.
std::vector<std::string> inner_stores(const fs::path& folder) {
  std::vector<std::string> names;
  std::error_code unknown;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, unknown))
    if (is_file(entry.path() / store_file_name)) names.push_back(entry.path().string());
  std::sort(names.begin(), names.end());
  return names;
}

// The store that a person means: the file itself, or the one in a folder of results, where a killed run's
// stands one folder deeper.
fs::path store_meant(const fs::path& named) {
  std::error_code unknown;
  if (!fs::is_directory(named, unknown)) return named;
  for (const fs::path& store : {named / store_file_name, named / work_folder / store_file_name})
    if (is_file(store)) return store;
  const std::vector<std::string> inner = inner_stores(named);
  if (inner.empty())
    throw StoreError(named.string() + " holds no " + store_file_name + ": nothing to draw from");
  throw StoreError(
      fmt::format("{} holds several cases; draw one of them: {}", named.string(), listed(inner)));
}

// What keeps the drawn files from being those of a whole run; empty: nothing.
std::string what_is_missing(const Result& result) {
  if (!result.whole)
    return fmt::format(
        "The run behind {} was killed or still goes on: this speaks of its first {} days, without low and "
        "high.",
        result.name, plain_number(to_digits(result.run.series.back().time / seconds_a_day, 3)));
  if (result.run.stopped) return "The run behind " + result.name + " was stopped before its end.";
  return result.run.ended;
}

// Results that are drawn into the folder of their own store keep it.
void keep_store(const fs::path& store, const ResultsFolder& place) {
  pack_store(store);
  const fs::path kept = place.work() / store_file_name;
  std::error_code other_disk;
  fs::create_hard_link(store, kept, other_disk);
  if (other_disk) fs::copy_file(store, kept);
}

int draw_into(ResultsFolder& place, Result& result, const fs::path& store, bool own_folder, bool as_object) {
  const Told told = tell(result);
  result.verdict = told.verdict;
  const Summary summary = summary_of(result, told);
  std::vector<std::string> troubles;
  write_words(summary, place.work(), troubles);
  if (own_folder) try_to(troubles, [&] { keep_store(store, place); });
  write_numbers(result, place.work(), troubles);
  write_pictures(result, told, place.work(), troubles);
  const bool drawn = troubles.empty();
  const std::string missing = what_is_missing(result);
  if (!missing.empty()) troubles.push_back(missing);
  settle(place, troubles.empty(), troubles);
  if (as_object)
    print(json_text(to_json(summary)) + "\n");
  else
    print_for_people(result, told, place.shown(), drawn);
  return told_troubles(troubles);
}

int draw_store(const DrawOptions& options) {
  fs::path store;
  Result result;
  try {
    store = store_meant(options.results);
    result = read_result(store);
  } catch (const StoreError& error) {
    return told_troubles({sentence(error.what())}), exit_wrong_use;
  }
  if (result.run.series.empty()) {
    return told_troubles({store.string() + " holds no computed step: there is nothing to draw."}),
           exit_cannot_compute;
  }
  const fs::path folder = results_folder(options.common.out, file_word(result.name, "case") + ".drawn");
  std::error_code not_there;
  const bool own_folder = fs::equivalent(folder, fs::absolute(store).parent_path(), not_there);
  ResultsFolder place(folder, options.common.force);
  return with_results_folder(
      place, [&] { return draw_into(place, result, store, own_folder, options.common.json); });
}

}  // namespace

int draw_command(const DrawOptions& options) {
  return with_plain_messages([&options] { return draw_store(options); });
}

}  // namespace updraught
