#include "cases/machine/child_process.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <stdexcept>

extern char** environ;

namespace updraught {

namespace {

struct Pipe {
  int read = -1;
  int write = -1;
};

// Closed in children, so that no child holds another one's pipe open.
Pipe open_pipe() {
  int ends[2];
  if (pipe2(ends, O_CLOEXEC) != 0)
    throw std::runtime_error(std::string("no pipe to a child: ") + std::strerror(errno));
  return {ends[0], ends[1]};
}

void close_file(int& file) {
  if (file >= 0) close(file);
  file = -1;
}

// A file in memory, so that a child reads at its own pace and nobody waits for it.
int input_file(const std::string& text) {
  int file = memfd_create("input", MFD_CLOEXEC);
  std::size_t done = 0;
  while (file >= 0 && done < text.size()) {
    const ssize_t count = write(file, text.data() + done, text.size() - done);
    if (count > 0) done += std::size_t(count);
    if (count <= 0 && errno != EINTR) close_file(file);
  }
  if (file < 0 || lseek(file, 0, SEEK_SET) != 0)
    throw std::runtime_error(std::string("no input for a child: ") + std::strerror(errno));
  return file;
}

struct Streams {
  int input;
  int output;
  int errors;
};

pid_t spawn(const std::filesystem::path& program, const std::vector<std::string>& words,
            const Streams& streams) {
  std::vector<char*> pointers;
  std::string name = program.string();
  std::vector<std::string> copies = words;
  pointers.push_back(name.data());
  for (std::string& word : copies) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, streams.input, STDIN_FILENO);
  posix_spawn_file_actions_adddup2(&actions, streams.output, STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, streams.errors, STDERR_FILENO);
  pid_t process = -1;
  const int refused = posix_spawn(&process, name.c_str(), &actions, nullptr, pointers.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (refused != 0) throw std::runtime_error("cannot start " + name + ": " + std::strerror(refused));
  return process;
}

// Reads what is there; false once the stream is closed.
bool drain(int& file, std::string& text) {
  std::array<char, 65536> buffer{};
  while (file >= 0) {
    const ssize_t count = read(file, buffer.data(), buffer.size());
    if (count > 0) {
      text.append(buffer.data(), std::size_t(count));
    } else if (count < 0 && errno == EINTR) {
      continue;
    } else if (count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK)) {
      return true;
    } else {
      close_file(file);
    }
  }
  return false;
}

}  // namespace

ChildProcess::ChildProcess(const std::filesystem::path& program, const std::vector<std::string>& words,
                           const std::string& input) {
  Pipe output = open_pipe();
  Pipe errors;
  int given = -1;
  try {
    errors = open_pipe();
    given = input_file(input);
    process_ = spawn(program, words, {given, output.write, errors.write});
  } catch (...) {
    for (int* file : {&output.read, &output.write, &errors.read, &errors.write, &given}) close_file(*file);
    throw;
  }
  close_file(given);
  close_file(output.write);
  close_file(errors.write);
  files_[0] = output.read;
  files_[1] = errors.read;
  for (const int file : files_) fcntl(file, F_SETFL, O_NONBLOCK);
}

ChildProcess::ChildProcess(ChildProcess&& other) noexcept : process_(other.process_) {
  for (int i = 0; i < 2; ++i) {
    files_[i] = other.files_[i];
    text_[i] = std::move(other.text_[i]);
    other.files_[i] = -1;
  }
  other.process_ = -1;
}

ChildProcess::~ChildProcess() {
  for (int& file : files_) close_file(file);
  if (process_ < 0) return;
  kill(process_, SIGTERM);
  wait();
}

bool ChildProcess::read_on() {
  const bool output_open = drain(files_[0], text_[0]);
  const bool errors_open = drain(files_[1], text_[1]);
  return !output_open && !errors_open;
}

ChildProcess::Ending ChildProcess::wait() {
  int status = 0;
  while (waitpid(process_, &status, 0) < 0 && errno == EINTR) {
  }
  process_ = -1;
  if (WIFSIGNALED(status)) return {0, WTERMSIG(status)};
  return {WEXITSTATUS(status), 0};
}

}  // namespace updraught
