#include "cases/printing.h"

#include <fmt/format.h>

#include <exception>
#include <filesystem>
#include <new>
#include <sstream>

#include "cases/commands/command.h"
#include "cases/results_folder.h"
#include "cases/stop.h"

namespace updraught {

namespace {

int told(const std::string& message, int code) {
  fmt::print(stderr, "updraught: {}\n", message);
  return code;
}

}  // namespace

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
    return told(error.path1().string() + ": " + error.code().message() + ".", exit_cannot_compute);
  } catch (const std::exception& error) {
    return told(error.what(), exit_cannot_compute);
  }
}

}  // namespace updraught
