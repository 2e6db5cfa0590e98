// The range of woodchip shares that works: where the case as it is tips, where plausible beds do, and in how
// many of these each share works.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "post/result/chip_tips.h"
#include "post/result/summary.h"
#include "post/result/tried_beds.h"
#include "post/words/interval.h"

namespace updraught {

/// A base with less air between its pieces is called closed (Eftoda and McCartney 2004); a reason, no aim.
inline constexpr double closed_base = 0.20;

/// Why a share does not work.
enum class Miss { base_closes, too_little_air, too_little_warmth, too_dry, full_of_chips };

/// The case as it is with one share.
struct BlendPoint {
  double share = 0.0;  ///< chip buckets over all buckets
  Course course;
  double base_air_between = 0.0;  ///< m3/m3, least of the days
};

/// The aims that a bed misses, the most telling first; empty when it works.
std::vector<Miss> misses(const BlendPoint& point, const TipAims& aims);

/// A point from a computed bed. Throws std::invalid_argument for a summary without days or course.
BlendPoint blend_point(double share, const Summary& summary);

/// Halfway shares between neighbours that miss other aims each, until they are as close as the aims say.
std::vector<double> shares_to_refine(std::vector<BlendPoint> points, const TipAims& aims);

/// A share that table and chart point at, so that the range can be seen beside it.
struct MarkedShare {
  double share = 0.0;  ///< of one of the points
  std::string words;   ///< what it is, in a few words
};

/// The answer of a sweep.
struct ChipRange {
  TipAims aims;
  double days = 0.0;               ///< that were computed
  std::vector<BlendPoint> points;  ///< the case as it is, by share
  ChipTips asked;                  ///< of the case as it is
  std::vector<ChipTips> beds;      ///< of the plausible ones
  std::optional<Band> least;       ///< low and high of the least share that works; infinite: none works
  std::optional<Band> most;
  double best = 0.0;                   ///< share that works in most plausible beds, the middle of such shares
  int works_in = 0;                    ///< of the plausible beds, at that share
  std::vector<Influence> influences;   ///< of the uncertain inputs on the least share that works
  std::vector<UncertainInput> inputs;  ///< these inputs
  std::optional<MarkedShare> marked;
  std::vector<std::string> verdict;

  /// Whether any share works for the case as it is.
  bool works() const;
  /// In how many of the plausible beds a share works.
  int works_at(double share) const;
  /// How many of them have a share that works at all.
  int beds_that_can_work() const;
};

/// What a sweep found.
struct SweptChips {
  std::vector<BlendPoint> points;      ///< the case as it is, in any order
  ChipTips asked;                      ///< of the case as it is
  std::vector<ChipTips> beds;          ///< of plausible beds
  TriedBeds sample;                    ///< their points, in the same order; their courses are of no share
  std::vector<UncertainInput> inputs;  ///< of the case
};

/// Puts the answer together. Throws std::invalid_argument for fewer than two points.
ChipRange chip_range(SweptChips swept, const TipAims& aims, double days);

/// Marks a share where the sweep holds it; else nothing is marked.
void mark_share(ChipRange& range, const MarkedShare& mark);

/// The sentences of a range whose numbers are there, the answer first.
std::vector<std::string> range_in_words(const ChipRange& range);

/// What a bed must do to work, in a sentence.
std::string aims_in_words(const TipAims& aims);

/// The table that people read, one share a line; the marked share is named.
std::string blend_table(const ChipRange& range);

/// The sweep, its range and the reasons.
nlohmann::json to_json(const ChipRange& range);

/// A reason in a few words: "the base closes".
std::string miss_in_words(Miss miss);

}  // namespace updraught
