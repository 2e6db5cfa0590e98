// What must hold of every computed bed, whatever the case.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "post/result/members.h"
#include "solver/material/moist_air.h"
#include "solver/run.h"

namespace updraught::whole {

/// Temperatures that a bed may take (degC).
struct TemperatureRange {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
};

/// All temperatures that a case gives to what surrounds the bed and to its start.
inline std::vector<double> given_temperatures(const Problem& p) {
  const Surroundings& o = p.outside;
  std::vector<double> given{o.temperature - o.daily_swing, o.temperature + o.daily_swing,
                            o.ground_temperature};
  given.insert(given.end(), o.table_temperature.begin(), o.table_temperature.end());
  const Initial& i = p.initial;
  if (i.kind == Initial::Kind::uniform) given.push_back(i.temperature);
  if (i.kind == Initial::Kind::linear)
    for (const double end : {i.bottom, i.top})
      given.insert(given.end(), {end - std::abs(i.ripple), end + std::abs(i.ripple)});
  given.insert(given.end(), i.table.value.begin(), i.table.value.end());
  const auto far = [&](const HeatBoundary& b) {
    const bool own =
        b.kind == HeatBoundary::Kind::held_at || (b.kind == HeatBoundary::Kind::film && !b.to_outside);
    if (own) given.push_back(b.temperature);
  };
  for (const HeatBoundary& side : p.sides) far(side);
  far(p.floor);
  far(p.lid_heat);
  for (const Opening& opening : p.openings)
    if (opening.held_at) given.push_back(*opening.held_at);
  if (p.hold_temperature) given.push_back(*p.hold_temperature);
  if (p.constant_air) given.push_back(p.constant_air->at);
  for (const Event& event : p.events)
    if (event.kind != Event::Kind::turn) given.push_back(event.temperature);
  return given;
}

/// The temperature to which water that evaporates into air of this state cools what it evaporates from
/// (degC): the wet bulb in still air, 57 Pa/K at sea level. The psychrometer's constant in a draught is 66.5;
/// vapour spreads faster than heat by the ratio of 0.87 (textbooks, from memory).
inline double wet_bulb(double temperature, double humidity, double pressure) {
  const double vapour = humidity * saturation_pressure(temperature);
  double low = temperature - 80.0, high = temperature;
  for (int n = 0; n < 60; ++n) {
    const double middle = 0.5 * (low + high);
    const double balance =
        saturation_pressure(middle) - vapour - 57.0 * pressure / 101325.0 * (temperature - middle);
    (balance > 0.0 ? high : low) = middle;
  }
  return low;
}

/// Sources and sinks of given strength know no limit of temperature.
inline bool given_heat(const Problem& p, double sign) {
  const auto pushes = [&](const HeatBoundary& b) {
    return b.kind == HeatBoundary::Kind::flux && b.flux * sign > 0.0;
  };
  const auto& heat = p.prescribed.heat;
  return std::any_of(p.sides.begin(), p.sides.end(), pushes) || pushes(p.floor) || pushes(p.lid_heat) ||
         (heat &&
          std::any_of(heat->value.begin(), heat->value.end(), [&](double v) { return v * sign > 0.0; }));
}

/// An opening in the bed's own top.
inline bool open_top(const Problem& p) {
  const auto at_top = [](const Opening& opening) { return opening.where == Opening::Where::top; };
  return std::any_of(p.openings.begin(), p.openings.end(), at_top);
}

/// Below this a bed holds hardly any heat (m).
constexpr double thin_bed = 0.05;

/// By how much a kilogram of what goes on top later may raise the bed at most: matter as tipped, water by its
/// own volume (m/kg).
inline double rise_per_kilogram(const Problem& p) {
  const bool round = p.bin.kind == BinShape::Kind::round;
  const double area = round ? std::numbers::pi / 4.0 * p.bin.width * p.bin.width : p.bin.width * p.bin.length;
  double most = 1.0 / 1000.0;
  for (const Batch& refill : p.refills)
    for (const Portion& part : refill.portions) most = std::max(most, 1.0 / part.feedstock.loose_density);
  return most / area;
}

/// Beds through which air is driven hard, or up to an open top, or that hold hardly any heat. LEFT OUT of
/// the limits of temperature: on coarse cells the unlimited part of the second-order fluxes next to a
/// boundary overshoots there, by up to 7 K at a drying front.
inline bool air_streams(const Problem& p) {
  const auto elsewhere = [](const Opening& opening) { return opening.where != Opening::Where::top; };
  const auto pressed = [](const Opening& opening) { return std::abs(opening.pressure) >= 10.0; };
  const auto& k = p.prescribed.permeability;
  const bool loose = k && *std::max_element(k->value.begin(), k->value.end()) >= 1e-6;
  const bool light =
      (p.prescribed.density && *p.prescribed.density < 10.0) || (p.depth > 0.0 && p.depth < thin_bed);
  const bool buoyant = p.constant_air && p.constant_air->expansion > 0.01;
  const bool through = open_top(p) && std::any_of(p.openings.begin(), p.openings.end(), elsewhere);
  return p.prescribed.volume_flow || loose || light || buoyant || through ||
         std::any_of(p.openings.begin(), p.openings.end(), pressed);
}

/// How far what evaporates can cool a bed (degC): to the wet bulb of the air, or where heat and vapour do not
/// spread as in air, since the case prescribes how they do, to its dew point.
inline double cooled(const Problem& p, double coldest) {
  const Surroundings& o = p.outside;
  if (p.constant_air) return coldest;
  const Prescribed& given = p.prescribed;
  if (!given.conductivity && !given.diffusivity && !given.density)
    return wet_bulb(coldest, o.humidity, o.pressure);
  return wet_bulb(coldest, o.humidity, 0.0);
}

inline TemperatureRange range_for(const Problem& p) {
  constexpr double food_reaches = 95.0, rounding = 0.05;  // of passes that end
  const std::vector<double> given = given_temperatures(p);
  const double coldest = *std::min_element(given.begin(), given.end());
  const double hottest = *std::max_element(given.begin(), given.end());
  TemperatureRange range;
  if (air_streams(p)) return range;
  if (!given_heat(p, -1.0)) range.low = cooled(p, coldest) - rounding;
  if (!given_heat(p, 1.0)) range.high = std::max(hottest, food_reaches) + rounding;
  return range;
}

/// What one run broke, a sentence each; looks at every accepted step.
class Watch {
 public:
  explicit Watch(const Problem& problem)
      : range_(range_for(problem)), rise_per_kilogram_(rise_per_kilogram(problem)) {}

  void step(const State& s, const SeriesRow& row) {
    if (height_ <= 0.0) height_ = row.height;
    if (height_ < thin_bed) range_ = {};
    height_ += rise_per_kilogram_ * (row.filled - filled_);
    filled_ = row.filled;
    ++steps_;
    for (const ConstStateField& field : s.fields())
      for (const double value : *field.values) hold(std::isfinite(value), field.name + " is finite", value);
    layout::members(row, [&](const std::string& name, const std::string&, const double& value) {
      hold(std::isfinite(value), name + " of the series is finite", value);
    });
    for (const double t : s.temperature) hold(t >= range_.low && t <= range_.high, "temperature", t);
    for (std::size_t c = 0; c < s.oxygen.size(); ++c) {
      const double share = s.oxygen[c] / s.dry_gas[c];
      hold(share >= -1e-4 && share <= air_oxygen + 1e-3, "oxygen in dry gas", share);
    }
    // The film of air that stays in pores under water (theory 2.5) lifts a bed by a few parts in ten
    // thousand.
    constexpr double swelling = 5e-4;
    hold(row.height > 0.0 && row.height <= height_ * (1.0 + swelling), "height", row.height);
  }

  void end(const RunResult& result) {
    const Balances& b = result.balances;
    const std::vector<std::pair<const char*, double>> errors{{"dry gas", b.dry_gas},
                                                             {"oxygen", b.oxygen},
                                                             {"heat", b.heat},
                                                             {"water", b.water},
                                                             {"dry mass", b.dry_mass}};
    for (const auto& [name, error] : errors)
      hold(std::abs(error) <= 1e-6, std::string("balance of ") + name, error);
    hold(!result.series.empty(), "there is a series", 0.0);
  }

  int steps() const { return steps_; }
  /// Empty when all held.
  const std::string& broken() const { return broken_; }

 private:
  /// The first of each kind is told.
  void hold(bool holds, const std::string& what, double value) {
    if (holds || broken_.find(what) != std::string::npos) return;
    broken_ += what + ": " + std::to_string(value) + " at step " + std::to_string(steps_) +
               ", allowed for temperatures " + std::to_string(range_.low) + " to " +
               std::to_string(range_.high) + "\n";
  }

  TemperatureRange range_;
  double rise_per_kilogram_;
  double height_ = 0.0;  ///< that the bed may have (m)
  double filled_ = 0.0;  ///< kg
  int steps_ = 0;
  std::string broken_;
};

}  // namespace updraught::whole
