#include "cases/terminal/progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>

namespace updraught {

namespace {

constexpr double redraw_every = 0.1;  // s: fast enough for the eye, slow enough for a remote terminal
constexpr double honest_from = 0.02;  // share from which the time left is worth telling
constexpr int bar_width = 24;

double now_in_seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

std::string short_span(double seconds) {
  if (seconds < 90.0) return fmt::format("{:.0f} s", std::max(1.0, seconds));
  if (seconds < 5400.0) return fmt::format("{:.0f} min", seconds / 60.0);
  return fmt::format("{:.1f} h", seconds / 3600.0);
}

}  // namespace

Progress::Progress(std::FILE* stream, bool terminal, Verbosity verbosity, Clock clock)
    : stream_(stream),
      terminal_(terminal),
      verbosity_(verbosity),
      clock_(clock ? std::move(clock) : now_in_seconds) {}

void Progress::start(const std::string& what) {
  what_ = what;
  started_ = clock_();
  last_drawn_ = -redraw_every;
  tenths_told_ = 0;
  if (verbosity_ == Verbosity::quiet) return;
  if (terminal_) {
    draw_bar(0.0, "");
  } else {
    write(fmt::format("{}\n", what_));
  }
}

void Progress::update(double share, const std::string& now) {
  if (verbosity_ == Verbosity::quiet) return;
  share = std::clamp(share, 0.0, 1.0);
  if (terminal_) {
    if (clock_() - started_ - last_drawn_ < redraw_every) return;
    draw_bar(share, now);
    return;
  }
  const int tenths = int(std::floor(10.0 * share + 1e-9));
  if (tenths <= tenths_told_ || tenths >= 10) return;
  tenths_told_ = tenths;
  write(fmt::format("{}: {} %, {}{}\n", what_, 10 * tenths, now, time_left(share)));
}

void Progress::finish(const std::string& result) {
  if (verbosity_ == Verbosity::quiet) return;
  clear_bar();
  write(fmt::format("{}: {} ({})\n", what_, result, short_span(clock_() - started_)));
}

void Progress::detail(const std::string& line) {
  if (verbosity_ == Verbosity::verbose) say(line);
}

void Progress::say(const std::string& line) {
  if (verbosity_ == Verbosity::quiet) return;
  clear_bar();
  write(fmt::format("{}\n", line));
}

// A closed or full error stream ends no computation.
void Progress::write(const std::string& text) {
  std::fwrite(text.data(), 1, text.size(), stream_);
  std::fflush(stream_);
}

std::string Progress::time_left(double share) const {
  if (share < honest_from) return "";
  return ", about " + short_span((clock_() - started_) * (1.0 - share) / share) + " left";
}

void Progress::draw_bar(double share, const std::string& now) {
  last_drawn_ = clock_() - started_;
  const int full = int(std::lround(share * bar_width));
  std::string bar;
  for (int i = 0; i < bar_width; ++i) bar += i < full ? "▮" : "▯";
  // "\033[K" clears what a longer line before left behind.
  write(fmt::format("\r{} {} {:3.0f} %  {}{}\033[K", what_, bar, 100.0 * share, now, time_left(share)));
  bar_stands_ = true;
}

void Progress::clear_bar() {
  if (!bar_stands_) return;
  write("\r\033[K");
  bar_stands_ = false;
}

Progress command_progress(bool quiet, bool verbose) {
  const Verbosity verbosity = quiet ? Verbosity::quiet : verbose ? Verbosity::verbose : Verbosity::usual;
  return Progress(stderr, isatty(fileno(stderr)) != 0, verbosity);
}

}  // namespace updraught
