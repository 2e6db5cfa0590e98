// The bed at one moment: arrays and one list of fields, over which store, restart and copies loop.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/material/mixture.h"

namespace updraught {

/// Air spaces outside the bed that are well mixed.
enum class NodeKind { floor_space, lid_space };

/// Where the entries of a field belong: one per cell, layer, column or air space, per cell and then air
/// space, or per entry of the books (balances.h).
enum class Location { cell, layer, column, node, cell_and_node, book };

/// One array of the state, for loops over all of them.
struct StateField {
  std::string name;
  std::string unit;
  Location location;
  std::vector<double>* values;
};
struct ConstStateField {
  std::string name;
  std::string unit;
  Location location;
  const std::vector<double>* values;
};

/// Where a state stands in time.
struct Clock {
  double time = 0.0;         ///< s
  double last_step = 0.0;    ///< length of the step that led here (s); 0: none did
  double next_step = 0.0;    ///< length wished for the next one (s)
  double steps = 0.0;        ///< taken so far
  double since_event = 0.0;  ///< steps since the bed was laid or changed by hand

  bool operator==(const Clock&) const = default;
};

/// The two groups of microbes.
namespace group_of {
inline constexpr std::size_t mesophilic = 0, thermophilic = 1;
}

/// Everything that a step needs and changes. A step is a pure function of it: what outlives a step (step
/// size, last increments, last pressures and fluxes) is a member. Cells are stored as in Grid. Amounts are
/// per cell, not per volume.
struct State {
  Clock clock;
  // layers
  std::vector<double> thickness;       ///< m
  std::vector<double> stress;          ///< present vertical stress at mid-layer (Pa)
  std::vector<double> largest_stress;  ///< s* (Pa)
  std::vector<double> laid;            ///< time at which the layer was laid (s)
  // cells
  std::vector<double> mixture;         ///< index of the blend that the cell's matter was laid or mixed as
  std::vector<double> temperature;     ///< degC
  std::vector<double> dry_gas;         ///< m: dry gas in the cell (mol)
  std::vector<double> oxygen;          ///< mol
  std::vector<double> carbon_dioxide;  ///< mol
  std::vector<double> water;           ///< liquid and vapour (kg)
  std::vector<double> chips_ash;       ///< kg
  std::vector<double> soft_ash;        ///< kg
  std::array<std::vector<double>, pool_count> pool;  ///< volatile solids left, by pool_of (kg)
  std::vector<double> easy_start;                    ///< easy pool at laying (kg)
  std::array<std::vector<double>, 2> activity;       ///< of both groups of microbes, by group_of (0..1)
  std::vector<double> hours_hot;                     ///< hours above 55 degC
  std::vector<double> hours_airless;                 ///< hours below 1 % dry oxygen
  std::vector<double> pressure;                      ///< p', last solution (Pa)
  std::vector<double> flux_x, flux_y, flux_z;        ///< dry-gas flow through the low faces (mol/s); lagged
  std::vector<double> flux_top;                      ///< [j][i], upward through the bed's top (mol/s)
  // nodes
  std::vector<double> node_pressure;        ///< p' at the node's own height (Pa)
  std::vector<double> node_temperature;     ///< degC
  std::vector<double> node_dry_gas;         ///< mol
  std::vector<double> node_oxygen;          ///< mol
  std::vector<double> node_carbon_dioxide;  ///< mol
  std::vector<double> node_vapour;          ///< kg
  // increments of the last step in cells, then nodes, for the second-order time step (theory 9.1)
  std::vector<double> last_dry_gas, last_oxygen, last_carbon_dioxide, last_water, last_heat;
  std::array<std::vector<double>, pool_count> last_pool;
  std::vector<double> last_temperature;  ///< change over the last step (K)
  // booked sums over time (theory 9.7); see balances.h for the entries
  std::vector<double> booked;
  std::vector<double> last_booked;

  double time() const { return clock.time; }

  /// Takes the increments since `before`, the accepted state one step earlier, which gives up its own: none
  /// of its last_... members is of use afterwards. last_heat and last_booked are the step's own work.
  void take_increments(State& before);

  /// All arrays, in a fixed order, with stable names; all of a state but its clock.
  std::vector<StateField> fields();
  std::vector<ConstStateField> fields() const;
};

/// Volatile solids of a cell (kg).
double volatile_solids_of(const State& s, std::size_t cell);

/// Dry mass of a cell (kg).
double dry_of(const State& s, std::size_t cell);

}  // namespace updraught
