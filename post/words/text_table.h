// Tables of text in columns.
#pragma once

#include <string>
#include <vector>

namespace updraught {

/// Lays lines out in columns as wide as their widest text, two spaces apart; letters beyond ASCII (UTF-8)
/// count once.
std::string text_table(const std::vector<std::vector<std::string>>& lines);

}  // namespace updraught
