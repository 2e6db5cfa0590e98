// The question in plain numbers: all that a computation needs to know, in SI units. The case reader fills it;
// any other program may fill it as well. Temperatures in degC, pressures in Pa.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "mesh/grid.h"
#include "solver/material/feedstock.h"
#include "solver/material/mixture.h"
#include "solver/material/moist_air.h"
#include "solver/material/permeability.h"

namespace updraught {

/// Shape of the bin or of the piece of a heap that is computed.
struct BinShape {
  enum class Kind { box, round };
  Kind kind = Kind::box;
  double width = 0.9;   ///< x extent (m); diameter of a round bin
  double length = 0.9;  ///< y extent (m); unused for a round bin; `across` of a slice
  double height = 1.0;  ///< of the bin (m); the bed may be lower
};

/// How finely space is counted.
struct Cells {
  int nx = 24;
  int ny = 1;
  int nz = 40;
  bool uniform = false;  ///< equal cells (textbook cases); else finer towards walls, floor and top
};

/// What a board is made of, as far as cautions need to know.
enum class BoardKind { other, wood, foam, straw, plastic, metal, mineral };

/// One layer of a wall, floor or lid.
struct WallLayer {
  std::string material;  ///< as the case calls it
  BoardKind kind = BoardKind::other;
  double thickness = 0.0;     ///< m
  double conductivity = 0.0;  ///< W/(m K)
  bool operator==(const WallLayer&) const = default;
};

/// What a boundary does to heat.
struct HeatBoundary {
  enum class Kind { insulated, layers, held_at, flux, film };
  Kind kind = Kind::insulated;
  double resistance = 0.0;        ///< layers: solid layers without surface films (m2 K/W)
  double temperature = 0.0;       ///< held_at, film: the far temperature (degC)
  bool to_outside = true;         ///< layers, film: the far temperature is that of the surroundings
  double film = 0.0;              ///< film: coefficient (W/(m2 K))
  double flux = 0.0;              ///< flux: into the bed (W/m2)
  std::vector<WallLayer> layers;  ///< layers: from the bed outward; `resistance` is their sum

  double thickness() const;  ///< of all layers (m)
  bool operator==(const HeatBoundary&) const = default;
};

/// What lies under the bed.
struct Base {
  enum class Kind { raised, closed, ground };
  Kind kind = Kind::ground;
  double height = 0.1;        ///< raised: height of the space under the floor (m)
  double inlet_area = 0.0;    ///< raised: free area from the space to the outside (m2); 0: wide open
  double inlet_height = 0.0;  ///< raised: height of the inlet slots themselves (m)
  double ground_conductivity =
      1.75;  ///< ground, closed: of the soil (W/(m K)); EN ISO 13370 gives 1.5 to 2.0
};

/// What lies over the bed.
struct Lid {
  /// none: the bed's own top is its upper boundary, open to air where an opening `top` says so and sealed
  /// elsewhere; the heat boundary `lid_heat` acts on it unless it is `layers` without resistance (then the
  /// film law of a free surface).
  enum class Kind { none, closed };
  Kind kind = Kind::closed;
  bool drip_back = true;  ///< what condenses under the lid falls back on the bed (else it drains outside)
};

/// A way in or out for air.
struct Opening {
  enum class Where { side, base, lid, top };  ///< top: the bed's own surface (only without a lid)
  enum class Kind { open, mesh, slots, hole, holes, gap };
  std::string name;
  Where where = Where::base;
  Kind kind = Kind::open;
  Side side = Side::right;      ///< where == side
  bool all_sides = false;       ///< where == side: spread evenly over all walls
  double diameter = 0.0;        ///< hole, holes (m)
  int count = 1;                ///< hole, holes
  std::vector<double> heights;  ///< rows of holes, slots on a side: heights above the floor (m)
  double along = 0.5;       ///< hole: position along its wall, or x on the base (share of its length 0..1)
  double across = 0.5;      ///< hole in the base: y position (share)
  double size = 0.0;        ///< slots, gap: width of the slit (m)
  double length = 0.0;      ///< slots, gap: total length of the slit (m); 0: all round
  double open_share = 1.0;  ///< mesh: open area per area; holes behind mesh: of the mesh over them
  double blocked = 0.0;     ///< clogged share of the open area
  std::optional<double> plate;  ///< thickness of the board that the air crosses (m); empty: `plate_of` tells
  double discharge = 0.6;       ///< Cd of the orifice law; 0: no orifice loss
  double patch_from = 0.0;      ///< open, mesh on base or top: covered share of the width, from
  double patch_to = 1.0;        ///< ... to
  double pressure = 0.0;        ///< imposed over the outside hydrostatic pressure (Pa)
  std::optional<double> held_at;  ///< temperature of the bed's face at this opening (degC), on outflow too
  bool diffuses = true;           ///< oxygen, heat and vapour diffuse through it
};

/// Weather that acts on the bin.
struct Surroundings {
  double temperature = 10.0;              ///< mean (degC)
  double daily_swing = 0.0;               ///< half the difference of day and night (K); warmest at 15 h
  std::vector<double> table_time;         ///< s, rising; with table_temperature replaces mean and swing
  std::vector<double> table_temperature;  ///< degC
  double humidity = 0.75;                 ///< relative, 0..1
  double pressure = 101325.0;             ///< of the site (Pa)
  double ground_temperature = 10.0;       ///< degC
  double start_hour = 12.0;               ///< clock time at the start (h)
  double wind = 0.0;  ///< steady, at the bin's height (m/s): presses on openings, and is in `outer_film`
  Side wind_from = Side::left;  ///< the wall that it blows onto, where there are sides
};

/// How the bed uses oxygen where it is prescribed.
struct PrescribedUptake {
  enum class Law { none, constant, first_order, monod };
  Law law = Law::none;
  double rate = 0.0;   ///< constant, monod: mol/(m3 s); first_order: 1/s on the moles in the gas
  double half = 0.01;  ///< monod: mole fraction
};

/// Properties that are given instead of computed. Empty: computed.
struct Prescribed {
  struct ByHeight {
    std::vector<double> height;  ///< m above the floor, rising; one entry: constant
    std::vector<double> value;
    double at(double z) const;  ///< linear between entries, constant beyond
  };
  std::optional<ByHeight> permeability;  ///< m2
  std::optional<double> inertia;         ///< 1/m
  std::optional<double> porosity;        ///< both air spaces
  std::optional<double> density;         ///< wet bulk density (kg/m3)
  std::optional<double> conductivity;    ///< W/(m K)
  std::optional<double> heat_capacity;   ///< of the bed per wet mass (J/(kg K))
  std::optional<double> diffusivity;     ///< effective, of all gases in the bed (m2/s)
  std::optional<ByHeight> heat;          ///< W/m3, along `heat_along`
  enum class Along { height, width, length };
  Along heat_along =
      Along::height;  ///< width not in rings, length in whole mode alone; m from the left, the front
  std::optional<PrescribedUptake> uptake;
  std::optional<double> volume_flow;  ///< not computed: upward air velocity through the bed (m/s)
};

/// Temperatures at the start.
struct Initial {
  enum class Kind { uniform, linear, table };
  Kind kind = Kind::uniform;
  double temperature = 10.0;  ///< uniform (degC)
  double bottom = 10.0;       ///< linear
  double top = 10.0;
  double ripple = 0.0;            ///< linear: amplitude of a convection roll added to it (K)
  double rolls = 1.0;             ///< linear: number of half waves over the width
  double rolls_lengthwise = 0.0;  ///< linear: number of half waves over the length (whole mode)
  Prescribed::ByHeight table;     ///< height, degC
};

/// Constants of the microbes (theory 7.1 to 7.5).
struct MicrobeConstants {
  double growth = 4.0 / 86400.0;      ///< 1/s at the optimum; our choice
  double oxygen_half = 0.01;          ///< mole fraction dry; our choice, range 0.001-0.02
  double heat_per_oxygen = 14.0e6;    ///< J/kg O2, liquid water made; handbook range 13.6-14.4e6
  double respiratory_quotient = 1.0;  ///< CO2 made per O2 used (mol/mol)
  double rim = 0.003;  ///< breathing rim in air at the respirometer's rate (m); our choice 0.0015-0.006
  double respirometer_moisture = 0.60;
  bool product_of_responses = true;  ///< else the smallest response rules
};

/// An input that is known within a range only.
struct UncertainInput {
  /// triangular: likeliest at the middle, straight down to both ends; log_triangular: the same on the
  /// logarithm.
  enum class Distribution { triangular, log_triangular };
  std::string key;      ///< what a case calls it, lists counted from 1: "laws.ergun_factor"
  std::string unit;     ///< of the three numbers, as a case writes it; empty: they are pure numbers
  double low = 0.0;     ///< log_triangular: above 0
  double middle = 0.0;  ///< with which the case is computed; from low to high
  double high = 0.0;
  Distribution distribution = Distribution::triangular;
  std::string source;      ///< of the range, in words
  std::string words = {};  ///< what it is, for a sentence: "how tightly the waste packs"
  std::string test = {};   ///< how a person finds out, a clause; empty where there is no easy way
};

/// For tests alone, never from a case: a share of what comes in and is made leaves the bed unbooked.
struct PlantedLeak {
  enum class Of { dry_gas, oxygen, heat, water, dry_mass };
  Of of = Of::dry_gas;
  double share = 1e-6;  ///< of the turnover of each step
};

/// What is done to the bed by hand at a moment.
struct Event {
  /// turn: all of it is mixed and settles anew, its pores fill with outside air; fill: more goes on top;
  /// water: water is poured on top
  enum class Kind { turn, fill, water };
  Kind kind = Kind::turn;
  double time = 0.0;         ///< after the start (s)
  int refill = 0;            ///< fill: what goes on top, its place in Problem::refills
  double temperature = 0.0;  ///< fill, water: of what goes on top (degC)
  double water = 0.0;        ///< water: how much (kg)
};

/// All of it.
struct Problem {
  std::string title;
  std::string design;     ///< what it is called beside others; empty: by the case's name
  double told_day = 0.0;  ///< that figures and places speak of (d); 0: the one that explains most
  Mode mode = Mode::whole;
  bool box_as_rings =
      false;  ///< a box in a hurry, as rings (theory 10.3); extensive results are scaled by plan area
  bool half_of_box =
      false;                ///< the front half of a whole bed is computed, the other mirrors it (theory 10.4)
  double plan_scale = 1.0;  ///< true plan area over computed plan area
  double wall_scale = 1.0;  ///< wall per plan area of the true bed over that of the computed one
  Cells cells;
  BinShape bin;
  std::array<HeatBoundary, 4> sides{};  ///< by Side
  HeatBoundary floor;
  HeatBoundary lid_heat;
  double outer_film = 9.13;     ///< outside walls, lid and raised floor (W/(m2 K)): `film_in_wind`, still air
  double wall_friction = 0.4;   ///< tan(delta); none acts where there is a wall gap
  double lateral_ratio = 0.45;  ///< K
  double wall_gap = 0.0;        ///< gap between bed and wall (m)
  bool wall_lane = true;        ///< looser packing next to the wall is computed
  Base base;
  Lid lid;
  std::vector<Opening> openings;
  Surroundings outside;
  std::optional<ConstantAir> constant_air;
  std::vector<Batch> batches;  ///< from the bottom up; empty when all is prescribed
  std::vector<Batch> refills;  ///< what goes on top later, by masses, at events of the kind `fill`
  double depth = 0.0;          ///< bed depth where no batch says it (m)
  Prescribed prescribed;
  Initial initial;
  DiffusionLaw diffusion = DiffusionLaw::papendick_campbell;
  MicrobeConstants microbes;
  bool microbes_live = true;  ///< else nothing in the bed breathes or rots
  bool settles = true;
  bool freeze_flow = false;                ///< the air does not move (diffusion problems)
  std::optional<double> hold_temperature;  ///< the whole bed is held at it (degC)
  LawFactors laws;
  std::vector<UncertainInput> uncertain;    ///< what of all this is known within ranges only
  std::vector<Event> events;                ///< in the order of their times, within the duration
  double duration = 14.0 * 86400.0;         ///< s
  bool until_settled = false;               ///< stop when nothing changes any more
  double picture_every = 86400.0;           ///< s between pictures of the fields
  double longest_step = 14400.0;            ///< s
  double step_share = 1.0;                  ///< of the length that the control of steps would choose
  int threads = 0;                          ///< 0: all cores
  std::optional<PlantedLeak> planted_leak;  ///< empty but in tests of the balances
};

}  // namespace updraught
