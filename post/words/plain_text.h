// Text from outside (file names, what people typed) as text that every file and every screen can carry.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace updraught {

/// The text as valid UTF-8 without control characters: each byte that is no letter becomes U+FFFD, line ends
/// and other control characters become spaces. Text without them comes back as it is.
std::string plain_text(std::string_view text);

/// The first `bytes` of a text at most, cut between two letters, never within one.
std::string_view cut_between_letters(std::string_view text, std::size_t bytes);

/// One name of a file or folder from any text: no separators, no control characters, no leading dots or
/// spaces, at most 100 bytes; `otherwise` where nothing is left.
std::string file_word(std::string_view text, const std::string& otherwise);

}  // namespace updraught
