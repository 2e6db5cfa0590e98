// How --help is laid out: names, a word for what follows an option, and a sentence each.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace updraught {

/// The option's own text (`option_text`) stands for the value that follows it; no types, no marks.
class PlainHelp : public CLI::Formatter {
 public:
  PlainHelp();
  std::string make_option_opts(const CLI::Option* option) const override;
  std::string make_option_usage(const CLI::Option* option) const override;
};

}  // namespace updraught
