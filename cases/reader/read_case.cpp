#include "cases/reader/read_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <system_error>

#include "cases/machine/data_folder.h"
#include "cases/reader/keys/keys.h"
#include "cases/reader/whole_case.h"
#include "post/words/plain_text.h"
#include "solver/air/mirror.h"

namespace updraught {

namespace {

constexpr std::uintmax_t largest_file = 1u << 20;  // bytes

/// Read once, since that takes longer than reading a case; a failure is tried again the next time.
const FeedstockLibrary& built_in_feedstocks() {
  static const FeedstockLibrary library = load_feedstock_library(data_folder() / "feedstocks.toml");
  return library;
}

/// A bed without a recipe neither lives nor settles by itself.
void settle_without_recipe(ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  if (!problem.batches.empty()) return;
  problem.microbes_live = false;
  problem.settles = false;
  if (!problem.prescribed.inertia) problem.prescribed.inertia = 0.0;
}

/// Without a lid the whole top lies open, unless the case says which part.
void open_the_top(ParsedCase& parsed_case) {
  Problem& problem = parsed_case.problem;
  if (problem.lid.kind != Lid::Kind::none || parsed_case.top_sealed) return;
  const auto at_top = [](const Opening& opening) { return opening.where == Opening::Where::top; };
  if (std::any_of(problem.openings.begin(), problem.openings.end(), at_top)) return;
  Opening open;
  open.name = "open top";
  open.where = Opening::Where::top;
  open.discharge = 0.0;
  problem.openings.push_back(open);
}

void read_parts(const Table& top, ParsedCase& parsed_case) {
  top.allow();
  read_control(top, parsed_case);
  read_bin(top, parsed_case);
  read_envelope(top, parsed_case);
  read_openings(top, parsed_case);
  read_recipe(top, parsed_case);
  read_refills(top, parsed_case);
  read_weather(top, parsed_case);
  read_waterings(top, parsed_case);
  read_longest_step(top, parsed_case);
  read_prescribed(top, parsed_case);
}

void check_together(const Table& top, ParsedCase& parsed_case) {
  decide_mode(top, parsed_case);
  check_openings(parsed_case);
  fill_problem(top, parsed_case);
  shape_rings(parsed_case);
  check_bed(top, parsed_case);
  if (!top.diagnostics().mistakes.empty()) return;
  check_size(top, parsed_case);
  check_plausible(top, parsed_case);
}

/// The batch with the most soft matter, by loose volume.
const ParsedBatch* main_batch(const ParsedCase& parsed_case) {
  const ParsedBatch* best = nullptr;
  double most = -1.0;
  for (const ParsedBatch& batch : parsed_case.batches) {
    double soft = 0.0;
    for (const ParsedPortion& portion : batch.portions)
      if (!portion.feedstock.chips) soft += portion.loose_volume();
    if (soft <= most) continue;
    most = soft;
    best = &batch;
  }
  return best;
}

std::vector<RecipeLine> recipe_lines(const ParsedCase& parsed_case, double bucket) {
  std::vector<RecipeLine> lines;
  const ParsedBatch* batch = main_batch(parsed_case);
  if (batch == nullptr) return lines;
  for (const ParsedPortion& portion : batch->portions)
    lines.push_back({portion.feedstock.name, portion.feedstock.chips, portion.loose_volume() / bucket});
  return lines;
}

ReadCase finished(ParsedCase& parsed_case, const Diagnostics& diagnostics, const std::string& text) {
  ReadCase read;
  read.name = plain_text(std::filesystem::path(diagnostics.file).stem().string());
  read.file = diagnostics.file;
  read.text = text;
  read.detail = parsed_case.detail.value_or(Detail::usual);
  read.own_cells = parsed_case.cells.has_value();
  read.bucket = diagnostics.bucket;
  read.depth_asked = parsed_case.depth.value_or(0.0);
  read.recipe = recipe_lines(parsed_case, diagnostics.bucket);
  read.notes = parsed_case.notes;
  if (mirrors(parsed_case.problem))
    read.notes.push_back("Front and back half of the box mirror each other: one of them is computed.");
  parsed_case.problem.uncertain = uncertain_inputs(parsed_case);
  if (parsed_case.problem.title.empty()) parsed_case.problem.title = read.name;
  // Names go into pictures, tables and file names, and onto screens.
  parsed_case.problem.title = plain_text(parsed_case.problem.title);
  for (Opening& opening : parsed_case.problem.openings) opening.name = plain_text(opening.name);
  for (auto* batches : {&parsed_case.problem.batches, &parsed_case.problem.refills})
    for (Batch& batch : *batches) batch.name = plain_text(batch.name);
  read.problem = std::move(parsed_case.problem);
  return read;
}

ReadOutcome unreadable(const std::string& file, std::string problem, std::string hint) {
  ReadOutcome outcome;
  outcome.unreadable = true;
  outcome.mistakes.push_back({file, 0, 0, "", std::move(problem), std::move(hint)});
  return outcome;
}

ReadOutcome too_large(const std::string& file) {
  return unreadable(file, "The file is larger than 1 MB.", "A case is a short text; is this the right file?");
}

/// Several mistakes at one key have one cause as a rule; the first one is told.
void drop_repeats(std::vector<Diagnostic>& mistakes) {
  const auto same = [](const Diagnostic& a, const Diagnostic& b) {
    return a.line == b.line && a.column == b.column && a.key == b.key && a.problem == b.problem;
  };
  mistakes.erase(std::unique(mistakes.begin(), mistakes.end(), same), mistakes.end());
}

std::string parent_of(const std::string& path) {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

/// A key that is missing because it is misspelt beside is one mistake, and the misspelling is told.
void drop_misspelt(std::vector<Diagnostic>& mistakes) {
  const std::vector<Diagnostic> all = mistakes;
  const auto stands_beside = [&all](const std::string& table, const std::string& key) {
    return std::any_of(all.begin(), all.end(), [&](const Diagnostic& other) {
      return parent_of(other.key) == table && other.hint == "Did you mean `" + key + "`?";
    });
  };
  std::erase_if(mistakes, [&](const Diagnostic& d) {
    if (d.problem == amount_missing)
      return stands_beside(d.key, "buckets") || stands_beside(d.key, "volume") ||
             stands_beside(d.key, "mass");
    const std::string table = parent_of(d.key);
    return d.problem == key_missing &&
           stands_beside(table, d.key.substr(table.empty() ? 0 : table.size() + 1));
  });
}

/// A mistake without a line is in what was laid over the case.
bool all_in_overrides(const std::vector<Diagnostic>& mistakes) {
  return !mistakes.empty() &&
         std::all_of(mistakes.begin(), mistakes.end(), [](const Diagnostic& d) { return d.line == 0; });
}

ReadOutcome syntax_error(const toml::parse_error& error, const std::string& file) {
  ReadOutcome outcome;
  const auto at = error.source().begin;
  if (error.description().find("not representable") != std::string_view::npos) {
    outcome.mistakes.push_back({file, static_cast<int>(at.line), static_cast<int>(at.column), "",
                                "This number is larger than any that a case may hold.",
                                "Days go up to 3660, counts of holes and buckets up to 100000."});
    return outcome;
  }
  outcome.mistakes.push_back(
      {file, static_cast<int>(at.line), static_cast<int>(at.column), "",
       "The text cannot be read as TOML: " + std::string(error.description()) + ".",
       "Texts and values with a unit stand in quotes, such as \"0.9 m\"; check commas and brackets "
       "too, here and on the line before."});
  return outcome;
}

}  // namespace

ReadOutcome read_case_text(const std::string& text, const std::string& file, const Overrides& overrides) {
  if (text.find_first_not_of(" \t\r\n") == std::string::npos)
    return unreadable(file, "The file is empty.", "`updraught start FILE` writes a case to start from.");
  if (text.find('\0') != std::string::npos)
    return unreadable(file, "This is not a text file.",
                      "A case is a short text; `updraught start FILE` writes one.");
  toml::table parsed;
  try {
    parsed = toml::parse(text, std::string_view(file));
  } catch (const toml::parse_error& error) {
    return syntax_error(error, file);
  }
  Diagnostics diagnostics(file);
  lay_over(parsed, overrides, diagnostics);
  const Table top(parsed, "", top_keys(), diagnostics);
  ParsedCase parsed_case;
  parsed_case.library = built_in_feedstocks();
  read_parts(top, parsed_case);
  check_together(top, parsed_case);
  ReadOutcome outcome;
  if (diagnostics.mistakes.empty()) {
    settle_without_recipe(parsed_case);
    open_the_top(parsed_case);
    outcome.read = finished(parsed_case, diagnostics, text);
    outcome.read->overrides = overrides;
    outcome.read->doubts = std::move(diagnostics.doubts);
    sort_by_place(outcome.read->doubts);
  }
  sort_by_place(diagnostics.mistakes);
  drop_repeats(diagnostics.mistakes);
  drop_misspelt(diagnostics.mistakes);
  outcome.wrong_overrides = all_in_overrides(diagnostics.mistakes);
  outcome.mistakes = std::move(diagnostics.mistakes);
  return outcome;
}

ReadOutcome read_case_stream(std::istream& stream, const std::string& file, const Overrides& overrides) {
  std::string text(largest_file + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (text.size() > largest_file) return too_large(file);
  return read_case_text(text, file, overrides);
}

ReadOutcome read_case_file(const std::filesystem::path& path, const Overrides& overrides) {
  const std::string file = path.string();
  if (file == "-")
    return unreadable("standard input", "This command reads a case from a file only.",
                      "Write the case into a file; only `updraught check -` takes it from standard input.");
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status))
    return unreadable(file, "There is no such file.", "`updraught start FILE` writes a case to start from.");
  if (std::filesystem::is_directory(status))
    return unreadable(file, "This is a folder.", "Name the case file in it.");
  if (!std::filesystem::is_regular_file(status))
    return unreadable(file, "This is not a file that can be read more than once.",
                      "Write the case into a file; only `updraught check -` takes it from standard input.");
  if (std::filesystem::file_size(path, error) > largest_file) return too_large(file);
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  if (!stream && text.str().empty() && std::filesystem::file_size(path, error) > 0)
    return unreadable(file, "The file cannot be opened.", "May you read it?");
  return read_case_text(text.str(), file, overrides);
}

Overrides in_quick_detail(Overrides asked) {
  put(asked, "detail", case_text("quick"));
  drop(asked, "cells");
  if (const Override* mode = find(asked, "mode"); mode != nullptr && mode->value == case_text("whole"))
    drop(asked, "mode");
  return asked;
}

}  // namespace updraught
