// What a computation hands up while it runs and when it ends. Plain structs; nothing here computes.
#pragma once

#include <functional>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "mesh/grid.h"
#include "solver/bed/loose_facts.h"
#include "solver/problem/problem.h"
#include "solver/state/state.h"

namespace updraught {

/// One field of a picture: derived from the state at an accepted step, one value per cell (or 3 for the air
/// velocity, cell by cell: x, y, z; in rings: radial, 0, up).
struct PictureField {
  std::string name;   ///< stable, lower case with underscores, e.g. "oxygen_dry"
  std::string unit;   ///< as shown, e.g. "% dry"
  std::string label;  ///< plain words, e.g. "oxygen"
  int components = 1;
  std::vector<float> values;
};

/// Names of the picture fields that every result holds (units in brackets):
/// oxygen_dry [%], carbon_dioxide_dry [%], temperature [degC], air_velocity [mm/s, 3 components,
/// superficial], air_between [m3/m3], free_air_space [m3/m3], density [kg/m3], permeability [m2], moisture
/// [kg/kg wet], stress [Pa, per cell], uptake [g O2/(m3 h)], limiting [index, see Limiting], hours_hot
/// [h], hours_airless [h], batch [index].
struct Picture {
  double time = 0.0;      ///< s
  std::vector<double> z;  ///< heights of the layer faces at this time (m)
  std::vector<PictureField> fields;
};

/// What can hold the microbes back, as the field `limiting` counts it.
enum class Limiting { food, oxygen, temperature, moisture, nitrogen, piece_size, few_microbes };

/// Their names, in that order.
inline const std::vector<std::string>& limiting_names() {
  static const std::vector<std::string> names{"food",     "oxygen",     "temperature",         "moisture",
                                              "nitrogen", "piece size", "microbes too few yet"};
  return names;
}

/// Flow through one opening over a step (dry-gas moles turned into m3/h of air at outside conditions).
struct OpeningFlow {
  std::string name;                                             ///< for people
  double air_in = 0.0;                                          ///< m3/h, including exchange
  double air_out = 0.0;                                         ///< m3/h
  double exchange = 0.0;                                        ///< m3/h both ways
  double near_wall = std::numeric_limits<double>::quiet_NaN();  ///< side openings: share of the inflow that
                                                                ///< stays within 10 cm of the wall
  double heat = 0.0;      ///< W that leave through it with air and vapour, above the heat of outside air
  int opening = of_base;  ///< place in Problem::openings
  static constexpr int of_base = -1;  ///< the inlet of a raised base, which stands among no openings
};

/// The flow of an opening among those of a row; none where it has none.
inline const OpeningFlow* flow_of(int opening, const std::vector<OpeningFlow>& flows) {
  for (const OpeningFlow& flow : flows)
    if (flow.opening == opening) return &flow;
  return nullptr;
}

/// The whole bed at the end of a step. Extensive values are those of the true bed (plan_scale applied).
struct SeriesRow {
  double time = 0.0;                ///< s
  double step = 0.0;                ///< s
  double height = 0.0;              ///< m
  double mean_temperature = 0.0;    ///< degC, by volume
  double hottest = 0.0;             ///< degC
  double coldest = 0.0;             ///< degC
  double aired_share = 0.0;         ///< of the volume with dry oxygen above 5 %
  double well_aired_share = 0.0;    ///< above 10 %
  double aired_share_solids = 0.0;  ///< by volatile solids
  double air_in = 0.0;         ///< m3/h that passes through, at outside conditions (counterflow not counted)
  double oxygen_uptake = 0.0;  ///< g/h
  double heat_made = 0.0;      ///< W
  /// W out of the bed: "walls", "floor", "top", "air"; in boxes and slices "wall_left" and so on, parts of
  /// "walls"
  std::map<std::string, double> heat_by_path;
  double dry_mass = 0.0;             ///< kg
  double water = 0.0;                ///< kg
  double leachate = 0.0;             ///< kg so far
  double filled = 0.0;               ///< kg put on top so far, wet
  double filled_dry = 0.0;           ///< kg of dry matter in it
  double coldest_hours_hot = 0.0;    ///< h above 55 degC of the part with the fewest
  double outside_temperature = 0.0;  ///< degC
  double base_air_between = 0.0;     ///< air between pieces in the lowest layer
  double top_air_between = 0.0;      ///< in the highest layer
  double base_stress = 0.0;          ///< Pa
  double base_permeability = 0.0;    ///< m2, mean of the lowest layer
  double largest_velocity = 0.0;     ///< mm/s superficial
  std::vector<OpeningFlow> openings;
};

/// Relative errors of the balances, and what stands beside them.
struct Balances {
  double dry_gas = 0.0;
  double oxygen = 0.0;
  double heat = 0.0;
  double water = 0.0;
  double dry_mass = 0.0;
  double clipped_oxygen = 0.0;         ///< mol put back to zero over the run
  double largest_flow_residual = 0.0;  ///< relative
  double largest_mismatch = 0.0;       ///< K: temperature recovered from enthalpy less temperature solved for
  /// How sure the steps in time are: the largest, of all steps, of the mean departure over the bed (root mean
  /// square) from where the step before had predicted it.
  double step_temperature = 0.0;  ///< K
  double step_oxygen = 0.0;       ///< mole fraction
};

/// Everything about a finished (or stopped) computation except the fields.
struct RunResult {
  LooseFacts loose;
  int cells = 0;
  int unknowns = 0;
  int steps = 0;
  int rejected = 0;
  double settled_height = 0.0;  ///< m, right after filling
  double wall_seconds = 0.0;
  double peak_memory_mb = 0.0;
  double grid_memory_mb = 0.0;            ///< before the grid was made
  std::map<std::string, double> seconds;  ///< by phase
  Balances balances;
  std::vector<double> left_out;  ///< times of fillings that found no room under the bin's rim (s)
  std::string ended;             ///< why the computation ended before its time, a sentence; empty: it did not
  std::vector<SeriesRow> series;  ///< one row per accepted step, the first at time 0
  bool stopped = false;           ///< asked to stop before the end
};

/// Called while a computation runs. All members may be empty.
struct Observer {
  std::function<void(const Grid&, const LooseFacts&)> on_start;
  /// The row of an accepted step; where half of a bed is computed, on_step makes a state of the whole of it
  /// as well.
  std::function<void(const SeriesRow&)> on_row;
  /// An accepted step: the full state and its row.
  std::function<void(const Grid&, const State&, const SeriesRow&)> on_step;
  /// A picture at a wanted time, interpolated between two accepted steps, and the full state of the step just
  /// done.
  std::function<void(const Grid&, const State&, const Picture&, const SeriesRow&)> on_picture;
  std::function<bool()> stop;    ///< true: end after this step
  std::function<int()> threads;  ///< for the next step; 0: all cores; may be empty: as the problem says
};

}  // namespace updraught
