// check: every mistake in a case, or what would be computed.
#include <fmt/format.h>

#include <cstdint>
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cases/commands/command.h"
#include "cases/machine/expected_cost.h"
#include "cases/output/announce.h"
#include "cases/output/opening_area.h"
#include "cases/output/printing.h"
#include "cases/run/check_steps.h"
#include "cases/run/plausible_beds.h"
#include "post/tables/summary_json.h"
#include "post/words/text_table.h"
#include "post/words/words.h"
#include "solver/bed/bed.h"

namespace updraught {

namespace {

using nlohmann::json;

json places_json(const std::vector<Diagnostic>& places) {
  json list = json::array();
  for (const Diagnostic& d : places)
    list.push_back({{"file", d.file},
                    {"line", d.line},
                    {"column", d.column},
                    {"key", d.key},
                    {"problem", d.problem},
                    {"mend", d.hint}});
  return list;
}

std::string mode_text(const Problem& problem) {
  if (counts_length(problem.mode)) return "the whole box, all three directions";
  if (piece_of_longer(problem.mode)) return "a slice of a long heap";
  return problem.box_as_rings ? "the box as rings around its middle" : "rings around the middle";
}

std::string detail_name(Detail detail) {
  return detail == Detail::quick ? "quick" : detail == Detail::usual ? "usual" : "careful";
}

std::string square_centimetres(double area) {
  return fmt::format("{:.{}f} cm2", 1e4 * area, area < 10e-4 ? 1 : 0);
}

/// "31 buckets of grass, 21 of straw": what a batch of the bed as laid takes.
std::string buckets_of(const Batch& batch, double mass, double bucket) {
  double as_written = 0.0;
  for (const Portion& portion : batch.portions) as_written += portion.mass;
  std::vector<std::string> parts;
  for (const Portion& portion : batch.portions) {
    const double count = portion.mass * mass / as_written / portion.feedstock.loose_density / bucket;
    if (count > 0.0)
      parts.push_back(fmt::format("{} {}", plain_number(to_digits(count, 2)), portion.feedstock.name));
  }
  return listed(parts);
}

/// Everything that is told about a case without mistakes.
struct Told {
  const ReadCase& read;
  LaidOut laid;
  LooseFacts loose;
  Announced cost;

  const Problem& problem() const { return read.problem; }
  double open_area() const {
    double sum = 0.0;
    for (const Opening& opening : problem().openings) sum += free_area(opening, problem());
    return sum;
  }
};

using Lines = std::vector<std::vector<std::string>>;

void add_fill(const Told& told, Lines& lines) {
  const Problem& problem = told.problem();
  if (problem.batches.empty()) return;
  lines.push_back({"recipe", fmt::format("{} woodchip of all buckets, {} water, C:N {}",
                                         percent(told.loose.woodchip_share), percent(told.loose.moisture),
                                         rounded(told.loose.carbon_nitrogen))});
  lines.push_back({"air between the pieces, loose", percent(told.loose.air_between)});
  const bool layered = problem.batches.size() > 1;
  std::string heading = fmt::format("buckets of {} to fill in", litres(told.read.bucket));
  if (layered) heading += ", from the top";
  for (std::size_t n = problem.batches.size(); n-- > 0; heading.clear()) {
    const Batch& batch = problem.batches[n];
    std::string text = buckets_of(batch, told.laid.mass[n], told.read.bucket);
    if (layered && batch.depth > 0.0)
      text = fmt::format("{}, {:.3g} m deep: {}", batch.name, batch.depth, text);
    else if (layered)
      text = fmt::format("{}: {}", batch.name, text);
    lines.push_back({heading, text});
  }
}

/// What is done by hand later.
void add_events(const Told& told, Lines& lines) {
  const Problem& problem = told.problem();
  const auto days_of = [&](Event::Kind kind, int refill) {
    std::vector<double> days;
    for (const Event& event : problem.events)
      if (event.kind == kind && event.refill == refill) days.push_back(event.time / 86400.0);
    return days;
  };
  for (std::size_t n = 0; n < problem.refills.size(); ++n) {
    const auto days = days_of(Event::Kind::fill, static_cast<int>(n));
    if (days.empty()) continue;
    double mass = 0.0;
    for (const Portion& portion : problem.refills[n].portions) mass += portion.mass;
    lines.push_back({fmt::format("buckets of {} on top", litres(told.read.bucket)),
                     fmt::format("{}: {}, {:.3g} kg each time", times_and_days(days),
                                 buckets_of(problem.refills[n], mass, told.read.bucket), mass)});
  }
  if (const auto days = days_of(Event::Kind::water, 0); !days.empty())
    lines.push_back({"watered", times_and_days(days)});
  if (const auto days = days_of(Event::Kind::turn, 0); !days.empty())
    lines.push_back({"turned", times_and_days(days)});
}

void add_openings(const Told& told, Lines& lines) {
  const Problem& problem = told.problem();
  for (const Opening& opening : problem.openings)
    lines.push_back({"opening", fmt::format("{}, {} free", opening.name,
                                            square_centimetres(free_area(opening, problem)))});
  if (problem.openings.size() > 1)
    lines.push_back({"openings in all", square_centimetres(told.open_area()) + " free"});
  if (problem.base.kind == Base::Kind::raised && problem.base.inlet_area > 0.0)
    lines.push_back(
        {"under the raised base", square_centimetres(problem.base.inlet_area) + " to the outside"});
}

void print_text(const Told& told) {
  const Problem& problem = told.problem();
  const ReadCase& read = told.read;
  std::printf(
      "%s\n%s\n", problem.title.c_str(),
      read.doubts.empty() ? "No mistakes. This would be computed:\n" : "No mistakes, but is this meant?");
  for (const Diagnostic& doubt : read.doubts) std::printf("  %s\n", to_text(doubt).c_str());
  if (!read.doubts.empty()) std::printf("\nThis would be computed:\n\n");
  Lines lines{{"bed", fmt::format("{:.3g} m deep right after filling, {}", told.laid.height,
                                  litres(told.laid.volume))}};
  add_fill(told, lines);
  add_events(told, lines);
  add_openings(told, lines);
  lines.push_back({"how long", fmt::format("{:.4g} days", problem.duration / 86400.0)});
  lines.push_back({"how", fmt::format("{}, {}, {:.0f} parts", mode_text(problem),
                                      read.own_cells ? "parts as the case counts them"
                                                     : detail_name(read.detail) + " detail",
                                      cell_count(problem.cells))});
  lines.push_back({"time to compute", told_duration(told.cost)});
  lines.push_back({"needs", told_memory(told.cost)});
  std::printf("%s", text_table(lines).c_str());
  for (const std::string& note : read.notes) std::printf("%s\n", note.c_str());
}

json layers_json(const Told& told) {
  json layers = json::array();
  for (std::size_t n = 0; n < told.problem().batches.size(); ++n) {
    const Batch& batch = told.problem().batches[n];
    layers.push_back({{"name", batch.name},
                      {"depth_m", batch.depth > 0.0 ? json(batch.depth) : json()},
                      {"wet_mass_kg", told.laid.mass[n]},
                      {"buckets", buckets_of(batch, told.laid.mass[n], told.read.bucket)}});
  }
  return layers;
}

json uncertain_json(const std::vector<UncertainInput>& inputs) {
  json list = json::array();
  for (const UncertainInput& input : inputs)
    list.push_back({{"key", input.key},
                    {"unit", input.unit},
                    {"low", input.low},
                    {"middle", input.middle},
                    {"high", input.high},
                    {"on_logarithm", input.distribution == UncertainInput::Distribution::log_triangular},
                    {"source", input.source}});
  return list;
}

json as_json(const Told& told) {
  const Problem& problem = told.problem();
  const ReadCase& read = told.read;
  json openings = json::array();
  json areas = json::object();
  for (const Opening& opening : problem.openings) {
    openings.push_back(opening.name);
    areas[opening.name] = 1e4 * free_area(opening, problem);
  }
  return {{"case", read.name},
          {"mistakes", json::array()},
          {"doubts", places_json(read.doubts)},
          {"mode", mode_name(problem.mode)},
          {"box_as_rings", problem.box_as_rings},
          {"detail", detail_name(read.detail)},
          {"cells", static_cast<std::int64_t>(cell_count(problem.cells))},
          {"days", problem.duration / 86400.0},
          {"settled_height_m", finite_or_null(told.laid.height)},
          {"bed_volume_m3", finite_or_null(told.laid.volume)},
          {"loose",
           {{"free_air_space", finite_or_null(told.loose.free_air_space)},
            {"moisture", finite_or_null(told.loose.moisture)},
            {"cn", finite_or_null(told.loose.carbon_nitrogen)},
            {"woodchip_share", finite_or_null(told.loose.woodchip_share)}}},
          {"bucket_l", 1000.0 * read.bucket},
          {"layers", layers_json(told)},
          {"uncertain", uncertain_json(problem.uncertain)},
          {"openings", openings},
          {"free_area_cm2", areas},
          {"free_area_in_all_cm2", 1e4 * told.open_area()},
          {"expected",
           {{"seconds", told.cost.seconds},
            {"band_seconds", told.cost.band_seconds},
            {"memory_mb", told.cost.memory / 1e6},
            {"pictures_mb", told.cost.picture_bytes / 1e6}}},
          {"notes", read.notes}};
}

json steps_json(const StepsChecked& checked) {
  json object{{"stands", checked.stands()}, {"steps", checked.steps}, {"halved_steps", checked.halved_steps}};
  for (const StepMeasure& m : checked.measures)
    object[m.key] = {{"usual", finite_or_null(m.usual)}, {"halved", finite_or_null(m.halved)}};
  return object;
}

int report(const ReadOutcome& outcome, bool in_json) {
  if (in_json)
    std::printf("%s\n", json_text({{"mistakes", places_json(outcome.mistakes)}}).c_str());
  else
    print_error(to_text(outcome.mistakes));
  return outcome.unreadable || outcome.wrong_overrides ? exit_wrong_use : exit_cannot_compute;
}

}  // namespace

int check_command(const CheckOptions& options) {
  const std::string file = options.case_file.string();
  const bool piped = file == "-" || file == "/dev/stdin";
  const ReadOutcome outcome = piped ? read_case_stream(std::cin, "standard input", options.overrides)
                                    : read_case_file(options.case_file, options.overrides);
  if (!outcome.read) return report(outcome, options.common.json);
  const ReadCase& read = *outcome.read;
  const Told told{read, lay_out(read.problem), loose_facts(read.problem),
                  announced(read, 0, seconds_of_beds(read, {}))};
  json object = as_json(told);
  if (!options.common.json) print_text(told);
  if (!options.steps) {
    if (options.common.json) print(json_text(object) + "\n");
    return exit_done;
  }
  return with_plain_messages([&] {
    Progress progress = command_progress(options.common.json, false);
    const StepsChecked checked = check_steps(read, progress);
    object["steps_in_time"] = steps_json(checked);
    print(options.common.json ? fmt::format("{}\n", json_text(object))
                              : fmt::format("\n{}", steps_in_words(checked)));
    return exit_done;
  });
}

}  // namespace updraught
