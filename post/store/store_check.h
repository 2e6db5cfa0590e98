// A check sum at the end of a file, so that damage is told before a library trips over it.
#pragma once

#include <filesystem>

namespace updraught {

/// What the check sum at the end of a file says.
enum class Soundness {
  sound,      ///< every byte is as it was written
  damaged,    ///< it is not
  unchecked,  ///< there is no check sum: another program has changed the file since, or it is not ours
};

/// Appends the check sum of all bytes of a file as one line of text. HDF5 readers pass over what follows
/// their own end. Returns 0, or errno when the file cannot be read or written.
int append_check_sum(const std::filesystem::path& path);

/// Compares a file with its check sum; a file that cannot be read is damaged.
Soundness soundness_of(const std::filesystem::path& path);

}  // namespace updraught
