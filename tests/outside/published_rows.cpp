#include "tests/outside/published_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "tests/outside/record.h"

namespace updraught::outside {

namespace {

constexpr std::string_view columns = "quantity,place,day_from,day_to,low,high,unit,mark,source";
constexpr std::string_view less_that_of = " less that of ";
constexpr std::string_view day_of = "day of ";

std::string folder() {
  return std::string(UPDRAUGHT_SOURCE_DIR) + "/cases/published/";
}

std::string read_file(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::vector<std::string> fields_of(const std::string& line) {
  std::vector<std::string> out(1);
  for (const char c : line) {
    if (c == ',')
      out.emplace_back();
    else
      out.back() += c;
  }
  return out;
}

std::optional<double> number_or_nothing(const std::string& text) {
  if (text.empty()) return {};
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  if (*end != '\0') throw std::runtime_error(fmt::format("\"{}\" is no number", text));
  return value;
}

double needed_number(const std::string& text) {
  const auto value = number_or_nothing(text);
  if (!value) throw std::runtime_error("a day is missing");
  return *value;
}

const QuantityRule* rule_of(const std::string& quantity) {
  const auto& rules = quantity_rules();
  const auto found =
      std::find_if(rules.begin(), rules.end(), [&](const QuantityRule& r) { return r.name == quantity; });
  return found == rules.end() ? nullptr : &*found;
}

MeasuredRow row_of(const std::string& line) {
  const std::vector<std::string> fields = fields_of(line);
  if (fields.size() != 9) throw std::runtime_error(std::to_string(fields.size()) + " fields, 9 are needed");
  MeasuredRow row;
  row.quantity = fields[0];
  if (const auto less = row.quantity.find(less_that_of); less != std::string::npos) {
    row.other = row.quantity.substr(less + less_that_of.size());
    row.quantity.resize(less);
  }
  if (row.quantity.starts_with(day_of)) {
    std::istringstream rest(row.quantity.substr(day_of.size()));
    std::string unit;
    if (!(rest >> row.degrees >> unit) || unit != "degC" || !rest.eof())
      throw std::runtime_error(fmt::format("\"{}\" should be as \"day of 55 degC\"", row.quantity));
    row.quantity.resize(day_of.size() - 1);
  }
  const QuantityRule* const rule = rule_of(row.quantity);
  if (!rule) throw std::runtime_error(fmt::format("\"{}\" is no quantity that is known here", row.quantity));
  row.place = fields[1];
  row.from = needed_number(fields[2]);
  row.to = needed_number(fields[3]);
  row.low = number_or_nothing(fields[4]);
  row.high = number_or_nothing(fields[5]);
  row.unit = fields[6];
  row.mark = fields[7];
  row.source = fields[8];
  if (row.to < row.from) throw std::runtime_error("its days end before they begin");
  if (!row.low && !row.high) throw std::runtime_error("neither low nor high");
  if (row.low && row.high && *row.high < *row.low) throw std::runtime_error("high lies below low");
  if (row.unit != rule->unit)
    throw std::runtime_error("the unit of " + row.quantity + " is " + std::string(rule->unit));
  if (row.mark != "R" && row.mark != "M" && row.mark != "C")
    throw std::runtime_error("the mark is R, M or C");
  if (row.source.empty()) throw std::runtime_error("the source is missing");
  return row;
}

/// The word after "# Use: " in the head of a case.
std::string use_of(const std::string& text, const std::string& name) {
  for (const char* use : {"calibrating", "testing"})
    if (text.find(std::string("\n# Use: ") + use) != std::string::npos) return use;
  throw std::runtime_error(name + " does not say whether it calibrates or tests");
}

}  // namespace

const std::vector<QuantityRule>& quantity_rules() {
  // The goals for masses, heights and pores are our choice; of the others the project's.
  static const std::vector<QuantityRule> rules{{"temperature", "degC", {5.0}},
                                               {"highest temperature", "degC", {5.0}},
                                               {"highest temperature above outside", "K", {5.0}},
                                               {"day of", "d", {1.0}},
                                               {"oxygen", "%", {3.0}},
                                               {"lowest oxygen", "%", {3.0}},
                                               {"air that enters", "m3/(t h)", {1.5, true}},
                                               {"mass left", "%", {5.0}},
                                               {"dry mass left", "%", {5.0}},
                                               {"height left", "%", {5.0}},
                                               {"air between the pieces", "%", {4.0}}};
  return rules;
}

Goal goal_of(const MeasuredRow& row) {
  const bool order = !row.other.empty() || row.place.find(" less ") != std::string::npos;
  return order ? Goal{0.0} : rule_of(row.quantity)->goal;
}

std::vector<MeasuredRow> read_measured(const std::string& text, const std::string& name) {
  std::istringstream lines(text);
  std::string line;
  if (!std::getline(lines, line) || line != columns)
    throw std::runtime_error(name + ":1: the columns are " + std::string(columns));
  std::vector<MeasuredRow> rows;
  for (int count = 2; std::getline(lines, line); ++count) {
    try {
      rows.push_back(row_of(line));
    } catch (const std::runtime_error& wrong) {
      throw std::runtime_error(name + ":" + std::to_string(count) + ": " + wrong.what());
    }
  }
  if (rows.empty()) throw std::runtime_error(name + " holds no measured value");
  return rows;
}

std::vector<std::string> published_names() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder()))
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  return names;
}

PublishedBed published_bed(const std::string& name) {
  PublishedBed bed{name, folder() + name + ".toml", {}, {}};
  bed.use = use_of(read_file(bed.case_path), bed.case_path);
  const std::string table = folder() + name + ".csv";
  bed.rows = read_measured(read_file(table), table);
  return bed;
}

std::string in_words(const MeasuredRow& row) {
  std::string out = row.quantity;
  if (row.quantity == "day of") out += fmt::format(" {:g} degC", row.degrees);
  if (!row.other.empty()) out += std::string(less_that_of) + row.other;
  if (row.place != "-") out += ", " + row.place;
  if (row.quantity != "day of") {
    out += row.from == row.to ? fmt::format(", day {:g}", row.from)
                              : fmt::format(", days {:g} to {:g}", row.from, row.to);
  }
  return out + ", " + row.unit;
}

std::string measured_words(const MeasuredRow& row) {
  if (!row.high) return "at least " + number(*row.low);
  if (!row.low) return "at most " + number(*row.high);
  return *row.low == *row.high ? number(*row.low) : fmt::format("{:g} to {:g}", *row.low, *row.high);
}

}  // namespace updraught::outside
