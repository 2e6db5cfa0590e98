#include "cases/terminal/help_text.h"

namespace updraught {

PlainHelp::PlainHelp() {
  label("Positionals", "What it takes");
  label("SUBCOMMAND", "COMMAND");
  column_width(24);
}

std::string PlainHelp::make_option_opts(const CLI::Option* option) const {
  if (option->get_positional() || option->get_option_text().empty()) return "";
  return " " + option->get_option_text();
}

std::string PlainHelp::make_option_usage(const CLI::Option* option) const {
  const std::string name = make_option_name(option, true);
  return option->get_required() ? name : "[" + name + "]";
}

}  // namespace updraught
