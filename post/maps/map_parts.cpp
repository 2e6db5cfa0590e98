// Bands, legend, scale bar and words of the maps.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "post/maps/maps.h"

namespace updraught {

namespace {

std::vector<std::string> range_words(const std::vector<double>& edges, const std::string& first) {
  std::vector<std::string> out{first};
  for (std::size_t e = 0; e + 1 < edges.size(); ++e)
    out.push_back(fmt::format("{:g}–{:g}", edges[e], edges[e + 1]));
  out.push_back(fmt::format("above {:g}", edges.back()));
  return out;
}

std::vector<Colour> amounts(bool more_is_darker) {
  std::vector<Colour> out(amount_colours.begin(), amount_colours.end());
  if (!more_is_darker) std::reverse(out.begin(), out.end());
  return out;
}

MapBands amount_bands(const std::vector<double>& edges, bool more_is_darker, const std::string& caption) {
  return {edges, amounts(more_is_darker), range_words(edges, fmt::format("below {:g}", edges.front())),
          caption, 0};
}

}  // namespace

std::string map_name(MapKind kind) {
  switch (kind) {
    case MapKind::oxygen:
      return "oxygen";
    case MapKind::temperature:
      return "temperature";
    case MapKind::airflow:
      return "airflow";
    case MapKind::air_between:
      return "air-between";
    case MapKind::free_air_space:
      return "free-air-space";
    case MapKind::moisture:
      return "moisture";
    case MapKind::hours_airless:
      return "hours-airless";
    case MapKind::holds_back:
      return "holds-back";
  }
  throw std::invalid_argument("unknown kind of map");
}

MapBands map_bands(MapKind kind) {
  switch (kind) {
    case MapKind::oxygen:
      return {{1, 5, 10, 15},
              {oxygen_colours.begin(), oxygen_colours.end()},
              range_words({1, 5, 10, 15}, "0–1"),
              "Oxygen in the air of the bed, % of dry air",
              2};
    case MapKind::temperature:
      return {{25, 45, 55, 65, 70},
              {warmth_colours.begin(), warmth_colours.end()},
              range_words({25, 45, 55, 65, 70}, "below 25"),
              "Temperature, °C",
              0};
    case MapKind::airflow:
      return amount_bands({0.02, 0.1, 0.3, 1}, true,
                          "Air that passes, mm/s (litres a second through each square metre)");
    case MapKind::air_between:
      return amount_bands({10, 20, 30, 40}, false, "Air between the pieces, % of the space");
    case MapKind::free_air_space:
      return amount_bands({20, 30, 40, 50}, false, "Free air space (open pores), % of the space");
    case MapKind::moisture:
      return amount_bands({40, 50, 60, 70}, true, "Water, % of total weight");
    case MapKind::hours_airless:
      return amount_bands({1, 6, 24, 72}, true, "Time so far with less than 1 % oxygen, hours");
    case MapKind::holds_back: {
      MapBands out{
          {}, {reason_colours.begin(), reason_colours.end()}, limiting_names(), "What holds it back here", 0};
      const auto words = [&out](Limiting factor) -> std::string& {
        return out.words[static_cast<std::size_t>(factor)];
      };
      words(Limiting::food) = "only the food itself";
      words(Limiting::oxygen) = "want of air";
      words(Limiting::temperature) = "too cold or too hot";
      return out;
    }
  }
  throw std::invalid_argument("unknown kind of map");
}

double draw_legend(Canvas& canvas, MapKind kind, Point place, double width,
                   const std::vector<double>& shares) {
  const MapBands bands = map_bands(kind);
  std::vector<std::size_t> shown;
  for (std::size_t b = 0; b < bands.colours.size(); ++b)
    if (kind != MapKind::holds_back || shares.empty() || shares[b] > 0.0) shown.push_back(b);
  double y = place.y + canvas.text(place, bands.caption, {7.5, true, ink, Align::left, width}).height + 2.0;
  const double widest = kind == MapKind::holds_back ? 92.0 : width;
  const double box_width =
      std::min(width / static_cast<double>(std::max<std::size_t>(shown.size(), 1)), widest);
  double low = y;
  for (std::size_t n = 0; n < shown.size(); ++n) {
    const std::size_t b = shown[n];
    const Box box{place.x + box_width * static_cast<double>(n), y, box_width, 11.0};
    draw_band(canvas, kind, static_cast<int>(b),
              {{{box.left, box.top},
                {box.right(), box.top},
                {box.right(), box.bottom()},
                {box.left, box.bottom()}}});
    canvas.frame(box, {wall_edge, 0.5, {}});
    std::string words = bands.words[b];
    if (!shares.empty())
      words +=
          shares[b] > 0.0 && shares[b] < 0.005 ? ": below 1 %" : fmt::format(": {:.0f} %", 100.0 * shares[b]);
    const TextStyle style{7.2, false, ink, Align::centre, box_width - 3.0};
    // Centred lines wrap about the middle of their own width, hence the left edge as their place.
    const TextSize size = canvas.text({box.left + 0.5 * box_width, box.bottom() + 1.5}, words, style);
    low = std::max(low, box.bottom() + 1.5 + size.height);
  }
  if (bands.hatched == 0) return low;
  const double split = place.x + box_width * bands.hatched;
  const double right = place.x + box_width * static_cast<double>(shown.size());
  double end = low;
  for (const auto& [from, to, words] : {std::tuple{place.x, split, "hatched: too little air"},
                                        std::tuple{split, right, "enough air (oxygen above 5 %)"}}) {
    canvas.line({from + 2.0, low + 2.0}, {to - 2.0, low + 2.0}, {soft_ink, 0.6, {}});
    const TextStyle style{7.2, false, ink, Align::centre, to - from - 2.0};
    end = std::max(end, low + 3.0 + canvas.text({0.5 * (from + to), low + 3.0}, words, style).height);
  }
  return end;
}

double draw_scale_bar(Canvas& canvas, Point place, double points_per_metre) {
  static constexpr double lengths[] = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000};  // cm
  double centimetres = lengths[0];
  for (const double candidate : lengths)
    if (candidate / 100.0 * points_per_metre <= 82.0) centimetres = candidate;
  const double length = centimetres / 100.0 * points_per_metre;
  const Box bar{place.x, place.y + 2.0, length, 4.0};
  canvas.fill(bar, paper);
  canvas.fill(Box{bar.left, bar.top, 0.5 * length, bar.height}, ink);
  canvas.frame(bar, {ink, 0.6, {}});
  const TextSize size =
      canvas.text({bar.right() + 4.0, place.y - 0.5}, fmt::format("{:g} cm", centimetres), {7.5});
  return place.y + std::max(size.height, 8.0);
}

std::string day_words(double seconds, bool capital) {
  const double days = seconds / 86400.0;
  if (days < 0.02) return capital ? "Right after filling" : "right after filling";
  const std::string number =
      std::abs(days - std::round(days)) < 0.02 ? fmt::format("{:.0f}", days) : fmt::format("{:.1f}", days);
  return (capital ? "Day " : "day ") + number;
}

std::string cut_words(const Problem& problem) {
  if (piece_of_longer(problem.mode)) return "upright cut across the heap";
  if (around_axis(problem.mode)) {
    if (problem.box_as_rings) return "upright cut through the middle; the box is drawn as a round bin";
    return "upright cut through the middle";
  }
  const CutPlace place = choose_cut(problem);
  const std::string way = place.along_x ? "from left to right" : "from front to back";
  if (std::abs(place.share - 0.5) < 0.01) return "upright cut through the middle, " + way;
  return "upright cut through the opening, " + way;
}

std::string draught_note(const Map& map) {
  double in = 0.0;
  double out = 0.0;
  for (const OpeningFlow& flow : map.flows) {
    const Opening* opening = opening_of(flow, map.problem);
    if (opening == nullptr || opening->where != Opening::Where::base || opening->pressure != 0.0) continue;
    in += flow.air_in;
    out += flow.air_out;
  }
  if (!(out > 2.0 * in)) return "";
  return "Cold or heavy air sinks: air comes in above and leaves below here.";
}

}  // namespace updraught
