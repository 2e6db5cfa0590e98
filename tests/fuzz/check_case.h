// What must hold of the reader's answer to any text.
#pragma once

#include <string>

#include "cases/reader/read_case.h"

namespace updraught::fuzz {

/// Reads a text as a case and ends the target unless the answer is a case of finite numbers, or mistakes that
/// can be shown.
ReadOutcome checked_reading(const std::string& text, const Overrides& overrides = {});

}  // namespace updraught::fuzz
