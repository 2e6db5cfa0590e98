// The built program as people call it: in a folder of its own, with both outputs apart.
#pragma once

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace updraught::whole {

namespace fs = std::filesystem;

/// What a command said and how it ended.
struct Said {
  int code = -1;    ///< exit code; -1 after a signal
  int signal = 0;   ///< that ended it; 0: none
  std::string out;  ///< standard output
  std::string err;  ///< standard error
  nlohmann::json json() const { return nlohmann::json::parse(out); }
};

inline std::string text_of(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// A text with one part replaced, which must be there.
inline std::string replaced(std::string text, const std::string& part, const std::string& by) {
  const std::size_t at = text.find(part);
  if (at == std::string::npos) throw std::logic_error("the text does not hold: " + part);
  return text.replace(at, part.size(), by);
}

/// A ready-made case. Its design's own name is left out: tests tell cases by their files.
inline std::string ready_case(const std::string& name) {
  std::string text = text_of(fs::path(UPDRAUGHT_SOURCE_DIR "/cases") / (name + ".toml"));
  const std::size_t start = text.find("\ndesign ");
  if (start != std::string::npos) text.erase(start, text.find('\n', start + 1) - start);
  return text;
}

/// The same in the still air that it keeps as a remark beside its weather.
inline std::string still_case(const std::string& name) {
  std::istringstream lines(ready_case(name));
  std::string text;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("outside ")) continue;
    text += (line.starts_with("# outside ") ? line.substr(2) : line) + "\n";
  }
  return text;
}

/// A folder for one test, gone after it.
class Folder {
 public:
  explicit Folder(const std::string& name)
      : path_(fs::temp_directory_path() / ("updraught_" + name + "_" + std::to_string(getpid()))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() {
    std::error_code ignored;  // a destructor has nobody to tell
    fs::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  const fs::path& path() const { return path_; }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
  }
  /// Names of what lies directly in it, in order.
  std::vector<std::string> names() const {
    std::vector<std::string> out;
    for (const auto& entry : fs::directory_iterator(path_)) out.push_back(entry.path().filename().string());
    std::sort(out.begin(), out.end());
    return out;
  }

  /// Runs the program in this folder to its end.
  Said run(const std::vector<std::string>& words) const {
    return run_until(
        words, [] { return false; }, 0);
  }

  /// The same after `before` has changed what the program finds: its streams, its limits.
  Said run_after(const std::function<void()>& before, const std::vector<std::string>& words) const {
    return run_until(
        words, [] { return false; }, 0, before);
  }

  /// Runs the program in this folder; sends it a signal as soon as `now` says so, at most once.
  Said run_until(
      const std::vector<std::string>& words, const std::function<bool()>& now, int signal_to_send,
      const std::function<void()>& before = [] {}) const {
    // Outputs go into files beside the folder, so that what the program leaves in it can be counted.
    const fs::path out = path_.string() + ".out", err = path_.string() + ".err";
    const pid_t child = fork();
    if (child == 0) become_program(words, out, err, before);
    int status = 0;
    bool sent = false;
    while (waitpid(child, &status, WNOHANG) == 0) {
      if (!sent && now()) {
        kill(child, signal_to_send);
        sent = true;
      }
      std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    Said said{WIFEXITED(status) ? WEXITSTATUS(status) : -1, WIFSIGNALED(status) ? WTERMSIG(status) : 0,
              text_of(out), text_of(err)};
    fs::remove(out);
    fs::remove(err);
    return said;
  }

 private:
  [[noreturn]] void become_program(const std::vector<std::string>& words, const fs::path& out,
                                   const fs::path& err, const std::function<void()>& before) const {
    const auto to_file = [](const fs::path& file, int target) {
      dup2(open(file.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600), target);
    };
    to_file(out, STDOUT_FILENO);
    to_file(err, STDERR_FILENO);
    std::vector<std::string> all{UPDRAUGHT_PROGRAM};
    all.insert(all.end(), words.begin(), words.end());
    std::vector<char*> pointers;
    for (std::string& word : all) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    before();
    if (chdir(path_.c_str()) == 0) execv(pointers[0], pointers.data());
    _exit(127);
  }

  fs::path path_;
};

}  // namespace updraught::whole
