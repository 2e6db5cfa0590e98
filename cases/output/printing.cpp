#include "cases/output/printing.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <new>
#include <sstream>

#include "cases/output/results_folder.h"
#include "cases/terminal/diagnostics.h"
#include "cases/terminal/options.h"
#include "cases/terminal/stop.h"
#include "post/files/whole_files.h"

namespace updraught {

namespace {

int told(const std::string& message, int code) {
  print_error("updraught: " + message + "\n");
  return code;
}

std::string plain(const std::filesystem::filesystem_error& error) {
  return error.path1().string() + ": " + plain_reason(error.code().value()) + ".";
}

/// Why standard output did not take what was printed, the first time; the stream itself forgets it. 0: it
/// did.
int& why_refused() {
  static int reason = 0;
  return reason;
}

}  // namespace

std::string sentence(const std::string& message) {
  return message.empty() || message.ends_with('.') ? message : message + ".";
}

void print(const std::string& text) {
  errno = 0;
  const std::size_t taken = std::fwrite(text.data(), 1, text.size(), stdout);
  if (taken < text.size() && why_refused() == 0) why_refused() = errno;
}

void print_error(const std::string& text) {
  std::string shown;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) shown += printable(line) + "\n";
  std::fwrite(shown.data(), 1, shown.size(), stderr);
}

int end_of_output(int code) {
  errno = 0;
  if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return code;
  int reason = why_refused() != 0 ? why_refused() : errno;
  if (reason == 0) reason = EIO;
  const std::string why = reason == EPIPE || reason == EBADF ? "it is closed" : plain_reason(reason);
  return told("standard output did not take the whole answer: " + why + ".", exit_cannot_compute);
}

void keep_streams_apart() {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  // Opened in order, so each takes the lowest free number; read-only, so that printing still fails.
  while (true) {
    const int file = open("/dev/null", O_RDONLY);
    if (file > STDERR_FILENO) close(file);
    if (file < 0 || file > STDERR_FILENO) return;
  }
}

std::string paragraphs(const std::vector<std::string>& sentences, std::size_t width) {
  std::string text;
  for (const std::string& sentence : sentences) {
    std::istringstream words(sentence);
    std::string line;
    for (std::string word; words >> word;) {
      if (!line.empty() && line.size() + 1 + word.size() > width) {
        text += line + "\n";
        line = "  ";
        line += word;
      } else {
        line += line.empty() ? word : " " + word;
      }
    }
    text += line + "\n";
  }
  return text;
}

void try_to(std::vector<std::string>& troubles, const std::function<void()>& write) {
  try {
    write();
  } catch (const std::bad_alloc&) {
    troubles.emplace_back("there is not enough memory to write all files.");
  } catch (const std::filesystem::filesystem_error& error) {
    troubles.push_back(plain(error));
  } catch (const std::exception& error) {
    troubles.push_back(sentence(error.what()));
  }
}

int told_troubles(const std::vector<std::string>& troubles) {
  for (const std::string& trouble : troubles) print_error("updraught: " + trouble + "\n");
  return troubles.empty() ? exit_done : exit_cannot_compute;
}

int with_plain_messages(const std::function<int()>& command) {
  try {
    return command();
  } catch (const InTheWay& error) {
    return told(error.what(), exit_wrong_use);
  } catch (const Stopped&) {
    return told("stopped before there was a result.", exit_cannot_compute);
  } catch (const std::bad_alloc&) {
    return told("there is not enough memory for this; try --detail quick.", exit_cannot_compute);
  } catch (const std::filesystem::filesystem_error& error) {
    return told(plain(error), exit_cannot_compute);
  } catch (const std::exception& error) {
    return told(sentence(error.what()), exit_cannot_compute);
  }
}

}  // namespace updraught
