// A mistake in what a person wrote, told so that it can be mended.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace updraught {

/// One mistake: where it stands, what is wrong and how to mend it.
struct Diagnostic {
  std::string file;
  int line = 0;         ///< from 1; 0: the file as a whole
  int column = 0;       ///< from 1
  std::string key;      ///< path of the key, lists counted from 1: "walls[2].thick"; may be empty
  std::string problem;  ///< what is wrong and why, a sentence
  std::string hint;     ///< what to write instead, a sentence; may be empty
};

/// A text as valid UTF-8 with control characters as "\\x1b", so that no file can write over what a terminal
/// shows.
std::string printable(std::string_view text);

/// The first letters of a text (UTF-8, never cut in the middle), with "..." where some are left out.
std::string shortened(std::string_view text, std::size_t letters);

/// "box.toml:4:12: walls[2].thick: problem mend", the parts that are there, printable and in one line.
std::string to_text(const Diagnostic& diagnostic);

/// All of them, one a line.
std::string to_text(const std::vector<Diagnostic>& diagnostics);

/// Sorts by line, then column; equal places keep their order.
void sort_by_place(std::vector<Diagnostic>& diagnostics);

}  // namespace updraught
