// Where a command writes: one folder, never over earlier results without being told, and nothing outside it.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

namespace updraught {

/// Results or other files are in the way; `what()` says where and what to do.
struct InTheWay : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The folder that was asked for, or `name` in the working directory.
std::filesystem::path results_folder(const std::filesystem::path& asked, const std::string& name);

/// Throws InTheWay when writing there would touch anything that is there: a file, a folder with other
/// content, or, without `force`, earlier results.
void require_free(const std::filesystem::path& folder, bool force);

/// Makes the folder, and removes what earlier results left in it; the store stays, it is replaced by the next
/// one. Throws std::runtime_error when the system refuses.
void prepare_folder(const std::filesystem::path& folder);

/// Writes a text file: under another name first, then renamed. Throws std::runtime_error when the system
/// refuses.
void write_text(const std::filesystem::path& file, const std::string& text);

}  // namespace updraught
