#include "post/words/text_table.h"

#include <algorithm>

namespace updraught {

namespace {

std::size_t letters(const std::string& text) {
  return std::size_t(std::count_if(text.begin(), text.end(), [](char letter) {
    return (static_cast<unsigned char>(letter) & 0xC0U) != 0x80U;  // not the second or later byte of a letter
  }));
}

}  // namespace

std::string text_table(const std::vector<std::vector<std::string>>& lines) {
  std::vector<std::size_t> widths;
  for (const auto& line : lines) {
    widths.resize(std::max(widths.size(), line.size()));
    for (std::size_t i = 0; i < line.size(); ++i) widths[i] = std::max(widths[i], letters(line[i]));
  }
  std::string text;
  for (const auto& line : lines) {
    std::string row;
    for (std::size_t i = 0; i < line.size(); ++i)
      row += line[i] + std::string(widths[i] - letters(line[i]) + 2, ' ');
    row.erase(row.find_last_not_of(' ') + 1);
    text += row + "\n";
  }
  return text;
}

}  // namespace updraught
