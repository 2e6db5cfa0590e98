// What must hold of everything that the program says, whatever it was given.
#pragma once

#include <string>

namespace updraught::fuzz {

/// Ends the target with a sentence where something does not hold.
void require(bool holds, const std::string& what);

/// A message that can be shown: some letters, not too many, no control characters, valid UTF-8.
void require_plain(const std::string& message);

}  // namespace updraught::fuzz
