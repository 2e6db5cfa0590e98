// Values in rows: the tables of a case over time, height, width and length. The input is rows of two columns
// parted by a comma, after one byte that tells which table they are for.
#include <array>
#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>
#include <vector>

#include "tests/fuzz/check_case.h"
#include "tests/fuzz/check_text.h"

namespace {

using namespace updraught;

struct Form {
  const char* key;
  const char* first;
  const char* second;
};

constexpr std::array<Form, 5> forms{{{"outside.table", "time", "temperature"},
                                     {"initial.table", "height", "temperature"},
                                     {"prescribed.permeability", "height", "value"},
                                     {"prescribed.heat", "height", "value"},
                                     {"prescribed.heat", "width", "value"}}};

constexpr const char* rest_of_case =
    "bin = { width = \"0.9 m\", height = \"1 m\" }\nmode = \"slice\"\ncells = [4, 6]\n"
    "fill = [ { what = \"kitchen waste\", buckets = 2 }, { what = \"woodchip, coarse\", buckets = 3 } ]\n"
    "depth = \"0.6 m\"\nwall_lane = false\n";

/// A text as TOML writes it.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char letter : text) {
    const auto code = static_cast<unsigned char>(letter);
    if (letter == '"' || letter == '\\') out += '\\';
    if (code >= 0x20 && code != 0x7f) out += letter;
  }
  return out + "\"";
}

std::string list_of(const std::vector<std::string>& entries) {
  std::string out = "[";
  for (const std::string& entry : entries) out += quoted(entry) + ", ";
  return out + "]";
}

void check_rows(const std::vector<double>& first, const std::vector<double>& second) {
  fuzz::require(first.size() == second.size() && !first.empty(), "columns are equally long");
  for (std::size_t n = 1; n < first.size(); ++n)
    fuzz::require(first[n - 1] <= first[n], "the first column rises");
}

void check_tables(const Problem& problem, std::size_t form) {
  if (form == 0) check_rows(problem.outside.table_time, problem.outside.table_temperature);
  if (form == 1) check_rows(problem.initial.table.height, problem.initial.table.value);
  const auto& given = form == 2 ? problem.prescribed.permeability : problem.prescribed.heat;
  if (form >= 2 && given) check_rows(given->height, given->value);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::size_t form = data[0] % forms.size();
  std::istringstream rows(std::string(reinterpret_cast<const char*>(data) + 1, size - 1));
  std::vector<std::string> first, second;
  for (std::string row; std::getline(rows, row);) {
    const std::size_t comma = row.find(',');
    first.push_back(row.substr(0, comma));
    if (comma != std::string::npos) second.push_back(row.substr(comma + 1));
  }
  const Form& form_of = forms[form];
  const std::string text = std::string(rest_of_case) + form_of.key + " = { " + form_of.first + " = " +
                           list_of(first) + ", " + form_of.second + " = " + list_of(second) + " }\n";
  const ReadOutcome outcome = fuzz::checked_reading(text);
  if (outcome.read) check_tables(outcome.read->problem, form);
  return 0;
}
