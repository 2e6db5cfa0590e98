#include <fmt/format.h>

#include <cmath>

#include "post/answer/comparison.h"
#include "post/tables/summary_json.h"
#include "post/words/text_table.h"
#include "post/words/words.h"

namespace updraught {

namespace {

using nlohmann::json;

// From the unit of the value inside to the unit that people read.
double shown_factor(const std::string& unit) {
  if (unit == "%" || unit == "cm") return 100.0;
  if (unit == "L/min") return 1000.0 / 60.0;
  return 1.0;
}

std::string shown(double value, const std::string& unit) {
  if (unit == "°C") return plain_number(5.0 * std::round(value / 5.0));
  const double there = value * shown_factor(unit);
  return plain_number(unit == "%" || unit == "cm" ? std::round(there) : to_digits(there, 2));
}

std::string cell(const RangedValue& ranged, const std::string& unit) {
  std::string text = shown(ranged.value, unit);
  if (!ranged.band) return text;
  const std::string low = shown(ranged.band->low, unit);
  const std::string high = shown(ranged.band->high, unit);
  return low == high ? text : text + " (" + low + " to " + high + ")";
}

std::string difference_cell(const Difference& apart, const std::string& unit) {
  if (!apart.clear) return "no clear difference";
  const std::string number = shown(apart.value, unit);
  return (apart.value > 0.0 ? "+" : "") + number + ", clear";
}

void add_line(std::vector<std::vector<std::string>>& lines, const std::string& label, const std::string& unit,
              const std::vector<RangedValue>& values, const std::vector<Difference>& differences) {
  std::vector<std::string> line{label + " [" + unit + "]"};
  for (const RangedValue& value : values) line.push_back(cell(value, unit));
  for (std::size_t i = 1; i < differences.size(); ++i) line.push_back(difference_cell(differences[i], unit));
  lines.push_back(line);
}

json ranged_json(const std::string& name, const RangedValue& ranged) {
  return {{"case", name},
          {"value", finite_or_null(ranged.value)},
          {"low", ranged.band ? finite_or_null(ranged.band->low) : json()},
          {"high", ranged.band ? finite_or_null(ranged.band->high) : json()}};
}

json differences_json(const Comparison& comparison, const std::vector<Difference>& differences) {
  json out = json::array();
  for (std::size_t i = 1; i < differences.size(); ++i) {
    out.push_back({{"case", comparison.names[i]},
                   {"against", comparison.names[0]},
                   {"value", finite_or_null(differences[i].value)},
                   {"low", finite_or_null(differences[i].band.low)},
                   {"high", finite_or_null(differences[i].band.high)},
                   {"clear", differences[i].clear}});
  }
  return out;
}

json values_json(const Comparison& comparison, const std::vector<RangedValue>& values) {
  json out = json::array();
  for (std::size_t i = 0; i < values.size(); ++i) out.push_back(ranged_json(comparison.names[i], values[i]));
  return out;
}

}  // namespace

std::string comparison_table(const Comparison& comparison) {
  std::vector<std::vector<std::string>> lines;
  std::vector<std::string> head{"on " + day_name(comparison.day)};
  for (const std::string& name : comparison.names) head.push_back(name);
  for (std::size_t i = 1; i < comparison.names.size(); ++i) {
    head.push_back(comparison.names.size() == 2 ? "difference" : comparison.names[i] + " differs");
  }
  lines.push_back(head);
  for (const MeasureRow& row : comparison.rows)
    add_line(lines, row.label, row.unit, row.values, row.differences);
  for (const GapRow& row : comparison.gaps) {
    add_line(lines, fmt::format("enough air, wall gap {} mm, quick", plain_number(1000.0 * row.gap)), "%",
             row.values, row.differences);
  }
  return text_table(lines);
}

json to_json(const Comparison& comparison) {
  json measures = json::array();
  for (const MeasureRow& row : comparison.rows) {
    measures.push_back({{"name", row.key},
                        {"label", row.label},
                        {"values", values_json(comparison, row.values)},
                        {"differences", differences_json(comparison, row.differences)}});
  }
  json gaps = json::array();
  for (const GapRow& row : comparison.gaps) {
    gaps.push_back({{"wall_gap_m", row.gap},
                    {"detail", "quick"},
                    {"aired_share", values_json(comparison, row.values)},
                    {"differences", differences_json(comparison, row.differences)}});
  }
  return {{"day", finite_or_null(comparison.day)},
          {"measures", measures},
          {"wall_gaps", gaps},
          {"verdict", comparison.verdict}};
}

}  // namespace updraught
