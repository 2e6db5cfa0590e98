// blend: sweeps the woodchip share with the air actually run, and tells the range that works.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cases/commands/command.h"
#include "cases/compute.h"
#include "cases/printing.h"
#include "cases/progress.h"
#include "cases/results_folder.h"
#include "cases/settings_runs.h"
#include "cases/stop.h"
#include "post/blend_range.h"
#include "post/figures.h"
#include "post/summary_json.h"
#include "post/words.h"

namespace updraught {

namespace {

// A sweep as far as it got.
struct Sweep {
  std::vector<BlendPoint> points;
  std::vector<std::string> left_out;  ///< shares that the case cannot take, and why
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
bool takes_share(const BlendOptions& options, double share, Sweep& sweep) {
  Overrides overrides = options.overrides;
  overrides.woodchip_share = share;
  const ReadOutcome outcome = read_case_file(options.case_file, overrides);
  if (outcome.read) return true;
  const std::string why = outcome.mistakes.empty() ? "" : outcome.mistakes.front().problem;
  sweep.left_out.push_back(percent(share) + " chips were left out: " + why);
  return false;
}

void add_points(const std::vector<double>& shares, const BlendOptions& options, const MemberCase& one,
                Progress& progress, const std::string& what, Sweep& sweep) {
  std::vector<double> taken;
  std::vector<Member> members;
  for (const double share : shares) {
    if (!takes_share(options, share, sweep)) continue;
    taken.push_back(share);
    for (Member member : three_settings(one, {}, share)) {
      member.name += " with " + percent(share) + " chips";
      if (options.overrides.detail) member.overrides.detail = options.overrides.detail;
      members.push_back(member);
    }
  }
  if (members.empty()) return;
  const MembersDone done = run_for_command(members, options.common, progress, what);
  for (std::size_t i = 0; i < taken.size(); ++i) {
    sweep.points.push_back({taken[i], settings_from(done.summaries, 3 * i)});
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
  const ReadOutcome starter = read_case_file(std::filesystem::path(UPDRAUGHT_DATA_DIR) / "starter.toml");
  if (!starter.read) throw std::runtime_error("the starter case that belongs to the program cannot be read");
  double chips = 0.0;
  double rest = 0.0;
  for (const RecipeLine& line : starter.read->recipe) (line.chips ? chips : rest) += line.buckets;
  return {chips / (chips + rest), fmt::format("the starter's mix, {:g} : {:g}", rest, chips)};
}

LowHigh spread_of(double adverse, double middle, double favourable) {
  return {std::min({adverse, middle, favourable}), middle, std::max({adverse, middle, favourable})};
}

void draw(const BlendRange& range, const ReadCase& read, const std::filesystem::path& folder) {
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
  write_blend_figure(points, shaded, mark, day, title, folder.string());
}

int write_and_print(const BlendRange& range, const Sweep& sweep, const ReadCase& read,
                    const BlendOptions& options, const std::filesystem::path& folder) {
  nlohmann::json object = to_json(range);
  object["case"] = read.name;
  object["left_out"] = sweep.left_out;
  object["computation_seconds"] = finite_or_null(sweep.seconds);
  const std::string words = paragraphs(range.verdict) + paragraphs(sweep.left_out);
  const std::string table = blend_table(range);
  prepare_folder(folder);
  write_text(folder / "blend.json", object.dump(2) + "\n");
  write_text(folder / "blend.csv", csv(range));
  write_text(folder / "table.txt", table);
  write_text(folder / "verdict.txt", words);
  draw(range, read, folder);
  if (options.common.json) {
    fmt::print("{}\n", object.dump(2));
  } else {
    fmt::print("{}\n{}\nComputed, not measured. Results: {}\n", words, table, folder.string());
  }
  return exit_done;
}

int sweep_case(const BlendOptions& options) {
  const ReadForCommand outcome = read_for_command(options.case_file, options.overrides);
  if (!outcome.read) return outcome.code;
  const ReadCase& read = *outcome.read;
  const std::filesystem::path folder = results_folder(options.common.out, read.name + ".blend");
  require_free(folder, options.common.force);
  if (read.problem.batches.empty()) {
    fmt::print(stderr,
               "updraught: {} has no recipe into which woodchip could be mixed; give it fill = [ ... ].\n",
               read.name);
    return exit_cannot_compute;
  }

  const auto is_chips = [](const RecipeLine& line) { return line.chips; };
  if (std::all_of(read.recipe.begin(), read.recipe.end(), is_chips)) {
    fmt::print(
        stderr,
        "updraught: {} holds nothing but woodchip, so there is no share to look for; add what is to be "
        "composted to its fill.\n",
        read.name);
    return exit_cannot_compute;
  }

  note_requests_to_stop();
  Progress progress = command_progress(options.common.quiet, options.common.verbose);
  const MemberCase one{options.case_file, read, options.overrides};
  Sweep sweep;
  add_points(shares_of(options), options, one, progress, "shares of chips", sweep);
  if (sweep.points.size() < 2) {
    fmt::print(stderr, "updraught: fewer than two shares can be computed.\n{}", paragraphs(sweep.left_out));
    return exit_cannot_compute;
  }
  add_points(shares_to_refine(sweep.points), options, one, progress, "around the ends", sweep);
  BlendRange range = find_range(sweep.points);
  mark_share(range, starter_mix());
  return write_and_print(range, sweep, read, options, folder);
}

}  // namespace

int blend_command(const BlendOptions& options) {
  return with_plain_messages([&options] { return sweep_case(options); });
}

}  // namespace updraught
