#include "post/answer/bin_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

#include "post/words/words.h"

namespace updraught {

namespace {

std::string where_words(const Opening& o) {
  if (o.where == Opening::Where::base) return "in the floor";
  if (o.where == Opening::Where::lid) return "in the lid";
  if (o.where == Opening::Where::top) return "over the bed";
  if (o.all_sides) return "in all walls";
  return "in the " + side_words(o.side) + " wall";
}

std::string clogging(const Opening& o) {
  return o.blocked > 0.005 ? ", " + percent(o.blocked) + " clogged" : "";
}

std::string kind_words(const Opening& o) {
  const bool floor = o.where == Opening::Where::base;
  switch (o.kind) {
    case Opening::Kind::open:
      if (floor) return "open floor";
      return o.where == Opening::Where::top ? "open top" : "open area " + where_words(o);
    case Opening::Kind::mesh:
      return (floor ? std::string("mesh floor") : "mesh " + where_words(o)) + ", " + percent(o.open_share) +
             " open";
    case Opening::Kind::slots:
      return (floor ? std::string("slotted floor") : "slots " + where_words(o)) + ", " +
             length_words(o.size) + " wide";
    case Opening::Kind::gap:
      return (o.where == Opening::Where::lid ? std::string("gap under the lid") : "gap " + where_words(o)) +
             ", " + length_words(o.size);
    case Opening::Kind::hole:
      return "hole " + where_words(o) + ", " + length_words(o.diameter);
    case Opening::Kind::holes:
      return fmt::format("{} holes of {} {}", o.count, length_words(o.diameter), where_words(o));
  }
  return o.name;
}

}  // namespace

std::string length_words(double metres) {
  const double whole_cm = std::round(metres * 100.0) / 100.0;
  if (metres < 0.0295 || (metres < 0.3 && std::abs(metres - whole_cm) > 0.0005)) {
    const double mm = metres * 1000.0;
    return std::abs(mm - std::round(mm)) < 0.05 ? fmt::format("{:.0f} mm", mm) : fmt::format("{:.1f} mm", mm);
  }
  const double cm = metres * 100.0;
  return std::abs(cm - std::round(cm)) < 0.05 ? fmt::format("{:.0f} cm", cm) : fmt::format("{:.1f} cm", cm);
}

std::string side_words(Side side) {
  switch (side) {
    case Side::left:
      return "left";
    case Side::right:
      return "right";
    case Side::front:
      return "front";
    case Side::back:
      return "back";
  }
  return "";
}

std::string opening_words(const Opening& opening) {
  return kind_words(opening) + clogging(opening);
}

std::string filling_sentence(const Problem& problem) {
  std::map<std::string, double> volumes;
  double all = 0.0;
  for (const Batch& batch : problem.batches)
    for (const Portion& portion : batch.portions) {
      const double volume = portion.mass / portion.feedstock.loose_density;
      volumes[portion.feedstock.name] += volume;
      all += volume;
    }
  std::vector<std::pair<std::string, double>> shares(volumes.begin(), volumes.end());
  std::stable_sort(shares.begin(), shares.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  std::vector<std::string> parts;
  parts.reserve(shares.size());
  for (const auto& [name, volume] : shares) parts.push_back(percent(volume / all) + " " + name);
  return parts.empty() ? "" : "Filled with " + listed(parts) + ", by buckets.";
}

std::string openings_sentence(const Problem& problem) {
  std::string out;
  const auto add = [&out](const std::string& words) { out += (out.empty() ? "" : "; ") + words; };
  if (problem.base.kind == Base::Kind::raised) {
    const std::string way = problem.base.inlet_area > 0.0
                                ? fmt::format("raised base with {:.0f} cm² of slots to the outside",
                                              problem.base.inlet_area * 1e4)
                                : std::string("raised base, open to the outside");
    add(way);
  } else if (problem.base.kind == Base::Kind::closed) {
    add("closed floor");
  } else {
    add("on the ground");
  }
  for (const Opening& o : problem.openings) add(opening_words(o));
  if (problem.lid.kind == Lid::Kind::none) add("no lid");
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
  return out + ".";
}

}  // namespace updraught
