// Child processes whose output is caught.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace updraught {

/// A running child. Ends and reaps it when it goes out of sight.
class ChildProcess {
 public:
  /// Starts a program with words and what it reads from its standard input. Throws std::runtime_error when
  /// the system refuses.
  ChildProcess(const std::filesystem::path& program, const std::vector<std::string>& words,
               const std::string& input);
  ~ChildProcess();
  ChildProcess(const ChildProcess&) = delete;
  ChildProcess& operator=(const ChildProcess&) = delete;
  ChildProcess(ChildProcess&& other) noexcept;
  ChildProcess& operator=(ChildProcess&&) = delete;

  /// How it ended.
  struct Ending {
    int code = 0;    ///< exit code, when `signal` is 0
    int signal = 0;  ///< the signal that ended it
  };

  /// Takes in what it has printed so far; true once it has closed both streams.
  bool read_on();
  /// Waits for its end; call after read_on() was true.
  Ending wait();
  /// Files to wait on for more output; -1 for a closed one.
  int output_file() const { return files_[0]; }
  int error_file() const { return files_[1]; }

  const std::string& output() const { return text_[0]; }
  const std::string& errors() const { return text_[1]; }

 private:
  pid_t process_ = -1;
  int files_[2] = {-1, -1};
  std::string text_[2];
};

}  // namespace updraught
