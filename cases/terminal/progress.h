// Tells how far a computation is: a bar with the time left on a terminal, plain lines in a pipe.
#pragma once

#include <chrono>
#include <cstdio>
#include <functional>
#include <string>

namespace updraught {

/// How much is told.
enum class Verbosity { quiet, usual, verbose };

/// Progress of one piece of work after another, on one stream.
class Progress {
 public:
  using Clock = std::function<double()>;  ///< seconds from any start

  /// `terminal`: the stream is one, so a line may be drawn over.
  Progress(std::FILE* stream, bool terminal, Verbosity verbosity, Clock clock = {});

  /// Starts a piece of work, named in a few words.
  void start(const std::string& what);
  /// A share (0..1) of it is done; `now` says where it stands, e.g. "day 3 of 14".
  void update(double share, const std::string& now);
  /// The piece is done; `result` closes its line.
  void finish(const std::string& result);
  /// A line for engineers, shown when verbose.
  void detail(const std::string& line);
  /// A line that is shown unless quiet.
  void say(const std::string& line);

 private:
  void write(const std::string& text);
  void draw_bar(double share, const std::string& now);
  void clear_bar();
  std::string time_left(double share) const;

  std::FILE* stream_;
  bool terminal_;
  Verbosity verbosity_;
  Clock clock_;
  std::string what_;
  double started_ = 0.0;
  double last_drawn_ = -1.0;  ///< s after the start
  int tenths_told_ = 0;
  bool bar_stands_ = false;
};

/// Progress on the error stream, for a command's options.
Progress command_progress(bool quiet, bool verbose);

}  // namespace updraught
