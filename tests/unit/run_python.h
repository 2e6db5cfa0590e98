// Runs a Python script and takes in what it prints, for readers that are not ours.
#pragma once

#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <sstream>
#include <string>

namespace updraught::made_up {

/// Debian's own Python: the one whose packages the set-up script installs.
inline constexpr const char* python = "/usr/bin/python3";

struct Printed {
  int status = -1;
  std::string text;
  /// The rest of the line that starts with a word; empty when there is none.
  std::string operator[](const std::string& word) const {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
      if (line.starts_with(word + " ")) return line.substr(word.size() + 1);
    return "";
  }
};

inline Printed run_python(const std::string& arguments) {
  Printed printed;
  FILE* pipe = ::popen((std::string(python) + " " + arguments + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return printed;
  char buffer[4096];
  for (std::size_t count = 0; (count = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;)
    printed.text.append(buffer, count);
  printed.status = ::pclose(pipe);
  return printed;
}

/// True when Python is there and has the module.
inline bool python_has(const std::string& module) {
  return run_python("-c 'import " + module + "'").status == 0;
}

}  // namespace updraught::made_up
