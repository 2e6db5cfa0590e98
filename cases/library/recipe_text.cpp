#include "cases/library/recipe_text.h"

#include <fmt/format.h>

namespace updraught {

namespace {

// As in case files.
constexpr double largest_volume = 1e4;  // m3
constexpr double largest_mass = 1e7;    // kg

bool digit_at(std::string_view text, std::size_t n) {
  return n < text.size() && text[n] >= '0' && text[n] <= '9';
}

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\n\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\n\r") - first + 1);
}

/// Splits at commas that are no decimal commas, and at "and" or "+" between two amounts.
std::vector<std::string_view> split(std::string_view text) {
  std::vector<std::string_view> parts;
  std::size_t start = 0;
  const auto cut = [&](std::size_t at, std::size_t length) {
    parts.push_back(trimmed(text.substr(start, at - start)));
    start = at + length;
  };
  for (std::size_t n = 0; n < text.size(); ++n) {
    const bool decimal = n > 0 && digit_at(text, n - 1) && digit_at(text, n + 1);
    if ((text[n] == ',' && !decimal) || text[n] == ';' || text[n] == '+') cut(n, 1);
    if (text.substr(n).starts_with(" and ") && digit_at(text, n + 5)) cut(n, 5);
  }
  cut(text.size(), 0);
  return parts;
}

/// Puts parts without an amount back to the name before them.
std::vector<std::string> joined(const std::vector<std::string_view>& parts) {
  std::vector<std::string> whole;
  for (const std::string_view part : parts) {
    if (part.empty()) continue;
    if (!whole.empty() && !digit_at(part, 0))
      whole.back() += fmt::format(", {}", part);
    else
      whole.emplace_back(part);
  }
  return whole;
}

const LibraryEntry* find_entry(std::string_view name, const FeedstockLibrary& library,
                               std::vector<std::string>& problems) {
  name = trimmed(name);
  if (name.starts_with("of ")) name = trimmed(name.substr(3));
  const LibraryEntry* entry = library.find(name);
  if (entry != nullptr) return entry;
  const auto near = library.nearest_name(name);
  problems.push_back(
      fmt::format("There is no feedstock \"{}\". {}", name,
                  near ? fmt::format("Did you mean \"{}\"?", *near) : "See: updraught feedstocks"));
  return nullptr;
}

/// Sets volume or mass from "3 buckets" or "2 kg".
bool read_amount(const std::string& amount, double bucket, const Units& units, TextPortion& portion) {
  const QuantityReading volume = read_quantity(amount, volume_measure(), units, bucket);
  const QuantityReading mass = read_quantity(amount, mass_measure(), units);
  portion.volume = volume.value.value_or(0.0);
  portion.mass = mass.value.value_or(0.0);
  return volume.value || mass.value;
}

void read_part(const std::string& part, double bucket, const FeedstockLibrary& library, const Units& units,
               RecipeTextReading& reading) {
  const NumberReading number = read_number(part);
  if (!number.value || *number.value < 0.0) {
    reading.problems.push_back(
        fmt::format("\"{}\" does not begin with an amount. Write \"3 buckets grass\".", part));
    return;
  }
  const std::string_view rest = number.rest;
  if (!rest.empty() && (digit_at(rest, 0) || rest.front() == '/')) {
    reading.problems.push_back(
        fmt::format("\"{}\" holds more than one number. Write one number, its unit and a material: \"1.5 "
                    "buckets grass\".",
                    part));
    return;
  }
  const std::string_view unit = rest.substr(0, rest.find(' '));
  const std::size_t amount_end = part.size() - rest.size() + unit.size();
  TextPortion portion;
  if (unit.size() == rest.size() || !read_amount(part.substr(0, amount_end), bucket, units, portion)) {
    reading.problems.push_back(fmt::format(
        "\"{}\" needs buckets, a volume or a mass, then a material. Write \"3 buckets grass\".", part));
    return;
  }
  if (portion.volume > largest_volume || portion.mass > largest_mass) {
    reading.problems.push_back(
        fmt::format("\"{}\" is more than can be mixed. Write up to 10000 m3 or 10000 t.", part));
    return;
  }
  portion.entry = find_entry(rest.substr(unit.size()), library, reading.problems);
  if (portion.entry != nullptr) reading.portions.push_back(portion);
}

}  // namespace

RecipeTextReading read_recipe_text(std::string_view text, double bucket, const FeedstockLibrary& library,
                                   const Units& units) {
  RecipeTextReading reading;
  for (const std::string& part : joined(split(text))) read_part(part, bucket, library, units, reading);
  double amount = 0.0;
  for (const TextPortion& portion : reading.portions) amount += portion.volume + portion.mass;
  if (reading.problems.empty() && amount <= 0.0)
    reading.problems.emplace_back(
        "The recipe holds nothing. Write \"3 buckets kitchen waste, 1 bucket grass\".");
  return reading;
}

}  // namespace updraught
