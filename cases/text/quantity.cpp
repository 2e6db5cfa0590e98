#include "cases/text/quantity.h"

#include <fmt/format.h>
#include <udunits2.h>

#include <array>
#include <charconv>
#include <cmath>
#include <regex>
#include <stdexcept>
#include <utility>

#include "post/words/plain_text.h"

namespace updraught {

struct Units::System {
  ut_system* system = nullptr;
};

/// Lets this file, and no other, see the library's handle.
struct UnitsDoor {
  static ut_system* open(const Units& units) { return units.system_->system; }
};

Units::Units() : system_(std::make_unique<System>()) {
  ut_set_error_message_handler(ut_ignore);
  system_->system = ut_read_xml(nullptr);
  if (system_->system == nullptr)
    throw std::runtime_error("the definitions of units (udunits2) are not installed");
}

Units::~Units() {
  ut_free_system(system_->system);
}

const Units& known_units() {
  static const Units units;
  return units;
}

namespace {

struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};
using UnitPointer = std::unique_ptr<ut_unit, FreeUnit>;

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

bool digit(char c) {
  return c >= '0' && c <= '9';
}

/// Length of the leading part that can belong to a number.
std::size_t number_length(std::string_view text) {
  std::size_t n = 0;
  if (n < text.size() && (text[n] == '-' || text[n] == '+')) ++n;
  const std::size_t start = n;
  while (n < text.size() && (digit(text[n]) || text[n] == '.' || text[n] == ',')) ++n;
  if (n == start) return 0;
  if (n < text.size() && (text[n] == 'e' || text[n] == 'E')) {
    std::size_t e = n + 1;
    if (e < text.size() && (text[e] == '-' || text[e] == '+')) ++e;
    if (e < text.size() && digit(text[e])) {
      while (e < text.size() && digit(text[e])) ++e;
      n = e;
    }
  }
  return n;
}

/// "1,000": a thousand or one? "0,900" and "12,5" leave no doubt.
bool thousand_in_doubt(std::string_view number) {
  const std::size_t comma = number.find(',');
  if (comma == std::string_view::npos) return false;
  std::string_view whole = number.substr(0, comma);
  if (!whole.empty() && (whole.front() == '-' || whole.front() == '+')) whole.remove_prefix(1);
  std::size_t decimals = 0;
  while (comma + 1 + decimals < number.size() && digit(number[comma + 1 + decimals])) ++decimals;
  return decimals == 3 && !whole.empty() && whole != "0";
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

/// Spaces that do not break a line and the true minus sign as their plain likes.
std::string plain_signs(std::string_view typed) {
  std::string text(typed);
  for (const char* space : {"\u00a0", "\u2009", "\u202f"}) replace_all(text, space, " ");
  replace_all(text, "\u2212", "-");
  return text;
}

/// Run-together units below the stroke that people read as a product.
std::string parted(std::string below) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 12> together{{
      {"m2K", "m2 K"},
      {"mK", "m K"},
      {"m3K", "m3 K"},
      {"kgK", "kg K"},
      {"kgh", "kg h"},
      {"m3s", "m3 s"},
      {"m2s", "m2 s"},
      {"m3h", "m3 h"},
      {"m2h", "m2 h"},
      {"kgd", "kg d"},
      {"m3d", "m3 d"},
      {"m2degC", "m2 K"},
  }};
  for (const auto& [from, to] : together)
    if (below == from) return std::string(to);
  return below;
}

/// The unit's text without an outer pair of brackets.
std::string without_brackets(std::string_view text) {
  text = trimmed(text);
  if (text.size() >= 2 && text.front() == '(' && text.back() == ')' &&
      text.find('(', 1) == std::string_view::npos)
    text = trimmed(text.substr(1, text.size() - 2));
  return std::string(text);
}

QuantityReading report(std::string problem, const Measure& measure) {
  return {{}, std::move(problem), fmt::format("Write {} such as \"{}\".", measure.name, measure.example)};
}

bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// Whether a unit holds a number beside its exponents, one digit each ("m2", "m-1", "m^2"), and the 1 of a
/// reciprocal ("1/d"). To the units library such a number is a factor: "1 500 mm" would be 0.5 m.
bool holds_number(std::string_view unit) {
  for (std::size_t n = 0; n < unit.size(); ++n) {
    if (!digit(unit[n])) continue;
    const std::string_view after = trimmed(unit.substr(n + 1));
    if (n == 0 && unit[n] == '1' && after.starts_with('/')) continue;
    std::size_t before = n;
    if (before > 0 && unit[before - 1] == '-') --before;
    if (before > 0 && unit[before - 1] == '^') --before;
    const bool exponent = before > 0 && letter(unit[before - 1]);
    if (!exponent || (n + 1 < unit.size() && digit(unit[n + 1]))) return true;
  }
  return false;
}

QuantityReading two_numbers(const std::string& text, const Measure& measure) {
  QuantityReading reading = report(fmt::format("\"{}\" holds more than one number.", text), measure);
  reading.hint = fmt::format("Write one number and its unit, such as \"{}\".", measure.example);
  static const std::regex thousands_apart("([0-9]{1,3})((?: [0-9]{3})+)((?:[.,][0-9]+)?(?: *[^0-9 .,].*)?)");
  std::smatch parts;
  if (!std::regex_match(text, parts, thousands_apart)) return reading;
  std::string groups = parts[2];
  std::erase(groups, ' ');
  reading.hint =
      fmt::format("Write thousands without a gap: \"{}{}{}\".", parts[1].str(), groups, parts[3].str());
  return reading;
}

/// Whether both measure one kind of thing. The units library also takes reciprocals for convertible.
bool same_dimension(const ut_unit* from, const ut_unit* to) {
  const UnitPointer ratio(ut_divide(const_cast<ut_unit*>(from), const_cast<ut_unit*>(to)));
  return ratio && ut_is_dimensionless(ratio.get()) != 0;
}

/// Letters and signs that a unit may hold; dates, logarithms and shifted scales of the library are kept out.
bool sober(std::string_view unit) {
  for (const char c : unit) {
    const bool sign =
        c == ' ' || c == '/' || c == '^' || c == '-' || c == '(' || c == ')' || c == '.' || c == '*';
    if (!letter(c) && !digit(c) && !sign) return false;
  }
  const auto opens = unit.find("(re");
  return unit.size() <= 60 && opens == std::string_view::npos &&
         unit.find("since") == std::string_view::npos && unit.find("from") == std::string_view::npos;
}

/// value of a linear map from one unit to another, with or without the zero points.
double converted(const ut_unit* from, const ut_unit* to, double value, bool difference) {
  const std::unique_ptr<cv_converter, decltype(&cv_free)> map(
      ut_get_converter(const_cast<ut_unit*>(from), const_cast<ut_unit*>(to)), &cv_free);
  if (!map) return std::nan("");
  if (!difference) return cv_convert_double(map.get(), value);
  return value * (cv_convert_double(map.get(), 1.0) - cv_convert_double(map.get(), 0.0));
}

/// "8 C" and "46 F" are temperatures where a temperature is asked for (to the library they are coulomb and
/// farad).
std::string temperature_letter(std::string unit, const Measure& measure) {
  const bool temperature = std::string_view(measure.unit) == "degC" || measure.difference;
  if (temperature && (unit == "C" || unit == "F")) unit.insert(0, "deg");
  return unit;
}

/// kg/kg in one of a unit such as "g/kg"; nothing where a side of the stroke is no mass. To the units library
/// that is a pure number like "m/m", so the two sides are read apart.
std::optional<double> mass_per_mass(std::string_view unit, ut_system* system) {
  const std::string tidy = tidy_unit(unit);
  const std::size_t stroke = tidy.find('/');
  if (stroke == std::string::npos || !sober(tidy)) return {};
  const auto kilograms = [&](const std::string& side) {
    const UnitPointer from(ut_parse(system, side.c_str(), UT_UTF8));
    const UnitPointer to(ut_parse(system, "kg", UT_UTF8));
    return from ? converted(from.get(), to.get(), 1.0, false) : std::nan("");
  };
  const double ratio = kilograms(tidy.substr(0, stroke)) / kilograms(tidy.substr(stroke + 1));
  return std::isfinite(ratio) ? std::optional(ratio) : std::nullopt;
}

QuantityReading read_pure(double number, std::string_view unit, std::string_view text, const Measure& measure,
                          ut_system* system) {
  if (unit.empty()) return {number, {}, {}};
  if (unit == "%" && !measure.counts) return {number / 100.0, {}, {}};
  if (holds_number(unit)) return two_numbers(std::string(text), measure);
  if (measure.per_mass) {
    const auto ratio = mass_per_mass(unit, system);
    if (ratio) return {number * *ratio, {}, {}};
    return report(fmt::format("\"{}\" is not {}.", text, measure.name), measure);
  }
  return report(fmt::format("\"{}\" has a unit, but {} is a pure number here.", text, measure.name), measure);
}

}  // namespace

NumberReading read_number(std::string_view text) {
  text = trimmed(text);
  const std::size_t length = number_length(text);
  if (length == 0) return {};
  NumberReading reading;
  reading.rest = trimmed(text.substr(length));
  std::string number(text.substr(0, length));
  reading.ambiguous = thousand_in_doubt(number);
  if (reading.ambiguous) return reading;
  if (number.find(',') != std::string::npos) {
    if (number.find('.') != std::string::npos) return reading;
    replace_all(number, ",", ".");
  }
  if (number.front() == '+') number.erase(0, 1);
  double value = 0.0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
  if (error == std::errc() && end == number.data() + number.size() && std::isfinite(value))
    reading.value = value;
  return reading;
}

std::string tidy_unit(std::string_view unit) {
  std::string text(trimmed(unit));
  replace_all(text, "\u00b2", "2");
  replace_all(text, "\u00b3", "3");
  replace_all(text, "\u00b5", "u");
  replace_all(text, "\u03bc", "u");
  replace_all(text, "\u00b0", "deg");
  replace_all(text, "\u00b7", " ");
  replace_all(text, "\u22c5", " ");
  replace_all(text, "deg C", "degC");
  replace_all(text, "deg F", "degF");
  const std::size_t stroke = text.find('/');
  if (stroke == std::string::npos || text.find('/', stroke + 1) != std::string::npos) return text;
  const std::string below = parted(without_brackets(std::string_view(text).substr(stroke + 1)));
  const std::string above(trimmed(std::string_view(text).substr(0, stroke)));
  const bool product = below.find_first_of(" .*") != std::string::npos;
  return product ? fmt::format("{}/({})", above, below) : fmt::format("{}/{}", above, below);
}

QuantityReading read_quantity(std::string_view typed, const Measure& measure, const Units& units,
                              std::optional<double> bucket) {
  const std::string text(trimmed(plain_signs(typed)));
  const std::string shown(cut_between_letters(text, 60));
  const NumberReading number = read_number(text);
  if (number.ambiguous)
    return report(fmt::format("\"{}\" can be read as thousands or as decimals.", shown), measure);
  if (!number.value) return report(fmt::format("\"{}\" does not begin with a number.", shown), measure);
  ut_system* system = UnitsDoor::open(units);
  if (std::string_view(measure.unit).empty())
    return read_pure(*number.value, number.rest, shown, measure, system);
  if (number.rest.empty()) return report(fmt::format("\"{}\" has no unit.", shown), measure);
  if (bucket && (number.rest == "bucket" || number.rest == "buckets"))
    return {*number.value * *bucket, {}, {}};
  const std::string unit = temperature_letter(tidy_unit(number.rest), measure);
  if (holds_number(unit)) return two_numbers(shown, measure);
  if (!sober(unit))
    return report(fmt::format("\"{}\" is not a unit.", cut_between_letters(number.rest, 40)), measure);
  const UnitPointer from(ut_parse(system, unit.c_str(), UT_UTF8));
  const UnitPointer to(ut_parse(system, measure.unit, UT_UTF8));
  if (!from) return report(fmt::format("\"{}\" is not a unit.", number.rest), measure);
  if (!same_dimension(from.get(), to.get()))
    return report(fmt::format("\"{}\" is not {}.", shown, measure.name), measure);
  if (ut_compare(from.get(), to.get()) == 0) return {*number.value, {}, {}};
  const double value = converted(from.get(), to.get(), *number.value, measure.difference);
  if (!std::isfinite(value))
    return report(fmt::format("\"{}\" is too large to compute with.", shown), measure);
  return {value, {}, {}};
}

}  // namespace updraught
