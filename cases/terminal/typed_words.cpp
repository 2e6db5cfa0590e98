#include "cases/terminal/typed_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <optional>

namespace updraught {

namespace {

/// The number that `word` is from its first to its last letter.
template <class Number>
std::optional<Number> as_number(const std::string& word) {
  Number value{};
  const char* end = word.data() + word.size();
  const auto [stop, problem] = std::from_chars(word.data(), end, value);
  if (problem != std::errc() || stop != end) return std::nullopt;
  return value;
}

template <class Number>
CLI::Validator between(Number low, Number high, const std::string& what) {
  return CLI::Validator(
      [low, high, what](std::string& word) -> std::string {
        const std::optional<Number> value = as_number<Number>(word);
        if (value && *value >= low && *value <= high) return "";
        return fmt::format("\"{}\" does not do; write {} from {} to {}.", word, what, low, high);
      },
      "");
}

/// Name of the option that the parser's message begins with; empty: it is about something else.
std::string option_named_first(const std::string& message) {
  if (!message.starts_with("--")) return "";
  return message.substr(0, message.find_first_of(": "));
}

std::string needs(const CLI::App& command) {
  const auto positionals = command.get_options([](const CLI::Option* o) { return o->get_positional(); });
  if (positionals.empty()) return "takes nothing but options";
  return (positionals.front()->get_required() ? "needs " : "takes ") + positionals.front()->get_description();
}

}  // namespace

CLI::Validator one_of(const std::vector<std::string>& words) {
  return CLI::Validator(
      [words](std::string& word) -> std::string {
        if (std::find(words.begin(), words.end(), word) != words.end()) return "";
        return fmt::format("\"{}\" does not do; write {}.", word, fmt::join(words, ", "));
      },
      "");
}

CLI::Validator number_between(double low, double high, const std::string& what) {
  return between(low, high, what);
}

CLI::Validator whole_number_between(int low, int high, const std::string& what) {
  return between(low, high, what);
}

CLI::Validator share_in_percent() {
  return CLI::Validator(
      [](std::string& word) -> std::string {
        std::string number = word;
        const bool marked = number.ends_with('%');
        if (marked) number.pop_back();
        while (number.ends_with(' ')) number.pop_back();
        const std::optional<double> value = as_number<double>(number);
        if (!value || !(*value >= 0.0 && *value <= 100.0))
          return fmt::format("\"{}\" does not do; write a share in % from 0 to 100.", word);
        if (!marked && *value > 0.0 && *value <= 1.0)
          return fmt::format("\"{0}\" can be read as {1:g} % or as {2:g} %; write \"{1:g}%\" or \"{2:g}%\".",
                             word, 100.0 * *value, *value);
        word = number;
        return "";
      },
      "");
}

CLI::Validator key_and_value() {
  return CLI::Validator(
      [](std::string& word) -> std::string {
        const std::size_t end = word.find('=');
        if (end != std::string::npos && end > 0) return "";
        return fmt::format("\"{}\" does not do; write a key of the case and its value, such as days=7.",
                           word);
      },
      "");
}

std::string in_plain_words(const CLI::ParseError& error, const CLI::App& command) {
  std::string message = error.what();
  const std::string option = option_named_first(message);
  const std::string& name = command.get_name();
  if (dynamic_cast<const CLI::ValidationError*>(&error) != nullptr) return message;
  if (dynamic_cast<const CLI::ExcludesError*>(&error) != nullptr) return message + ": leave one of them out.";
  const CLI::Option* known = option.empty() ? nullptr : command.get_option_no_throw(option);
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr && known != nullptr)
    return fmt::format("{}: the word after it is missing: {}.", option, known->get_description());
  if (dynamic_cast<const CLI::ConversionError*>(&error) != nullptr)
    return fmt::format("{}: an option of this kind takes no \"=\": {}.", name,
                       message.substr(message.find("--")));
  const std::string more = fmt::format(" \"updraught {} --help\" tells more.", name);
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr) {
    std::vector<std::string> extra = command.remaining();
    return fmt::format("{}: \"{}\" is too much; {} {}.", name, fmt::join(extra, "\", \""), name,
                       needs(command)) +
           more;
  }
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr ||
      dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr)
    return fmt::format("{} {}.", name, needs(command)) + more;
  return fmt::format("{}: {}.", name, message) + more;
}

}  // namespace updraught
