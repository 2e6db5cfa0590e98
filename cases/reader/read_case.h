// From the text of a case file to a checked Problem.
#pragma once

#include <array>
#include <cstddef>
#include <filesystem>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "cases/reader/parts/detail.h"
#include "cases/terminal/diagnostics.h"
#include "cases/text/overrides.h"
#include "solver/problem/problem.h"

namespace updraught {

/// One line of a recipe, as buckets.
struct RecipeLine {
  std::string what;
  bool chips = false;
  double buckets = 0.0;  ///< of loose material; proportions when the case gives a depth
};

/// A case that can be computed.
struct ReadCase {
  Problem problem;
  std::string name;     ///< file name without folder and ending
  std::string file;     ///< as it was named
  std::string text;     ///< the file as read
  Overrides overrides;  ///< laid over it
  Detail detail = Detail::usual;
  bool own_cells = false;          ///< the case itself counts its cells, so that `detail` says nothing
  double bucket = 0.0;             ///< m3
  double depth_asked = 0.0;        ///< `depth` as the case gives it (m); 0: the amounts are as given
  std::vector<RecipeLine> recipe;  ///< of the main batch (the one that holds the most soft matter)
  std::vector<std::string> notes;  ///< what the reader decided by itself, in plain sentences
  std::vector<Diagnostic> doubts;  ///< what can be computed but is hardly meant
};

/// Either a case or the mistakes in it, in the order of the file.
struct ReadOutcome {
  std::optional<ReadCase> read;
  std::vector<Diagnostic> mistakes;
  bool unreadable = false;  ///< no file that could be read at all (missing, a folder, too large, not text)
  bool wrong_overrides = false;  ///< nothing is wrong but what was laid over the case
};

/// Reads a case file. Never throws for what is in the file; throws std::runtime_error when the program's own
/// data (unit definitions, feedstock library) cannot be loaded.
ReadOutcome read_case_file(const std::filesystem::path& path, const Overrides& overrides = {});

/// The same from standard input, which can be read only once.
ReadOutcome read_case_stream(std::istream& stream, const std::string& file, const Overrides& overrides = {});

/// The same from a text; `file` is the name that messages show.
ReadOutcome read_case_text(const std::string& text, const std::string& file, const Overrides& overrides = {});

/// What asks for a case in quick detail, whatever the case and `asked` say of detail and mode: a whole box
/// may become rings, which is what makes it quick.
Overrides in_quick_detail(Overrides asked);

/// The bed right after filling, settled under its own weight; laid in one column, since all are alike.
struct LaidOut {
  double height = 0.0;       ///< m
  double volume = 0.0;       ///< m3, of the true bed
  std::vector<double> mass;  ///< wet, of each batch of the true bed (kg)
};
/// Throws CannotCompute when the fill does not fit the bin, std::invalid_argument for matter that cannot be.
LaidOut lay_out(const Problem& problem);

}  // namespace updraught
