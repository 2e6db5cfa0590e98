// The files that a computed case leaves beside its store, from its result alone: whether that was just
// computed or read back from a store, they are the same byte for byte.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "post/answer/told.h"

namespace updraught {

/// Writes verdict.txt and summary.json. What cannot be written becomes a sentence among the troubles; so
/// below.
void write_words(const Summary& summary, const std::filesystem::path& folder,
                 std::vector<std::string>& troubles);

/// Writes the tables.
void write_numbers(const Result& result, const std::filesystem::path& folder,
                   std::vector<std::string>& troubles);

/// Writes the files for visualisers, and the figures with the sheet.
void write_pictures(const Result& result, const Told& told, const std::filesystem::path& folder,
                    std::vector<std::string>& troubles);

/// Prints the answer and where its files stand; with `pictures`, which to open first.
void print_for_people(const Result& result, const Told& told, const std::filesystem::path& folder,
                      bool pictures);

}  // namespace updraught
