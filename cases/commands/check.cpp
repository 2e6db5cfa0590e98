// check: every mistake in a case, or what would be computed.
#include <fmt/format.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "cases/commands/command.h"
#include "post/text_table.h"
#include "post/words.h"
#include "solver/bed.h"

namespace updraught {

namespace {

using nlohmann::json;

/// Bytes per cell that a computation needs at most; measured by the timing tests.
constexpr double bytes_per_cell = 1000.0;

json mistakes_json(const std::vector<Diagnostic>& mistakes) {
  json list = json::array();
  for (const Diagnostic& d : mistakes)
    list.push_back({{"file", d.file},
                    {"line", d.line},
                    {"column", d.column},
                    {"key", d.key},
                    {"problem", d.problem},
                    {"mend", d.mend}});
  return list;
}

std::string mode_text(const Problem& problem) {
  if (problem.mode == Mode::whole) return "the whole box, all three directions";
  if (problem.mode == Mode::slice) return "a slice of a long heap";
  return problem.box_as_rings ? "the box as rings around its middle" : "rings around the middle";
}

std::string mode_name(Mode mode) {
  return mode == Mode::whole ? "whole" : mode == Mode::rings ? "rings" : "slice";
}

std::string detail_name(Detail detail) {
  return detail == Detail::quick ? "quick" : detail == Detail::usual ? "usual" : "careful";
}

int count_cells(const Cells& cells) {
  return cells.nx * cells.ny * cells.nz;
}

bool layered(const Problem& problem) {
  return problem.batches.size() > 1;
}

std::string layer_text(const Batch& layer) {
  return layer.depth > 0.0 ? fmt::format("{}, {:.3g} m deep", layer.name, layer.depth) : layer.name;
}

void print_text(const ReadCase& read, const LaidOut& laid, const LooseFacts& loose) {
  const Problem& problem = read.problem;
  std::printf("%s\nNo mistakes. This would be computed:\n\n", problem.title.c_str());
  std::vector<std::vector<std::string>> lines{
      {"bed", fmt::format("{:.3g} m deep right after filling, {}", laid.height, litres(laid.volume))}};
  if (!problem.batches.empty()) {
    lines.push_back({"recipe", fmt::format("{} woodchip of all buckets, {} water, C:N {:.0f}",
                                           percent(loose.woodchip_share), percent(loose.moisture),
                                           loose.carbon_nitrogen)});
    lines.push_back({"air between the pieces, loose", percent(loose.air_between)});
  }
  for (auto layer = problem.batches.rbegin(); layered(problem) && layer != problem.batches.rend(); ++layer)
    lines.push_back({layer == problem.batches.rbegin() ? "layers, from the top" : "", layer_text(*layer)});
  for (const Opening& opening : problem.openings) lines.push_back({"opening", opening.name});
  lines.push_back({"how long", fmt::format("{:.4g} days", problem.duration / 86400.0)});
  lines.push_back({"how", fmt::format("{}, {}", mode_text(problem),
                                      read.own_cells ? "parts as the case counts them"
                                                     : detail_name(read.detail) + " detail")});
  lines.push_back({"size", fmt::format("{} parts, about {:.2g} MB", count_cells(problem.cells),
                                       1e-6 * bytes_per_cell * count_cells(problem.cells))});
  std::printf("%s", text_table(lines).c_str());
  for (const std::string& note : read.notes) std::printf("%s\n", note.c_str());
}

void print_json(const ReadCase& read, const LaidOut& laid, const LooseFacts& loose) {
  const Problem& problem = read.problem;
  json openings = json::array();
  for (const Opening& opening : problem.openings) openings.push_back(opening.name);
  json layers = json::array();
  for (const Batch& layer : problem.batches)
    layers.push_back({{"name", layer.name}, {"depth_m", layer.depth > 0.0 ? json(layer.depth) : json()}});
  const json object{{"case", read.name},
                    {"mistakes", json::array()},
                    {"mode", mode_name(problem.mode)},
                    {"box_as_rings", problem.box_as_rings},
                    {"detail", detail_name(read.detail)},
                    {"cells", count_cells(problem.cells)},
                    {"days", problem.duration / 86400.0},
                    {"settled_height_m", laid.height},
                    {"bed_volume_m3", laid.volume},
                    {"loose",
                     {{"free_air_space", loose.free_air_space},
                      {"moisture", loose.moisture},
                      {"cn", loose.carbon_nitrogen},
                      {"woodchip_share", loose.woodchip_share}}},
                    {"layers", layers},
                    {"openings", openings},
                    {"notes", read.notes}};
  std::printf("%s\n", object.dump(2).c_str());
}

int report(const ReadOutcome& outcome, bool as_json) {
  if (as_json)
    std::printf("%s\n", json{{"mistakes", mistakes_json(outcome.mistakes)}}.dump(2).c_str());
  else
    std::fprintf(stderr, "%s", to_text(outcome.mistakes).c_str());
  return outcome.unreadable ? exit_wrong_use : exit_cannot_compute;
}

}  // namespace

int check_command(const CheckOptions& options) {
  const ReadOutcome outcome = read_case_file(options.case_file);
  if (!outcome.read) return report(outcome, options.common.json);
  const LaidOut laid = lay_out(outcome.read->problem);
  const LooseFacts loose = loose_facts(outcome.read->problem);
  options.common.json ? print_json(*outcome.read, laid, loose) : print_text(*outcome.read, laid, loose);
  return exit_done;
}

}  // namespace updraught
