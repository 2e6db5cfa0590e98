#include <fmt/format.h>

#include <cmath>

#include "post/answer/comparison.h"
#include "post/answer/figure_words.h"
#include "post/tables/summary_json.h"
#include "post/words/odds.h"
#include "post/words/text_table.h"
#include "post/words/words.h"

namespace updraught {

namespace {

using nlohmann::json;

std::string cell(const KeyFigure& figure, const RangedValue& ranged) {
  const std::string low = shown(figure, ranged.band.low), high = shown(figure, ranged.band.high);
  const std::string value = shown(figure, ranged.value);
  return low == high && low == value ? value : fmt::format("{} ({} to {})", value, low, high);
}

/// "more in 9 of 10, less in none"; of times, "later" and "earlier".
std::string pairs_cell(const KeyFigure& figure, const Paired& pairs) {
  const bool clear = pairs.clearly_above() || pairs.clearly_below();
  if (pairs.above == 0 && pairs.below == 0) return "alike";
  const bool time = figure.shown_as == ShownAs::day;
  return fmt::format("{} {}, {} {}{}", time ? "later" : "more", odds(pairs.above, pairs.pairs),
                     time ? "earlier" : "less", odds(pairs.below, pairs.pairs), clear ? "" : "; not clear");
}

json ranged_json(const std::string& name, const RangedValue& ranged) {
  return {{"case", name},
          {"value", finite_or_null(ranged.value)},
          {"low", finite_or_null(ranged.band.low)},
          {"high", finite_or_null(ranged.band.high)}};
}

json pairs_json(const Comparison& comparison, const std::vector<Paired>& pairs) {
  json out = json::array();
  for (std::size_t i = 1; i < pairs.size(); ++i) {
    out.push_back({{"case", comparison.names[i]},
                   {"against", comparison.names[0]},
                   {"pairs", pairs[i].pairs},
                   {"above", pairs[i].above},
                   {"below", pairs[i].below},
                   {"middle", finite_or_null(pairs[i].middle)},
                   {"low", finite_or_null(pairs[i].band.low)},
                   {"high", finite_or_null(pairs[i].band.high)},
                   {"clear", pairs[i].clearly_above() || pairs[i].clearly_below()}});
  }
  return out;
}

json values_json(const Comparison& comparison, const std::vector<RangedValue>& values) {
  json out = json::array();
  for (std::size_t i = 0; i < values.size(); ++i) out.push_back(ranged_json(comparison.names[i], values[i]));
  return out;
}

KeyFigure chips_figure() {
  return {"least_woodchip_share",
          "chips needed to keep its air",
          ShownAs::percent,
          TipAims{}.fine,
          false,
          -1,
          nullptr};
}

void add_line(std::vector<std::vector<std::string>>& lines, const KeyFigure& figure,
              const std::vector<RangedValue>& values, const std::vector<Paired>& pairs) {
  const std::string unit = figure.shown_as == ShownAs::day ? "" : " [" + unit_of(figure.shown_as) + "]";
  std::vector<std::string> line{figure.label + unit};
  for (const RangedValue& value : values) line.push_back(cell(figure, value));
  for (std::size_t i = 1; i < pairs.size(); ++i) line.push_back(pairs_cell(figure, pairs[i]));
  lines.push_back(line);
}

}  // namespace

std::string comparison_table(const Comparison& comparison) {
  std::vector<std::vector<std::string>> lines;
  std::vector<std::string> head{"over the whole time"};
  for (const std::string& name : comparison.names) head.push_back(name);
  for (std::size_t i = 1; i < comparison.names.size(); ++i)
    head.push_back(fmt::format("{} against {}", comparison.names[i], comparison.names[0]));
  lines.push_back(head);
  for (const FigureRow& row : comparison.rows) add_line(lines, row.figure, row.values, row.pairs);
  if (comparison.chips) add_line(lines, chips_figure(), comparison.chips->values, comparison.chips->pairs);
  return text_table(lines) + "In brackets: 8 of 10 plausible beds lie between.\n";
}

json to_json(const Comparison& comparison) {
  json all = json::array();
  const auto add = [&](const KeyFigure& figure, const std::vector<RangedValue>& values,
                       const std::vector<Paired>& pairs) {
    all.push_back({{"name", figure.key},
                   {"label", figure.label},
                   {"values", values_json(comparison, values)},
                   {"pairs", pairs_json(comparison, pairs)}});
  };
  for (const FigureRow& row : comparison.rows) add(row.figure, row.values, row.pairs);
  if (comparison.chips) add(chips_figure(), comparison.chips->values, comparison.chips->pairs);
  json order = json::array();
  for (const std::size_t n : comparison.order) order.push_back(comparison.names[n]);
  const std::size_t best = comparison.order.front();
  bool clear = false;
  for (const Standing& s : comparison.standings[best]) clear |= s.better > 0;
  return {{"seed", comparison.seed},
          {"take", clear ? json(comparison.names[best]) : json()},
          {"order", order},
          {"measures", all},
          {"verdict", comparison.verdict}};
}

}  // namespace updraught
