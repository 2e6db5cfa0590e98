// Words on the command line: commands, options and what follows them. The input is one word a line. No word
// reaches a file outside a folder of the target's own, and no case there can be computed, so that each answer
// comes at once.
#include <fcntl.h>
#include <sanitizer/common_interface_defs.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cases/cli.h"
#include "post/words/plain_text.h"
#include "tests/fuzz/check_text.h"
#include "tests/made_cases/draws.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

using namespace updraught;
using made_cases::Draws;
namespace fs = std::filesystem;
using Words = std::vector<std::string>;

const Words& known_words() {
  static const Words words{"mix",
                           "start",
                           "check",
                           "run",
                           "compare",
                           "blend",
                           "feedstocks",
                           "draw",
                           "--help",
                           "-h",
                           "--version",
                           "--json",
                           "--quiet",
                           "--verbose",
                           "--force",
                           "--steps",
                           "--no-band",
                           "--no-figures",
                           "--",
                           "-",
                           "",
                           "wrong.toml",
                           "empty.toml",
                           "folder",
                           "absent.toml",
                           "new.toml",
                           "--out",
                           "--out=new",
                           "--threads",
                           "--threads=2",
                           "0",
                           "1",
                           "1025",
                           "--detail",
                           "--detail=quick",
                           "careful",
                           "--days",
                           "--days=0.5",
                           "nan",
                           "1e400",
                           "--wall-gap",
                           "--wall-gap=2 mm",
                           "5 cm",
                           "-1 mm",
                           "--mode",
                           "--mode=rings",
                           "slice",
                           "--woodchip",
                           "--woodchip=60 %",
                           "0.6",
                           "--bed",
                           "3",
                           "--member",
                           "--set",
                           "--set=days=7",
                           "--set=air_in[1].size=12 mm",
                           "bin.width=0.9 m",
                           "feedstocks.\"our scraps\".moisture=80 %",
                           "bin=",
                           "a[0]=1",
                           "a..b=1",
                           "\"a=1",
                           "bin={ width = \"1 m\" }",
                           "bin.\x1b[2J=1",
                           "--from",
                           "--from=20",
                           "--to=90",
                           "--step=5",
                           "--like",
                           "--like=school-round",
                           "allotment-box",
                           "--bucket",
                           "--bucket=10 L",
                           "--depth=0.8 m",
                           "--loose=9kg/20L",
                           "--loose",
                           "--tapped=9kg/15L",
                           "--water-poured=8L/20L",
                           "--water-poured",
                           "40 %",
                           "9kg/",
                           "3 buckets kitchen-waste, 1 bucket grass",
                           "2 kg straw and 1,5 buckets woodchip, coarse",
                           "1 bucket water",
                           "1e9 t paper",
                           "0 buckets straw",
                           "buckets",
                           "1 bucket",
                           ",,,",
                           "1 l compost,1 gal hay",
                           "kitchen waste",
                           "woodchip",
                           "straw",
                           "\x1b[2J",
                           "\xff\xfe",
                           "\u00e4\u009b",
                           "%s%n",
                           std::string(300, 'a'),
                           "=",
                           "--=",
                           "--days=",
                           "-x",
                           "-hh",
                           "--json=false",
                           "--json=maybe",
                           "@wrong.toml",
                           "--config",
                           "[x]",
                           "{}",
                           "''"};
  return words;
}

Words words_in(const std::string& text) {
  Words words;
  std::istringstream lines(text);
  for (std::string word; std::getline(lines, word);) {
    std::replace(word.begin(), word.end(), '/', '_');
    word.erase(std::remove(word.begin(), word.end(), '\0'), word.end());
    words.push_back(word);
  }
  return words;
}

/// A file in memory in place of one of the standard streams, while it lives.
class Caught {
 public:
  explicit Caught(std::FILE* stream) : stream_(stream), number_(fileno(stream)), kept_(dup(number_)) {
    std::fflush(stream_);
    memory_ = memfd_create("caught", 0);
    dup2(memory_, number_);
  }
  ~Caught() { end(); }
  Caught(const Caught&) = delete;
  Caught& operator=(const Caught&) = delete;

  std::string text() {
    end();
    return text_;
  }

 private:
  void end() {
    if (memory_ < 0) return;
    std::fflush(stream_);
    dup2(kept_, number_);
    close(kept_);
    text_.resize(static_cast<std::size_t>(lseek(memory_, 0, SEEK_END)));
    const ssize_t read = pread(memory_, text_.data(), text_.size(), 0);
    text_.resize(static_cast<std::size_t>(std::max<ssize_t>(read, 0)));
    close(memory_);
    memory_ = -1;
  }

  std::FILE* stream_;
  int number_;
  int kept_;
  int memory_ = -1;
  std::string text_;
};

void lay_out_folder() {
  for (const auto& entry : fs::directory_iterator(".")) fs::remove_all(entry.path());
  std::ofstream("wrong.toml") << "bin = { width = \"0.9 m\" }\ndayz = 3\n";
  std::ofstream("empty.toml") << "";
  fs::create_directory("folder");
}

/// Everything but line ends and the marks of lists and tables must be plain letters.
void require_lines(const std::string& text) {
  constexpr std::size_t longest = 40000;  // all feedstocks with their values and sources
  fuzz::require(text.size() <= longest, "what is said is not endless");
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    fuzz::require(plain_text(line) == line, "what is said can be shown: " + plain_text(line));
}

void check_answer(int code, bool json, const std::string& out, const std::string& err) {
  fuzz::require(code >= 0 && code <= 2, "an exit code that is known");
  require_lines(out);
  require_lines(err);
  fuzz::require(!out.empty() || !err.empty(), "an answer");
  fuzz::require(code != 2 || err.ends_with("\n"), "wrong use is told: " + err);
  if (json && code == 0 && out.starts_with("{"))
    fuzz::require(nlohmann::json::accept(out), "one JSON object and nothing else: " + out);
}

}  // namespace

extern "C" int LLVMFuzzerInitialize(int* /*count*/, char*** /*words*/) {
  const std::string folder = "words_" + std::to_string(getpid());
  fs::create_directory(folder);
  fs::current_path(folder);
  lay_out_folder();
  // Sanitizers must reach the screen while the error stream is caught; nothing waits for the keyboard.
  const int screen = dup(STDERR_FILENO);
  __sanitizer_set_report_fd(reinterpret_cast<void*>(static_cast<std::intptr_t>(screen)));
  dup2(open("/dev/null", O_RDONLY), STDIN_FILENO);
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const Words words = words_in({reinterpret_cast<const char*>(data), size});
  std::vector<const char*> pointers{"updraught"};
  for (const std::string& word : words) pointers.push_back(word.c_str());
  Caught out(stdout), err(stderr);
  const int code = run_command_line(static_cast<int>(pointers.size()), pointers.data());
  const std::string said = out.text(), told = err.text();
  check_answer(code, std::find(words.begin(), words.end(), "--json") != words.end(), said, told);
  if (!words.empty() && words[0] == "start") lay_out_folder();
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                               unsigned seed) {
  Draws draws(seed);
  if (draws.once_in(4)) return LLVMFuzzerMutate(data, size, most);
  Words words = words_in({reinterpret_cast<const char*>(data), size});
  for (std::size_t n = 1 + draws.below(3); n > 0; --n) {
    const std::string& word = draws.one_of(known_words());
    const std::size_t at = draws.below(words.size() + 1);
    const auto place = words.begin() + static_cast<std::ptrdiff_t>(at);
    if (at == words.size() || draws.once_in(3))
      words.insert(place, word);
    else if (draws.once_in(3))
      words.erase(place);
    else
      *place = draws.once_in(4) ? *place + word : word;
  }
  std::string text;
  for (const std::string& word : words) text += word + "\n";
  if (text.size() > most) return LLVMFuzzerMutate(data, size, most);
  std::memcpy(data, text.data(), text.size());
  return text.size();
}
