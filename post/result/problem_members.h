// The lists of members of a Problem and all that it is made of, and the words for its choices.
#pragma once

#include <array>

#include "post/result/member_list.h"
#include "solver/problem/problem.h"

namespace updraught::layout {

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
constexpr auto words(BoardKind /*unused*/) {
  return std::array{"other", "wood", "foam", "straw", "plastic", "metal", "mineral"};
}
constexpr auto words(HeatBoundary::Kind /*unused*/) {
  return std::array{"insulated", "layers", "held_at", "flux", "film"};
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
constexpr auto words(PrescribedUptake::Law /*unused*/) {
  return std::array{"none", "constant", "first_order", "monod"};
}
constexpr auto words(Prescribed::Along /*unused*/) {
  return std::array{"height", "width", "length"};
}
constexpr auto words(Initial::Kind /*unused*/) {
  return std::array{"uniform", "linear", "table"};
}
constexpr auto words(DiffusionLaw /*unused*/) {
  return std::array{"papendick_campbell", "millington_quirk_1960", "millington_quirk_1961", "penman",
                    "moldrup"};
}
constexpr auto words(PlantedLeak::Of /*unused*/) {
  return std::array{"dry_gas", "oxygen", "heat", "water", "dry_mass"};
}
constexpr auto words(UncertainInput::Distribution /*unused*/) {
  return std::array{"triangular", "log_triangular"};
}

constexpr auto words(Event::Kind /*unused*/) {
  return std::array{"turn", "fill", "water"};
}

template <>
inline constexpr auto list_of<BinShape> = all_members(member("kind", "", &BinShape::kind),
                                                      member("width", "m", &BinShape::width),
                                                      member("length", "m", &BinShape::length),
                                                      member("height", "m", &BinShape::height));

template <>
inline constexpr auto list_of<Cells> = all_members(member("nx", "1", &Cells::nx),
                                                   member("ny", "1", &Cells::ny),
                                                   member("nz", "1", &Cells::nz),
                                                   member("uniform", "1", &Cells::uniform));

template <>
inline constexpr auto list_of<WallLayer> = all_members(member("material", "", &WallLayer::material),
                                                       member("kind", "", &WallLayer::kind),
                                                       member("thickness", "m", &WallLayer::thickness),
                                                       member("conductivity", "W/(m K)",
                                                              &WallLayer::conductivity));

template <>
inline constexpr auto list_of<HeatBoundary> = all_members(
    member("kind", "", &HeatBoundary::kind), member("resistance", "m2 K/W", &HeatBoundary::resistance),
    member("temperature", "degC", &HeatBoundary::temperature),
    member("to_outside", "1", &HeatBoundary::to_outside), member("film", "W/(m2 K)", &HeatBoundary::film),
    member("flux", "W/m2", &HeatBoundary::flux), member("layers", "", &HeatBoundary::layers));

template <>
inline constexpr auto list_of<Base> = all_members(
    member("kind", "", &Base::kind), member("height", "m", &Base::height),
    member("inlet_area", "m2", &Base::inlet_area), member("inlet_height", "m", &Base::inlet_height),
    member("ground_conductivity", "W/(m K)", &Base::ground_conductivity));

template <>
inline constexpr auto list_of<Lid> = all_members(member("kind", "", &Lid::kind),
                                                 member("drip_back", "1", &Lid::drip_back));

template <>
inline constexpr auto list_of<Opening> = all_members(
    member("name", "", &Opening::name), member("where", "", &Opening::where),
    member("kind", "", &Opening::kind), member("side", "", &Opening::side),
    member("all_sides", "1", &Opening::all_sides), member("diameter", "m", &Opening::diameter),
    member("count", "1", &Opening::count), member("heights", "m", &Opening::heights),
    member("along", "1", &Opening::along), member("across", "1", &Opening::across),
    member("size", "m", &Opening::size), member("length", "m", &Opening::length),
    member("open_share", "m2/m2", &Opening::open_share), member("blocked", "m2/m2", &Opening::blocked),
    member("plate", "m", &Opening::plate), member("discharge", "1", &Opening::discharge),
    member("patch_from", "1", &Opening::patch_from), member("patch_to", "1", &Opening::patch_to),
    member("pressure", "Pa", &Opening::pressure), member("held_at", "degC", &Opening::held_at),
    member("diffuses", "1", &Opening::diffuses));

template <>
inline constexpr auto list_of<Surroundings> = all_members(
    member("temperature", "degC", &Surroundings::temperature),
    member("daily_swing", "K", &Surroundings::daily_swing),
    member("table_time", "s", &Surroundings::table_time),
    member("table_temperature", "degC", &Surroundings::table_temperature),
    member("humidity", "1", &Surroundings::humidity), member("pressure", "Pa", &Surroundings::pressure),
    member("ground_temperature", "degC", &Surroundings::ground_temperature),
    member("start_hour", "h", &Surroundings::start_hour), member("wind", "m/s", &Surroundings::wind),
    member("wind_from", "", &Surroundings::wind_from));

template <>
inline constexpr auto list_of<PrescribedUptake> = all_members(
    member("law", "", &PrescribedUptake::law), member("rate", "mol/(m3 s) or 1/s", &PrescribedUptake::rate),
    member("half", "mol/mol", &PrescribedUptake::half));

/// The unit of the values is that of the quantity that is given so.
template <>
inline constexpr auto list_of<Prescribed::ByHeight> =
    all_members(member("height", "m", &Prescribed::ByHeight::height),
                member("value", "SI", &Prescribed::ByHeight::value));

template <>
inline constexpr auto list_of<Prescribed> = all_members(
    member("permeability", "m2", &Prescribed::permeability), member("inertia", "1/m", &Prescribed::inertia),
    member("porosity", "m3/m3", &Prescribed::porosity), member("density", "kg/m3", &Prescribed::density),
    member("conductivity", "W/(m K)", &Prescribed::conductivity),
    member("heat_capacity", "J/(kg K)", &Prescribed::heat_capacity),
    member("diffusivity", "m2/s", &Prescribed::diffusivity), member("heat", "W/m3", &Prescribed::heat),
    member("heat_along", "", &Prescribed::heat_along), member("uptake", "", &Prescribed::uptake),
    member("volume_flow", "m/s", &Prescribed::volume_flow));

template <>
inline constexpr auto list_of<Initial> = all_members(
    member("kind", "", &Initial::kind), member("temperature", "degC", &Initial::temperature),
    member("bottom", "degC", &Initial::bottom), member("top", "degC", &Initial::top),
    member("ripple", "K", &Initial::ripple), member("rolls", "1", &Initial::rolls),
    member("rolls_lengthwise", "1", &Initial::rolls_lengthwise), member("table", "", &Initial::table));

template <>
inline constexpr auto list_of<MicrobeConstants> =
    all_members(member("growth", "1/s", &MicrobeConstants::growth),
                member("oxygen_half", "mol/mol", &MicrobeConstants::oxygen_half),
                member("heat_per_oxygen", "J/kg", &MicrobeConstants::heat_per_oxygen),
                member("respiratory_quotient", "mol/mol", &MicrobeConstants::respiratory_quotient),
                member("rim", "m", &MicrobeConstants::rim),
                member("respirometer_moisture", "kg/kg", &MicrobeConstants::respirometer_moisture),
                member("product_of_responses", "1", &MicrobeConstants::product_of_responses));

template <>
inline constexpr auto list_of<PlantedLeak> = all_members(member("of", "", &PlantedLeak::of),
                                                         member("share", "1", &PlantedLeak::share));

template <>
inline constexpr auto list_of<ConstantAir> = all_members(
    member("density", "kg/m3", &ConstantAir::density), member("viscosity", "Pa s", &ConstantAir::viscosity),
    member("heat_capacity", "J/(kg K)", &ConstantAir::heat_capacity),
    member("expansion", "1/K", &ConstantAir::expansion), member("at", "degC", &ConstantAir::at));

template <>
inline constexpr auto list_of<Pool> = all_members(member("share", "kg/kg", &Pool::share),
                                                  member("rate", "1/s", &Pool::rate),
                                                  member("demand", "kg/kg", &Pool::demand));

template <>
inline constexpr auto list_of<Nature> = all_members(member("food", "1", &Nature::food),
                                                    member("cooked", "1", &Nature::cooked),
                                                    member("manure", "1", &Nature::manure),
                                                    member("weedkiller", "1", &Nature::weedkiller),
                                                    member("sludge", "1", &Nature::sludge));

template <>
inline constexpr auto list_of<Feedstock> = all_members(
    member("name", "", &Feedstock::name), member("nature", "", &Feedstock::nature),
    member("chips", "1", &Feedstock::chips), member("moisture", "kg/kg", &Feedstock::moisture),
    member("volatile_solids", "kg/kg", &Feedstock::volatile_solids),
    member("carbon", "kg/kg", &Feedstock::carbon), member("nitrogen", "kg/kg", &Feedstock::nitrogen),
    member("available_carbon", "kg/kg", &Feedstock::available_carbon),
    member("loose_density", "kg/m3", &Feedstock::loose_density),
    member("piece_size", "m", &Feedstock::piece_size), member("ergun_size", "m", &Feedstock::ergun_size),
    member("water_capacity", "kg/kg", &Feedstock::water_capacity),
    member("basic_density", "kg/m3", &Feedstock::basic_density),
    member("inner_air", "m3/m3", &Feedstock::inner_air),
    member("loose_porosity", "m3/m3", &Feedstock::loose_porosity),
    member("least_porosity", "m3/m3", &Feedstock::least_porosity),
    member("softness_stress", "Pa", &Feedstock::softness_stress),
    member("rotted_stiffness", "1", &Feedstock::rotted_stiffness), member("mixing", "1", &Feedstock::mixing),
    member("mixing_rotted", "1", &Feedstock::mixing_rotted), member("pools", "", &Feedstock::pools));

template <>
inline constexpr auto list_of<Portion> = all_members(member("feedstock", "", &Portion::feedstock),
                                                     member("mass", "kg", &Portion::mass));

template <>
inline constexpr auto list_of<Batch> =
    all_members(member("name", "", &Batch::name), member("portions", "", &Batch::portions),
                member("depth", "m", &Batch::depth), member("activity", "1", &Batch::activity),
                member("heat_loving_activity", "1", &Batch::heat_loving_activity));

template <>
inline constexpr auto list_of<LawFactors> =
    all_members(member("packing_excess_shift", "1", &LawFactors::packing_excess_shift),
                member("ergun_factor", "1", &LawFactors::ergun_factor),
                member("uptake_factor", "1", &LawFactors::uptake_factor));

template <>
inline constexpr auto list_of<Event> = all_members(member("kind", "", &Event::kind),
                                                   member("time", "s", &Event::time),
                                                   member("refill", "1", &Event::refill),
                                                   member("temperature", "degC", &Event::temperature),
                                                   member("water", "kg", &Event::water));

template <>
inline constexpr auto list_of<UncertainInput> = all_members(
    member("key", "", &UncertainInput::key), member("unit", "", &UncertainInput::unit),
    member("low", "", &UncertainInput::low), member("middle", "", &UncertainInput::middle),
    member("high", "", &UncertainInput::high), member("distribution", "", &UncertainInput::distribution),
    member("source", "", &UncertainInput::source), member("words", "", &UncertainInput::words),
    member("test", "", &UncertainInput::test));

template <>
inline constexpr auto list_of<Problem> = all_members(
    member("title", "", &Problem::title), member("design", "", &Problem::design),
    member("told_day", "d", &Problem::told_day), member("mode", "", &Problem::mode),
    member("box_as_rings", "1", &Problem::box_as_rings), apart(&Problem::half_of_box),
    member("plan_scale", "m2/m2", &Problem::plan_scale), member("wall_scale", "1", &Problem::wall_scale),
    member("cells", "", &Problem::cells), member("bin", "", &Problem::bin),
    member("sides", "", &Problem::sides), member("floor", "", &Problem::floor),
    member("lid_heat", "", &Problem::lid_heat), member("outer_film", "W/(m2 K)", &Problem::outer_film),
    member("wall_friction", "1", &Problem::wall_friction),
    member("lateral_ratio", "1", &Problem::lateral_ratio), member("wall_gap", "m", &Problem::wall_gap),
    member("wall_lane", "1", &Problem::wall_lane), member("base", "", &Problem::base),
    member("lid", "", &Problem::lid), member("openings", "", &Problem::openings),
    member("outside", "", &Problem::outside), member("constant_air", "", &Problem::constant_air),
    member("batches", "", &Problem::batches), member("refills", "", &Problem::refills),
    member("depth", "m", &Problem::depth), member("prescribed", "", &Problem::prescribed),
    member("initial", "", &Problem::initial), member("diffusion", "", &Problem::diffusion),
    member("microbes", "", &Problem::microbes), member("microbes_live", "1", &Problem::microbes_live),
    member("settles", "1", &Problem::settles), member("freeze_flow", "1", &Problem::freeze_flow),
    member("hold_temperature", "degC", &Problem::hold_temperature), member("laws", "", &Problem::laws),
    member("uncertain", "", &Problem::uncertain), member("events", "", &Problem::events),
    member("duration", "s", &Problem::duration), member("until_settled", "1", &Problem::until_settled),
    member("picture_every", "s", &Problem::picture_every),
    member("longest_step", "s", &Problem::longest_step), member("step_share", "1", &Problem::step_share),
    member("threads", "1", &Problem::threads), member("planted_leak", "", &Problem::planted_leak));

}  // namespace updraught::layout
