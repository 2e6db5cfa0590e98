// A case as the part readers leave it: values that are right by themselves, before they are held against each
// other.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "cases/library/feedstock_library.h"
#include "cases/reader/parts/detail.h"
#include "cases/text/source.h"
#include "solver/problem/problem.h"

namespace updraught {

/// How far the Ergun sizes and the uptake of matter reach, as factors on the middle.
struct FactorRange {
  double ergun_low = 1.0;
  double ergun_high = 1.0;
  double uptake_low = 1.0;
  double uptake_high = 1.0;
};

/// An amount in a recipe as written.
struct ParsedPortion {
  std::string what;  ///< as the case calls it
  Feedstock feedstock;
  FactorRange range;
  double activity = 0.02;  ///< of the all-round microbes
  double heat_loving_activity = 0.02;
  double volume = 0.0;  ///< loose (m3); one of volume and mass is given
  double mass = 0.0;    ///< wet (kg)

  double loose_volume() const { return volume > 0.0 ? volume : mass / feedstock.loose_density; }
  double wet_mass() const { return mass > 0.0 ? mass : volume * feedstock.loose_density; }
};

/// One lot of material.
struct ParsedBatch {
  std::string name;
  std::vector<ParsedPortion> portions;
  std::optional<double> depth;     ///< m
  std::optional<double> activity;  ///< of both groups, 0..1; else the mean of what the feedstocks bring
};

/// What goes on top later, and when.
struct ParsedRefill {
  ParsedBatch batch;
  std::vector<double> times;          ///< s
  std::optional<double> temperature;  ///< degC; empty: as warm as the filling at the start
};

/// What the part readers found.
struct ParsedCase {
  Problem problem;
  std::optional<Mode> mode;
  std::optional<Detail> detail;
  std::optional<std::array<int, 3>> cells;  ///< nx, ny, nz
  bool cells_in_plane = false;              ///< two counts were given: rings or a slice
  bool even_cells = false;
  std::optional<double> depth;           ///< m
  std::optional<double> woodchip_share;  ///< chip buckets over all buckets (0..1), whatever the recipe says
  bool packing_laid = false;             ///< how materials pack was laid over the case
  std::vector<ParsedBatch> batches;
  std::vector<ParsedRefill> refills;
  std::vector<Table> opening_tables;  ///< of problem.openings, for messages
  bool top_sealed = false;            ///< the lid lies on the bed: no air passes
  bool base_given = false;
  bool film_given = false;         ///< the case itself says how walls lose heat outside, whatever the wind
  double temperature_shift = 0.0;  ///< of the air outside, already in problem.outside (K)
  bool lane_asked = false;         ///< the case itself says that the wall lane is computed
  std::vector<std::string> notes;
  FeedstockLibrary library;  ///< built-in materials, then those of the case
};

/// Part readers. Each takes its keys from the top table, checks what it can by itself and fills its part.
void read_bin(const Table& top, ParsedCase& parsed_case);
void read_envelope(const Table& top, ParsedCase& parsed_case);
void read_openings(const Table& top, ParsedCase& parsed_case);
void read_recipe(const Table& top, ParsedCase& parsed_case);
/// Comes after read_recipe, of which a refill may be more.
void read_refills(const Table& top, ParsedCase& parsed_case);
void read_weather(const Table& top, ParsedCase& parsed_case);
/// Comes after read_weather: water is as cold as the air.
void read_waterings(const Table& top, ParsedCase& parsed_case);
void read_prescribed(const Table& top, ParsedCase& parsed_case);
void read_control(const Table& top, ParsedCase& parsed_case);
/// Comes after read_weather: a day's wave asks for shorter steps.
void read_longest_step(const Table& top, ParsedCase& parsed_case);

/// Turns the recipe into batches of masses; with a `woodchip_share`, mixes in chips.
void fill_problem(const Table& top, ParsedCase& parsed_case);

/// The portions of a list `fill`; a mistake for each that is wrong, and where all hold nothing.
std::vector<ParsedPortion> read_portions(const Value& fill, ParsedCase& parsed_case);
/// How far the uncertain inputs of a feedstock reach.
FactorRange range_of(const LibraryEntry& entry);
/// Depth of the bed at the start (m): as asked, as the layers add up to, or 0 where amounts decide.
double asked_depth(const ParsedCase& parsed_case);

}  // namespace updraught
