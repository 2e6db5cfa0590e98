// blend: sweeps the woodchip share with the air actually run, and tells the range that works.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cases/commands/command.h"
#include "cases/machine/data_folder.h"
#include "cases/output/printing.h"
#include "cases/output/results_folder.h"
#include "cases/run/compute.h"
#include "cases/run/settings_runs.h"
#include "cases/terminal/progress.h"
#include "cases/terminal/stop.h"
#include "post/answer/working_range.h"
#include "post/draw/figures.h"
#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"
#include "post/words/words.h"

namespace updraught {

namespace {

// A sweep as far as it got.
struct Sweep {
  std::vector<BlendPoint> points;
  std::vector<std::string> left_out;  ///< shares that the case cannot take, and why
  std::vector<std::string> troubles;  ///< what could not be computed or written, sentences
  double seconds = 0.0;
};

std::vector<double> shares_of(const BlendOptions& options) {
  std::vector<double> out;
  const int steps = int(std::floor((options.to - options.from) / options.step + 1e-9));
  // Rounded, so that shares read well and equal ones have equal words.
  for (int n = 0; n <= steps; ++n) out.push_back(std::round(1e6 * (options.from + n * options.step)) / 1e6);
  return out;
}

// A share that the case cannot take (more chips than the bin holds) is told and left out, the rest goes on.
bool takes_share(const ReadCase& read, double share, Sweep& sweep) {
  Overrides overrides = read.overrides;
  put(overrides, "woodchip_share", case_text(share));
  const ReadOutcome outcome = read_case_text(read.text, read.file, overrides);
  if (outcome.read) return true;
  const std::string why = outcome.mistakes.empty() ? "" : outcome.mistakes.front().problem;
  sweep.left_out.push_back(percent(share) + " chips were left out: " + why);
  return false;
}

/// A detail that was asked for replaces the quick one of a sweep.
void keep_asked_detail(const Overrides& asked, Overrides& overrides) {
  for (const char* key : {"detail", "cells"})
    if (const Override* wanted = find(asked, key)) {
      drop(overrides, "detail");
      overrides.push_back(*wanted);
    }
}

void add_points(const std::vector<double>& shares, const BlendOptions& options, const ReadCase& read,
                Progress& progress, const std::string& what, Sweep& sweep) {
  std::vector<double> taken;
  std::vector<Member> members;
  for (const double share : shares) {
    if (!takes_share(read, share, sweep)) continue;
    taken.push_back(share);
    for (Member member : three_settings(read, {}, share)) {
      member.name += " with " + percent(share) + " chips";
      keep_asked_detail(read.overrides, member.overrides);
      members.push_back(member);
    }
  }
  if (members.empty()) return;
  const MembersDone done = run_for_command(members, options.common, progress, what);
  if (done.failed > 0) sweep.troubles.push_back(failures_in_words(done));
  for (std::size_t i = 0; i < taken.size(); ++i) {
    if (done.have(3 * i, 3)) {
      sweep.points.push_back({taken[i], settings_from(done.summaries, 3 * i)});
    } else {
      sweep.left_out.push_back(percent(taken[i]) + " chips were left out: a computation of them is missing.");
    }
  }
  sweep.seconds += done.seconds;
}

std::string csv(const BlendRange& range) {
  std::string text =
      "woodchip_share,setting,aired_share,air_in_m3_h,base_air_between,hottest_c,moisture_at_end,settled_"
      "height_m\n";
  const auto field = [](double value) {
    return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
  };
  for (const BlendPoint& point : range.points) {
    const std::pair<const char*, const Summary*> settings[] = {{"adverse", &point.settings.adverse},
                                                               {"middle", &point.settings.middle},
                                                               {"favourable", &point.settings.favourable}};
    for (const auto& [name, summary] : settings) {
      const BlendMeasures m = blend_measures(*summary);
      text += fmt::format("{:.6g},{},{},{},{},{},{},{}\n", point.share, name, field(m.aired_share),
                          field(m.air_in), field(m.base_air_between), field(m.hottest), field(m.moisture),
                          field(summary->settled_height));
    }
  }
  return text;
}

// What `start` writes, waste to chips, so that the range stands beside what a beginner starts from.
MarkedShare starter_mix() {
  const ReadOutcome starter = read_case_file(data_folder() / "starter.toml");
  if (!starter.read) throw std::runtime_error("the starter case that belongs to the program cannot be read");
  double chips = 0.0;
  double rest = 0.0;
  for (const RecipeLine& line : starter.read->recipe) (line.chips ? chips : rest) += line.buckets;
  return {chips / (chips + rest), fmt::format("the starter's mix, {:g} : {:g}", rest, chips)};
}

LowHigh spread_of(double adverse, double middle, double favourable) {
  return {std::min({adverse, middle, favourable}), middle, std::max({adverse, middle, favourable})};
}

void draw(const BlendRange& range, const ReadCase& read, const std::filesystem::path& folder,
          std::vector<std::string>& troubles) {
  std::vector<BlendChartPoint> points;
  double day = 0.0;
  for (const BlendPoint& point : range.points) {
    const BlendMeasures a = blend_measures(point.settings.adverse);
    const BlendMeasures m = blend_measures(point.settings.middle);
    const BlendMeasures f = blend_measures(point.settings.favourable);
    day = headline_day(point.settings.middle);
    points.push_back({point.share, spread_of(a.aired_share, m.aired_share, f.aired_share),
                      spread_of(a.hottest, m.hottest, f.hottest), m.base_air_between, m.air_in});
  }
  std::optional<BlendChartRange> shaded;
  if (range.middle)
    shaded = BlendChartRange{range.middle->low, range.middle->high, reason_in_words(range.middle->low_end),
                             reason_in_words(range.middle->high_end)};
  std::optional<BlendChartMark> mark;
  if (range.marked) mark = BlendChartMark{range.marked->share, range.marked->words};
  const std::string title =
      range.verdict.empty() ? "How much woodchip works in " + read.name + "?" : range.verdict.front();
  const FigureFiles files = write_blend_figure(points, shaded, mark, day, title, folder.string());
  for (const std::string& trouble : files.troubles) troubles.push_back(sentence(trouble));
}

int write_and_print(const BlendRange& range, Sweep& sweep, const ReadCase& read, const BlendOptions& options,
                    ResultsFolder& place) {
  nlohmann::json object = to_json(range);
  object["case"] = read.name;
  object["left_out"] = sweep.left_out;
  object["computation_seconds"] = finite_or_null(sweep.seconds);
  const std::string words = paragraphs(range.verdict) + paragraphs(sweep.left_out);
  const std::string table = blend_table(range);
  const std::filesystem::path& folder = place.work();
  std::vector<std::string>& troubles = sweep.troubles;
  try_to(troubles, [&] { write_text_file(folder / "verdict.txt", words); });
  try_to(troubles, [&] { write_text_file(folder / "blend.json", json_text(object) + "\n"); });
  try_to(troubles, [&] { write_text_file(folder / "table.txt", table); });
  try_to(troubles, [&] { write_text_file(folder / "blend.csv", csv(range)); });
  try_to(troubles, [&] { draw(range, read, folder, troubles); });
  settle(place, troubles.empty(), troubles);
  if (options.common.json) {
    print(json_text(object) + "\n");
  } else {
    print(fmt::format("{}\n{}\nComputed, not measured. Results: {}\n", words, table, place.shown().string()));
  }
  return told_troubles(troubles);
}

int sweep_into(ResultsFolder& place, const ReadCase& read, const BlendOptions& options) {
  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  Sweep sweep;
  add_points(shares_of(options), options, read, progress, "shares of chips", sweep);
  if (sweep.points.size() < 2) {
    sweep.troubles.push_back("Fewer than two shares can be computed.\n" + paragraphs(sweep.left_out));
    return told_troubles(sweep.troubles);
  }
  add_points(shares_to_refine(sweep.points), options, read, progress, "around the ends", sweep);
  BlendRange range = find_range(sweep.points);
  mark_share(range, starter_mix());
  return write_and_print(range, sweep, read, options, place);
}

int sweep_case(const BlendOptions& options) {
  const ReadForCommand outcome =
      for_command(read_case_file(options.case_file, options.overrides), options.common.threads);
  if (!outcome.read) return outcome.code;
  const ReadCase& read = *outcome.read;
  if (read.problem.batches.empty())
    return told_troubles(
        {read.name + " has no recipe into which woodchip could be mixed; give it fill = [ ... ]."});
  const auto is_chips = [](const RecipeLine& line) { return line.chips; };
  if (std::all_of(read.recipe.begin(), read.recipe.end(), is_chips))
    return told_troubles({read.name +
                          " holds nothing but woodchip, so there is no share to look for; add what is to be "
                          "composted to its fill."});
  ResultsFolder place(results_folder(options.common.out, file_word(read.name, "case") + ".blend"),
                      options.common.force);
  return with_results_folder(place, [&] { return sweep_into(place, read, options); });
}

}  // namespace

int blend_command(const BlendOptions& options) {
  return with_plain_messages([&options] { return sweep_case(options); });
}

}  // namespace updraught
