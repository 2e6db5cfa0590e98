// What commands print for people, and how they end.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace updraught {

/// Breaks sentences into lines of at most `width` letters, one paragraph each.
std::string paragraphs(const std::vector<std::string>& sentences, std::size_t width = 96);

/// Runs a command and turns what it throws into one plain message on the error stream and an exit code.
int with_plain_messages(const std::function<int()>& command);

}  // namespace updraught
