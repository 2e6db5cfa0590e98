// The range of woodchip shares that works, from computed beds: each share with the air actually run, in three
// settings of the uncertain inputs.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "post/result/intervals.h"

namespace updraught {

/// What a share must give to work. All four are our choice; docs say why.
struct BlendAims {
  double aired_share = 0.5;  ///< at least half of the bed has enough air on the headline day
  double hottest = 55.0;     ///< degC: at least once somewhere, else nothing is hot composting
  double moisture = 0.40;    ///< kg/kg wet at the end: drier beds stall and dust; practice
  double chips = 0.70;       ///< of the buckets at most: beyond, fewer than three buckets in ten are waste
  double base_air_between =
      0.20;  ///< a base below it is called closed (Eftoda and McCartney 2004); a reason, no aim
};

/// One share, computed in three settings.
struct BlendPoint {
  double share = 0.0;  ///< chip buckets over all buckets
  ThreeSettings settings;
};

/// What decides, at one share in one setting.
struct BlendMeasures {
  double aired_share = 0.0;       ///< on the headline day
  double hottest = 0.0;           ///< degC, of all days
  double moisture = 0.0;          ///< kg/kg wet, at the end
  double base_air_between = 0.0;  ///< m3/m3, on the headline day
  double air_in = 0.0;            ///< m3/h, on the headline day
};

/// Why a range ends.
enum class RangeEnd { edge_of_sweep, base_closes, too_little_air, too_little_warmth, too_dry, full_of_chips };

/// Shares that work in one setting: the widest run of them, its ends found by straight lines between computed
/// shares.
struct WorkingRange {
  double low = 0.0;
  double high = 0.0;
  RangeEnd low_end = RangeEnd::edge_of_sweep;
  RangeEnd high_end = RangeEnd::edge_of_sweep;
};

/// A share that table and chart point at, so that the range can be seen beside it.
struct MarkedShare {
  double share = 0.0;  ///< of one of the points
  std::string words;   ///< what it is, in a few words
};

/// The answer of a sweep.
struct BlendRange {
  std::vector<BlendPoint> points;  ///< by share
  std::optional<WorkingRange> adverse;
  std::optional<WorkingRange> middle;
  std::optional<WorkingRange> favourable;
  std::optional<Band> sure;           ///< works in all three settings
  std::optional<double> recommended;  ///< the middle of `sure`, else of the middle setting's range
  std::optional<MarkedShare> marked;
  std::vector<std::string> verdict;
};

/// The measures of one computed bed.
BlendMeasures blend_measures(const Summary& summary);

/// The aims that a bed misses, the most telling first; empty when it works.
std::vector<RangeEnd> misses(double share, const BlendMeasures& measures, const BlendAims& aims);

/// Halfway shares between neighbours of which one works and one does not, in any setting: where to compute
/// once more.
std::vector<double> shares_to_refine(const std::vector<BlendPoint>& points, const BlendAims& aims = {});

/// Finds the range. Points in any order; throws std::invalid_argument for fewer than two.
BlendRange find_range(std::vector<BlendPoint> points, const BlendAims& aims = {});

/// Marks a share where the sweep holds it; else nothing is marked.
void mark_share(BlendRange& range, const MarkedShare& mark);

/// The table that people read, one share a line; the marked share is named.
std::string blend_table(const BlendRange& range, const BlendAims& aims = {});

/// The sweep, its range and the reasons.
nlohmann::json to_json(const BlendRange& range, const BlendAims& aims = {});

/// A reason in a few words: "the base closes".
std::string reason_in_words(RangeEnd end);

}  // namespace updraught
