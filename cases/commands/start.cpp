// start: writes a commented case to start from, or a copy of a ready-made one.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "cases/commands/command.h"
#include "cases/machine/data_folder.h"
#include "cases/output/printing.h"
#include "cases/terminal/diagnostics.h"
#include "cases/terminal/nearest.h"
#include "post/tables/summary_json.h"

namespace updraught {

namespace {

/// Names of the ready-made cases that come with the program, in alphabetical order.
std::vector<std::string> ready_cases() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(data_folder())) {
    if (entry.path().extension() != ".toml" || entry.path().stem() == "feedstocks") continue;
    names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string text_of(const std::string& name) {
  std::ifstream stream(data_folder() / (name + ".toml"), std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  if (!stream) throw std::runtime_error(fmt::format("the ready-made case {} cannot be read", name));
  return text.str();
}

int wrong_use(const std::string& message) {
  print_error("updraught: start: " + message + "\n");
  return exit_wrong_use;
}

std::string known_names(const std::string& asked, const std::vector<std::string>& names) {
  if (const auto near = nearest(asked, names)) return fmt::format("Did you mean \"{}\"?", *near);
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
  return fmt::format("There are: {}.", all);
}

}  // namespace

int start_command(const StartOptions& options) {
  const std::vector<std::string> names = ready_cases();
  const std::string name = options.like.empty() ? "starter" : options.like;
  if (std::find(names.begin(), names.end(), name) == names.end())
    return wrong_use(fmt::format("there is no ready-made case \"{}\". {}", name, known_names(name, names)));
  if (std::filesystem::exists(options.file))
    return wrong_use(
        fmt::format("{} is already there and is left as it is. Name another file.", options.file.string()));
  const std::string text = text_of(name);
  std::ofstream stream(options.file, std::ios::binary);
  stream << text;
  stream.close();
  if (!stream)
    return wrong_use(fmt::format("{} cannot be written. Is there such a folder, and may you write in it?",
                                 options.file.string()));
  if (options.common.json) {
    const nlohmann::json object{{"file", options.file.string()}, {"like", name}};
    std::printf("%s\n", json_text(object).c_str());
  } else {
    const std::string file = printable(options.file.string());
    std::printf("%s is written. Change it in any text editor, then: updraught check %s\n", file.c_str(),
                file.c_str());
  }
  return exit_done;
}

}  // namespace updraught
