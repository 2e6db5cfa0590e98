// What may be typed after an option, and what to say when something else was.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace updraught {

/// Takes one of `words` and nothing else.
CLI::Validator one_of(const std::vector<std::string>& words);

/// Takes a number from `low` to `high`; `what` says what it counts, such as "a number of days".
CLI::Validator number_between(double low, double high, const std::string& what);

/// As `number_between`, for whole numbers.
CLI::Validator whole_number_between(int low, int high, const std::string& what);

/// Takes a share in per cent within 0 to 100: "60", "60 %", "0.6 %". A bare number above 0 and up to 1 is
/// refused, since it may be meant as a share of one. Hands on the number without its sign.
CLI::Validator share_in_percent();

/// Takes "KEY=VALUE", whatever the two are.
CLI::Validator key_and_value();

/// What is wrong with the words after `command` and what would be right, for a mistake that the parser found.
std::string in_plain_words(const CLI::ParseError& error, const CLI::App& command);

}  // namespace updraught
