#include "cases/output/case_files.h"

#include <fmt/format.h>

#include "cases/output/printing.h"
#include "post/files/whole_files.h"
#include "post/sheets/figures.h"
#include "post/tables/csv_files.h"
#include "post/tables/summary_json.h"
#include "post/tables/vtk_files.h"

namespace updraught {

namespace {

std::string lines(const std::vector<std::string>& sentences) {
  std::string text;
  for (const std::string& sentence : sentences) text += sentence + "\n";
  return text;
}

FigureOptions figures_of(const Result& result, const Told& told) {
  FigureOptions drawn;
  drawn.day = told.findings.day;
  if (!result.pictures.empty()) drawn.sheet_day = day_to_draw({&result, 1});
  drawn.more_maps = {MapKind::air_between};
  // Only living microbes are held back by something.
  if (result.problem.microbes_live) drawn.more_maps.push_back(MapKind::holds_back);
  drawn.notes = words_of(told.cautions, Caution::Kind::care);
  drawn.warnings = words_of(told.cautions, Caution::Kind::warning);
  return drawn;
}

}  // namespace

void write_words(const Summary& summary, const std::filesystem::path& folder,
                 std::vector<std::string>& troubles) {
  const std::string words = lines(summary.verdict) + "\n" + lines(summary.cautions);
  try_to(troubles, [&] { write_text_file(folder / "verdict.txt", words); });
  try_to(troubles, [&] { write_text_file(folder / "summary.json", json_text(to_json(summary)) + "\n"); });
}

void write_numbers(const Result& result, const std::filesystem::path& folder,
                   std::vector<std::string>& troubles) {
  try_to(troubles, [&] { write_tables(folder, result); });
}

void write_pictures(const Result& result, const Told& told, const std::filesystem::path& folder,
                    std::vector<std::string>& troubles) {
  try_to(troubles, [&] { write_view_files(folder / "view", result.grid, result.pictures); });
  try_to(troubles, [&] {
    const FigureFiles files =
        write_case_figures(result, (folder / "figures").string(), figures_of(result, told));
    for (const std::string& trouble : files.troubles) troubles.push_back(sentence(trouble));
  });
}

void print_for_people(const Result& result, const Told& told, const std::filesystem::path& folder,
                      bool pictures) {
  std::string text = fmt::format("{}\n\n{}\n{}", result.title, paragraphs(told.verdict),
                                 paragraphs(words_of(told.cautions)));
  if (pictures) {
    text += fmt::format("\nThe sheet to look at first: {}\n", (folder / "figures" / "sheet.png").string());
    text += fmt::format("For visualisers: {}\n", (folder / "view" / "bed.pvd").string());
  }
  print(text + fmt::format("Results: {}\n", folder.string()));
}

}  // namespace updraught
