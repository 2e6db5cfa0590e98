// What a computation found, as plain numbers: the step between fields and sentences.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "post/answer/place.h"
#include "post/result/bed_contents.h"
#include "post/result/course.h"
#include "post/result/summary.h"

namespace updraught {

/// One of the responses that holds the microbes back, while it is the first one.
struct HeldBack {
  Limiting factor = Limiting::food;
  double share = 0.0;  ///< of the bed's volume, mean over the days on which it leads
  double from_day = 0.0;
  double to_day = 0.0;
  double temperature = 0.0;  ///< mean of that part of the bed (degC)
  Place place;               ///< where, when it is most
};

/// Everything that the verdict speaks of.
struct Findings {
  Materials materials;
  std::optional<Course> course;  ///< of the whole run; empty where no microbes are computed
  double day = 0.0;              ///< that pictures and places speak of (telling_day)
  double aired_share = 0.0;      ///< on that day
  std::optional<Band> aired_band;
  std::optional<Place> without;  ///< the part below 5 % oxygen on that day
  double bed_volume = 0.0;       ///< m3 of the true bed on that day

  std::vector<OpeningFlow> openings;  ///< to the outside, on that day
  double gas_volume = 0.0;            ///< m3 of air in the true bed on that day
  double air_through = 0.0;  ///< m3/h that pass through on that day; what only comes and goes through an
                             ///< opening is left out, since it need not reach the bed

  double base_stress = 0.0;        ///< Pa on that day
  double base_air_between = 0.0;   ///< m3/m3
  double loose_air_between = 0.0;  ///< m3/m3, of what lies at the base, loose
  bool lowest_layer = false;       ///< what lies at the base is a layer of its own

  std::vector<HeldBack> held_back;  ///< the largest first; empty where no microbes are computed

  double hottest = 0.0;  ///< degC over the whole time
  double hottest_day = 0.0;
  std::optional<Band> hottest_band;            ///< over the whole time too
  double coldest_hours_hot = 0.0;              ///< h above 55 degC at the end
  double wind = 0.0;                           ///< m/s, for the heat that walls and lid lose
  std::vector<double> turned_days;             ///< on which the bed was turned by hand
  std::vector<double> filled_days;             ///< on which more went on top
  double filled = 0.0;                         ///< kg that went on top in all
  std::vector<double> watered_days;            ///< on which water was poured on top
  double poured = 0.0;                         ///< kg of it in all
  std::vector<double> full_days;               ///< on which more found no room under the rim
  std::optional<double> own_film;              ///< outside the walls, where the case gives it (W/(m2 K))
  bool open_heap = false;                      ///< a long heap without a lid: other hours are asked for
  double heat_made = 0.0;                      ///< W, mean over the time
  std::map<std::string, double> heat_by_path;  ///< W, mean over the time
  double hours_below_freezing = 0.0;           ///< of the coldest part, in all
  double last_moisture = 0.0;                  ///< kg/kg wet at the end; NaN without mass
  double leachate = 0.0;                       ///< kg in all

  std::vector<std::string> holes_as_rows;  ///< single holes that rings turn into a row
  TriedBeds tried;                         ///< the plausible beds; empty: none were computed
  std::vector<UncertainInput> inputs;      ///< that they differ in
  std::optional<Course> quick;             ///< the case as it is in their detail
  std::optional<MoreChips> more_chips;     ///< computed where want of air holds it back most
  std::string ended;  ///< why the computation ended before its time by itself, a sentence; empty: it did not
  bool stopped = false;
};

/// Whether want of air is what holds the microbes back most.
bool wants_air(const Findings& findings);

/// Draws the findings from a result, which holds its bands and quick computations already. Throws
/// std::invalid_argument for one without any step.
Findings find(const Result& result);

}  // namespace updraught
