// For each struct of a result one list of members, so that what is written, read and interpolated cannot
// drift apart. A struct that gains a member no longer compiles here until it is listed.
#pragma once

#include <array>
#include <concepts>
#include <type_traits>

#include "post/result/result.h"

namespace updraught {

namespace layout {

// Words for choices; the order is that of the enumerators.
constexpr auto words(Mode /*unused*/) {
  return std::array{"whole", "rings", "slice"};
}
constexpr auto words(Side /*unused*/) {
  return std::array{"left", "right", "front", "back"};
}
constexpr auto words(BinShape::Kind /*unused*/) {
  return std::array{"box", "round"};
}
constexpr auto words(Base::Kind /*unused*/) {
  return std::array{"raised", "closed", "ground"};
}
constexpr auto words(Lid::Kind /*unused*/) {
  return std::array{"none", "closed"};
}
constexpr auto words(Opening::Where /*unused*/) {
  return std::array{"side", "base", "lid", "top"};
}
constexpr auto words(Opening::Kind /*unused*/) {
  return std::array{"open", "mesh", "slots", "hole", "holes", "gap"};
}

template <class T, class Struct>
concept Like = std::same_as<std::remove_const_t<T>, Struct>;

// members(object, visit) calls visit(name, unit, member) for every member that is a number, a word or a list
// of numbers.

void members(Like<BinShape> auto& shape, const auto& visit) {
  auto& [kind, width, length, height] = shape;
  visit("kind", "", kind);
  visit("width", "m", width);
  visit("length", "m", length);
  visit("height", "m", height);
}

void members(Like<Base> auto& base, const auto& visit) {
  auto& [kind, height, inlet_area, inlet_height, ground_conductivity] = base;
  visit("kind", "", kind);
  visit("height", "m", height);
  visit("inlet_area", "m2", inlet_area);
  visit("inlet_height", "m", inlet_height);
  visit("ground_conductivity", "W/(m K)", ground_conductivity);
}

void members(Like<Lid> auto& lid, const auto& visit) {
  auto& [kind, drip_back] = lid;
  visit("kind", "", kind);
  visit("drip_back", "1", drip_back);
}

void members(Like<Opening> auto& opening, const auto& visit) {
  auto& [name, where, kind, side, all_sides, diameter, count, heights, along, across, size, length,
         open_share, blocked, plate, discharge, patch_from, patch_to, pressure, held_at, diffuses] = opening;
  visit("name", "", name);
  visit("where", "", where);
  visit("kind", "", kind);
  visit("side", "", side);
  visit("all_sides", "1", all_sides);
  visit("diameter", "m", diameter);
  visit("count", "1", count);
  visit("heights", "m", heights);
  visit("along", "1", along);
  visit("across", "1", across);
  visit("size", "m", size);
  visit("length", "m", length);
  visit("open_share", "m2/m2", open_share);
  visit("blocked", "m2/m2", blocked);
  visit("plate", "m", plate);
  visit("discharge", "1", discharge);
  visit("patch_from", "1", patch_from);
  visit("patch_to", "1", patch_to);
  visit("pressure", "Pa", pressure);
  visit("held_at", "degC", held_at);
  visit("diffuses", "1", diffuses);
}

/// Without bin, base, lid and openings, which have groups of their own.
void members(Like<Outline> auto& outline, const auto& visit) {
  auto& [mode, box_as_rings, plan_scale, bin, base, lid, openings, wall_thickness, lid_thickness] = outline;
  static_cast<void>(bin), static_cast<void>(base), static_cast<void>(lid), static_cast<void>(openings);
  visit("mode", "", mode);
  visit("box_as_rings", "1", box_as_rings);
  visit("plan_scale", "m2/m2", plan_scale);
  visit("wall_thickness", "m", wall_thickness);
  visit("lid_thickness", "m", lid_thickness);
}

void members(Like<Setting> auto& setting, const auto& visit) {
  auto& [mixing_offset, ergun_factor, uptake_factor] = setting;
  visit("mixing_offset", "1", mixing_offset);
  visit("ergun_factor", "1", ergun_factor);
  visit("uptake_factor", "1", uptake_factor);
}

void members(Like<LooseFacts> auto& loose, const auto& visit) {
  auto& [free_air_space, air_between, moisture, carbon_nitrogen, carbon_nitrogen_available, woodchip_share,
         density] = loose;
  visit("free_air_space", "m3/m3", free_air_space);
  visit("air_between", "m3/m3", air_between);
  visit("moisture", "kg/kg", moisture);
  visit("carbon_nitrogen", "kg/kg", carbon_nitrogen);
  visit("carbon_nitrogen_available", "kg/kg", carbon_nitrogen_available);
  visit("woodchip_share", "m3/m3", woodchip_share);
  visit("density", "kg/m3", density);
}

void members(Like<Balances> auto& balances, const auto& visit) {
  auto& [dry_gas, oxygen, heat, water, dry_mass, clipped_oxygen, largest_flow_residual, largest_mismatch,
         step_temperature, step_oxygen] = balances;
  visit("dry_gas", "1", dry_gas);
  visit("oxygen", "1", oxygen);
  visit("heat", "1", heat);
  visit("water", "1", water);
  visit("dry_mass", "1", dry_mass);
  visit("clipped_oxygen", "mol", clipped_oxygen);
  visit("largest_flow_residual", "1", largest_flow_residual);
  visit("largest_mismatch", "K", largest_mismatch);
  visit("step_temperature", "K", step_temperature);
  visit("step_oxygen", "mol/mol", step_oxygen);
}

/// Without fill, balances, series and the seconds by phase, which have groups of their own.
void members(Like<RunResult> auto& run, const auto& visit) {
  auto& [loose, cells, unknowns, steps, rejected, settled_height, wall_seconds, peak_memory_mb,
         grid_memory_mb, seconds, balances, ended, series, stopped] = run;
  static_cast<void>(loose), static_cast<void>(seconds), static_cast<void>(balances),
      static_cast<void>(series);
  visit("cells", "1", cells);
  visit("unknowns", "1", unknowns);
  visit("steps", "1", steps);
  visit("rejected", "1", rejected);
  visit("settled_height", "m", settled_height);
  visit("wall_seconds", "s", wall_seconds);
  visit("peak_memory", "MB", peak_memory_mb);
  visit("grid_memory", "MB", grid_memory_mb);
  visit("stopped", "1", stopped);
  visit("ended", "", ended);
}

/// Without heat by path and openings, which are lists.
void members(Like<SeriesRow> auto& row, const auto& visit) {
  auto& [time, step, height, mean_temperature, hottest, coldest, aired_share, well_aired_share,
         aired_share_solids, air_in, oxygen_uptake, heat_made, heat_by_path, dry_mass, water, leachate,
         coldest_hours_hot, outside_temperature, base_air_between, top_air_between, base_stress,
         base_permeability, largest_velocity, openings] = row;
  static_cast<void>(heat_by_path), static_cast<void>(openings);
  visit("time", "s", time);
  visit("step", "s", step);
  visit("height", "m", height);
  visit("mean_temperature", "degC", mean_temperature);
  visit("hottest", "degC", hottest);
  visit("coldest", "degC", coldest);
  visit("aired_share", "m3/m3", aired_share);
  visit("well_aired_share", "m3/m3", well_aired_share);
  visit("aired_share_solids", "kg/kg", aired_share_solids);
  visit("air_in", "m3/h", air_in);
  visit("oxygen_uptake", "g/h", oxygen_uptake);
  visit("heat_made", "W", heat_made);
  visit("dry_mass", "kg", dry_mass);
  visit("water", "kg", water);
  visit("leachate", "kg", leachate);
  visit("coldest_hours_hot", "h", coldest_hours_hot);
  visit("outside_temperature", "degC", outside_temperature);
  visit("base_air_between", "m3/m3", base_air_between);
  visit("top_air_between", "m3/m3", top_air_between);
  visit("base_stress", "Pa", base_stress);
  visit("base_permeability", "m2", base_permeability);
  visit("largest_velocity", "mm/s", largest_velocity);
}

/// Without the name.
void members(Like<OpeningFlow> auto& flow, const auto& visit) {
  auto& [name, air_in, air_out, exchange, near_wall, heat] = flow;
  static_cast<void>(name);
  visit("air_in", "m3/h", air_in);
  visit("air_out", "m3/h", air_out);
  visit("exchange", "m3/h", exchange);
  visit("near_wall", "1", near_wall);
  visit("heat", "W", heat);
}

void members(Like<Clock> auto& clock, const auto& visit) {
  auto& [time, last_step, next_step, steps, since_event] = clock;
  visit("time", "s", time);
  visit("last_step", "s", last_step);
  visit("next_step", "s", next_step);
  visit("steps", "1", steps);
  visit("since_event", "1", since_event);
}

/// Without what follows from the rest.
void members(Like<Grid> auto& grid, const auto& visit) {
  auto& [mode, nx, ny, nz, x, y, dz, z, fraction, aperture_x, aperture_y, aperture_z, aperture_top, plan_area,
         patches, beside_wall] = grid;
  static_cast<void>(patches);
  static_cast<void>(beside_wall);
  visit("mode", "", mode);
  visit("nx", "1", nx);
  visit("ny", "1", ny);
  visit("nz", "1", nz);
  visit("x", "m", x);
  visit("y", "m", y);
  visit("dz", "m", dz);
  visit("z", "m", z);
  visit("fraction", "m3/m3", fraction);
  visit("aperture_x", "m2/m2", aperture_x);
  visit("aperture_y", "m2/m2", aperture_y);
  visit("aperture_z", "m2/m2", aperture_z);
  visit("aperture_top", "m2/m2", aperture_top);
  visit("plan_area", "m2", plan_area);
}

}  // namespace layout
}  // namespace updraught
