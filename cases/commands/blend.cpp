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
#include "cases/run/plausible_beds.h"
#include "cases/run/tip_search.h"
#include "cases/terminal/progress.h"
#include "cases/terminal/stop.h"
#include "post/answer/chip_range.h"
#include "post/sheets/figures.h"
#include "post/tables/summary_json.h"
#include "post/words/plain_text.h"
#include "post/words/words.h"

namespace updraught {

namespace {

constexpr double seconds_a_day = 86400.0;
// A shorter time would not tell whether a bed stays hot.
constexpr double fewest_days = 7.0;
// Halvings around an end of a range, from steps of ten points or more to two.
constexpr int most_rounds = 4;
// Computations that it takes to find both tips of one bed.
constexpr double computations_a_bed = 6.0;

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

void add_points(const std::vector<double>& shares, const BlendOptions& options, const ReadCase& read,
                Progress& progress, const std::string& what, Sweep& sweep) {
  std::vector<double> taken;
  std::vector<Member> members;
  for (const double share : shares) {
    if (!takes_share(read, share, sweep)) continue;
    taken.push_back(share);
    Member member = quick_member(read, share);
    member.name += " with " + percent(share) + " chips";
    keep_asked_detail(read.overrides, member.overrides);
    members.push_back(member);
  }
  if (members.empty()) return;
  const MembersDone done = run_for_command(members, options.common, progress, what);
  if (done.failed > 0) sweep.troubles.push_back(failures_in_words(done));
  for (std::size_t i = 0; i < taken.size(); ++i) {
    if (done.have(i) && done.summaries[i].course) {
      sweep.points.push_back(blend_point(taken[i], done.summaries[i]));
    } else {
      sweep.left_out.push_back(percent(taken[i]) + " chips were left out: their computation is missing.");
    }
  }
  sweep.seconds += done.seconds;
}

/// The asked shares, then between those that miss other aims each, until these lie close.
void sweep_shares(const BlendOptions& options, const ReadCase& read, const TipAims& aims, Progress& progress,
                  Sweep& sweep) {
  add_points(shares_of(options), options, read, progress, "shares of chips", sweep);
  if (sweep.points.size() < 2) return;
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<double> shares = shares_to_refine(sweep.points, aims);
    std::erase_if(shares, [&](double share) {
      return std::any_of(sweep.points.begin(), sweep.points.end(),
                         [&](const BlendPoint& p) { return std::abs(p.share - share) < 1e-6; });
    });
    if (shares.empty()) return;
    add_points(shares, options, read, progress, "around the ends", sweep);
  }
}

/// Where the case as it is and the plausible beds tip.
SweptChips find_all_tips(const BlendOptions& options, const ReadCase& read, const TipAims& aims,
                         Progress& progress, Sweep& sweep) {
  const Sample sample({&read}, tries_for({&read}, options.sample, computations_a_bed), options.sample.seed);
  std::vector<TipSearch> searches{tip_search(read, aims, sample.count())};
  TipSearch& search = searches.front();
  search.as_asked = true;
  for (const BlendPoint& point : sweep.points)
    if (point.share <= search.aims.most) search.beds.front().tried.push_back({point.share, point.course});
  // Plausible beds are looked for around the case as it is.
  search.start =
      least_with_air(search.beds.front().tried, search.start, search.aims).share.value_or(search.start);
  sweep.seconds += find_tips(searches, sample, options.common, progress, "plausible beds");
  const auto failed = std::count_if(search.beds.begin(), search.beds.end(),
                                    [](const TipSearch::Bed& bed) { return bed.failed && bed.number > 0; });
  if (failed > 0)
    sweep.troubles.push_back(
        fmt::format("{} of {} plausible beds were left out, since a computation of them could not be done.",
                    failed, sample.count()));
  SweptChips out;
  out.points = sweep.points;
  out.inputs = read.problem.uncertain;
  out.sample.seed = sample.seed();
  for (const UncertainInput& input : out.inputs) out.sample.inputs.push_back(input.key);
  for (const TipSearch::Bed& bed : search.beds) {
    if (bed.number == 0) out.asked = tips_of(search, bed);
    if (bed.failed || bed.number == 0) continue;
    out.beds.push_back(tips_of(search, bed));
    out.sample.beds.push_back({bed.number, sample.point(read, bed.number), {}});
  }
  return out;
}

std::string csv(const ChipRange& range) {
  std::string text =
      "woodchip_share,airless_share,mean_air_in_m3_h,base_air_between,hottest_c,hours_hot,moisture_at_end,"
      "height_at_end_m,works_in_beds,beds\n";
  const auto field = [](double value) {
    return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
  };
  for (const BlendPoint& point : range.points) {
    const Course& c = point.course;
    text += fmt::format("{:.6g},{},{},{},{},{},{},{},{},{}\n", point.share, field(c.airless_share),
                        field(c.mean_air_in), field(point.base_air_between), field(c.hottest),
                        field(c.hours_hot), field(c.moisture_at_end), field(c.height_at_end),
                        range.works_at(point.share), range.beds.size());
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

void draw(const ChipRange& range, const ReadCase& read, const std::filesystem::path& folder,
          std::vector<std::string>& troubles) {
  std::vector<BlendChartPoint> points;
  const double beds = static_cast<double>(range.beds.size());
  for (const BlendPoint& point : range.points)
    points.push_back({point.share, point.course.airless_share, point.course.hottest, point.base_air_between,
                      beds > 0.0 ? range.works_at(point.share) / beds : std::nan("")});
  std::optional<BlendChartRange> shaded;
  if (range.works()) shaded = BlendChartRange{*range.asked.least, *range.asked.most, "", ""};
  std::optional<BlendChartMark> mark;
  if (range.marked) mark = BlendChartMark{range.marked->share, range.marked->words};
  const std::string title =
      range.verdict.empty() ? "How much woodchip works in " + read.name + "?" : range.verdict.front();
  const FigureFiles files = write_blend_figure(points, shaded, mark, title, folder.string());
  for (const std::string& trouble : files.troubles) troubles.push_back(sentence(trouble));
}

int write_and_print(const ChipRange& range, Sweep& sweep, const ReadCase& read, const BlendOptions& options,
                    ResultsFolder& place) {
  nlohmann::json object = to_json(range);
  object["case"] = read.name;
  object["left_out"] = sweep.left_out;
  object["computation_seconds"] = finite_or_null(sweep.seconds);
  const std::string words = paragraphs(range.verdict) +
                            paragraphs({fmt::format("Computed over {} days.", plain_number(range.days))}) +
                            paragraphs(sweep.left_out);
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
  const TipAims aims;
  sweep_shares(options, read, aims, progress, sweep);
  if (sweep.points.size() < 2) {
    sweep.troubles.push_back("Fewer than two shares can be computed.\n" + paragraphs(sweep.left_out));
    return told_troubles(sweep.troubles);
  }
  ChipRange range = chip_range(find_all_tips(options, read, aims, progress, sweep), aims,
                               read.problem.duration / seconds_a_day);
  mark_share(range, starter_mix());
  return write_and_print(range, sweep, read, options, place);
}

int sweep_case(const BlendOptions& options) {
  ReadForCommand outcome =
      for_command(read_case_file(options.case_file, options.overrides), options.common.threads);
  if (!outcome.read) return outcome.code;
  if (outcome.read->problem.duration < fewest_days * seconds_a_day) {
    Overrides longer = outcome.read->overrides;
    put(longer, "days", case_text(fewest_days));
    outcome =
        for_command(read_case_text(outcome.read->text, outcome.read->file, longer), options.common.threads);
    if (!outcome.read) return outcome.code;
  }
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
