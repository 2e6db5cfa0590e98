#include "post/store/store_check.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <string>
#include <vector>

namespace updraught {

namespace {

constexpr std::size_t line_length = 64;
constexpr const char* line_start = "\nupdraught check sum ";

/// Sum over the first `length` bytes, eight at a time, in the manner of Fowler, Noll and Vo (64 bits, from
/// memory): any single changed word changes it. Not meant against ill will. Sets the stream's fail bit when
/// bytes are missing.
std::uint64_t sum_of(std::ifstream& file, std::uint64_t length) {
  std::uint64_t sum = 14695981039346656037ULL;
  std::vector<char> buffer(std::size_t{1} << 20U);
  while (length > 0 && file) {
    const std::size_t count = static_cast<std::size_t>(std::min<std::uint64_t>(length, buffer.size()));
    file.read(buffer.data(), static_cast<std::streamsize>(count));
    for (std::size_t n = 0; n < count; n += 8) {
      std::uint64_t word = 0;
      std::memcpy(&word, &buffer[n], std::min<std::size_t>(8, count - n));
      sum = (sum ^ word) * 1099511628211ULL;
      sum ^= sum >> 29U;
    }
    length -= count;
  }
  return sum;
}

std::string line_of(std::uint64_t length, std::uint64_t sum) {
  std::string line = fmt::format("{}{:016x} {:016x}", line_start, length, sum);
  line.resize(line_length - 1, ' ');
  return line + "\n";
}

}  // namespace

int append_check_sum(const std::filesystem::path& path) {
  std::error_code error;
  const std::uint64_t length = std::filesystem::file_size(path, error);
  if (error) return error.value();
  std::ifstream in(path, std::ios::binary);
  const std::uint64_t sum = sum_of(in, length);
  if (!in) return EIO;
  errno = 0;
  std::ofstream out(path, std::ios::binary | std::ios::app);
  out << line_of(length, sum);
  out.close();
  if (out) return 0;
  return errno != 0 ? errno : EIO;
}

Soundness soundness_of(const std::filesystem::path& path) {
  std::error_code error;
  const std::uint64_t size = std::filesystem::file_size(path, error);
  if (error) return Soundness::damaged;
  if (size < line_length) return Soundness::unchecked;
  std::ifstream file(path, std::ios::binary);
  std::string line(line_length, '\0');
  file.seekg(static_cast<std::streamoff>(size - line_length));
  file.read(line.data(), static_cast<std::streamsize>(line_length));
  if (!file) return Soundness::damaged;
  if (!line.starts_with(line_start)) return Soundness::unchecked;
  file.seekg(0);
  const std::uint64_t sum = sum_of(file, size - line_length);
  return file && line == line_of(size - line_length, sum) ? Soundness::sound : Soundness::damaged;
}

}  // namespace updraught
