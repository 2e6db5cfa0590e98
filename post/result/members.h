// The lists of members of what a result consists of, beside the Problem (problem_members.h).
#pragma once

#include "post/result/member_list.h"
#include "post/result/result.h"

namespace updraught::layout {

template <>
inline constexpr auto list_of<LooseFacts> = all_members(
    member("free_air_space", "m3/m3", &LooseFacts::free_air_space),
    member("air_between", "m3/m3", &LooseFacts::air_between),
    member("moisture", "kg/kg", &LooseFacts::moisture), member("cn", "kg/kg", &LooseFacts::carbon_nitrogen),
    member("cn_available", "kg/kg", &LooseFacts::carbon_nitrogen_available),
    member("woodchip_share", "m3/m3", &LooseFacts::woodchip_share),
    member("density", "kg/m3", &LooseFacts::density));

template <>
inline constexpr auto list_of<Balances> = all_members(
    member("dry_gas", "1", &Balances::dry_gas), member("oxygen", "1", &Balances::oxygen),
    member("heat", "1", &Balances::heat), member("water", "1", &Balances::water),
    member("dry_mass", "1", &Balances::dry_mass), member("clipped_oxygen", "mol", &Balances::clipped_oxygen),
    member("largest_flow_residual", "1", &Balances::largest_flow_residual),
    member("largest_mismatch", "K", &Balances::largest_mismatch),
    member("step_temperature", "K", &Balances::step_temperature),
    member("step_oxygen", "mol/mol", &Balances::step_oxygen));

/// Fill, balances, series and the seconds by phase have groups of their own.
template <>
inline constexpr auto list_of<RunResult> = all_members(
    apart(&RunResult::loose), member("cells", "1", &RunResult::cells),
    member("unknowns", "1", &RunResult::unknowns), member("steps", "1", &RunResult::steps),
    member("rejected", "1", &RunResult::rejected), member("settled_height", "m", &RunResult::settled_height),
    member("wall_seconds", "s", &RunResult::wall_seconds),
    member("peak_memory", "MB", &RunResult::peak_memory_mb),
    member("grid_memory", "MB", &RunResult::grid_memory_mb), apart(&RunResult::seconds),
    apart(&RunResult::balances), member("left_out", "s", &RunResult::left_out),
    member("ended", "", &RunResult::ended), apart(&RunResult::series),
    member("stopped", "1", &RunResult::stopped));

/// Heat by path and openings are lists. Which opening a flow is of stands once for all rows.
template <>
inline constexpr auto list_of<SeriesRow> = all_members(
    member("time", "s", &SeriesRow::time), member("step", "s", &SeriesRow::step),
    member("height", "m", &SeriesRow::height),
    member("mean_temperature", "degC", &SeriesRow::mean_temperature),
    member("hottest", "degC", &SeriesRow::hottest), member("coldest", "degC", &SeriesRow::coldest),
    member("aired_share", "m3/m3", &SeriesRow::aired_share),
    member("well_aired_share", "m3/m3", &SeriesRow::well_aired_share),
    member("aired_share_solids", "kg/kg", &SeriesRow::aired_share_solids),
    member("air_in", "m3/h", &SeriesRow::air_in), member("oxygen_uptake", "g/h", &SeriesRow::oxygen_uptake),
    member("heat_made", "W", &SeriesRow::heat_made), apart(&SeriesRow::heat_by_path),
    member("dry_mass", "kg", &SeriesRow::dry_mass), member("water", "kg", &SeriesRow::water),
    member("leachate", "kg", &SeriesRow::leachate), member("filled", "kg", &SeriesRow::filled),
    member("filled_dry", "kg", &SeriesRow::filled_dry),
    member("coldest_hours_hot", "h", &SeriesRow::coldest_hours_hot),
    member("outside_temperature", "degC", &SeriesRow::outside_temperature),
    member("base_air_between", "m3/m3", &SeriesRow::base_air_between),
    member("top_air_between", "m3/m3", &SeriesRow::top_air_between),
    member("base_stress", "Pa", &SeriesRow::base_stress),
    member("base_permeability", "m2", &SeriesRow::base_permeability),
    member("largest_velocity", "mm/s", &SeriesRow::largest_velocity), apart(&SeriesRow::openings));

template <>
inline constexpr auto list_of<OpeningFlow> = all_members(apart(&OpeningFlow::name),
                                                         member("air_in", "m3/h", &OpeningFlow::air_in),
                                                         member("air_out", "m3/h", &OpeningFlow::air_out),
                                                         member("exchange", "m3/h", &OpeningFlow::exchange),
                                                         member("near_wall", "1", &OpeningFlow::near_wall),
                                                         member("heat", "W", &OpeningFlow::heat),
                                                         apart(&OpeningFlow::opening));

template <>
inline constexpr auto list_of<Clock> = all_members(member("time", "s", &Clock::time),
                                                   member("last_step", "s", &Clock::last_step),
                                                   member("next_step", "s", &Clock::next_step),
                                                   member("steps", "1", &Clock::steps),
                                                   member("since_event", "1", &Clock::since_event));

/// Without what follows from the rest. What is stored is a whole bed, also where half of it was computed.
template <>
inline constexpr auto list_of<Grid> = all_members(
    member("mode", "", &Grid::mode), apart(&Grid::mirrored), member("nx", "1", &Grid::nx),
    member("ny", "1", &Grid::ny), member("nz", "1", &Grid::nz), member("x", "m", &Grid::x),
    member("y", "m", &Grid::y), member("dz", "m", &Grid::dz), member("z", "m", &Grid::z),
    member("fraction", "m3/m3", &Grid::fraction), member("aperture_x", "m2/m2", &Grid::aperture_x),
    member("aperture_y", "m2/m2", &Grid::aperture_y), member("aperture_z", "m2/m2", &Grid::aperture_z),
    member("aperture_top", "m2/m2", &Grid::aperture_top), member("plan_area", "m2", &Grid::plan_area),
    apart(&Grid::patches), apart(&Grid::beside_wall));

template <>
inline constexpr auto list_of<Course> = all_members(
    member("duration", "s", &Course::duration), member("going", "s", &Course::going),
    member("hot", "s", &Course::hot), member("mean_going", "s", &Course::mean_going),
    member("hours_hot", "h", &Course::hours_hot), member("hours_mean_going", "h", &Course::hours_mean_going),
    member("hours_coldest_hot", "h", &Course::hours_coldest_hot), member("hottest", "degC", &Course::hottest),
    member("hottest_at", "s", &Course::hottest_at),
    member("mean_temperature", "degC", &Course::mean_temperature),
    member("airless_share", "1", &Course::airless_share),
    member("airless_since_going", "1", &Course::airless_since_going), member("lost", "s", &Course::lost),
    member("regained", "s", &Course::regained), member("died", "s", &Course::died),
    member("worst_share", "m3/m3", &Course::worst_share), member("worst_at", "s", &Course::worst_at),
    member("mean_air_in", "m3/h", &Course::mean_air_in), member("height_at_end", "m", &Course::height_at_end),
    member("moisture_at_end", "kg/kg", &Course::moisture_at_end),
    member("dry_mass_lost", "kg/kg", &Course::dry_mass_lost));

template <>
inline constexpr auto list_of<MoreChips> = all_members(
    member("share", "m3/m3", &MoreChips::share), member("other_share", "m3/m3", &MoreChips::other_share),
    member("more_buckets", "1", &MoreChips::more_buckets),
    member("airless_share", "1", &MoreChips::airless_share),
    member("other_airless_share", "1", &MoreChips::other_airless_share));

/// The plausible beds are columns of their own.
template <>
inline constexpr auto list_of<QuickRuns> = all_members(member("seconds", "s", &QuickRuns::seconds),
                                                       member("asked", "", &QuickRuns::asked),
                                                       apart(&QuickRuns::tried),
                                                       member("more_chips", "", &QuickRuns::more_chips));

}  // namespace updraught::layout
