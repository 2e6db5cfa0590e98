// A case as the part readers leave it: values that are right by themselves, before they are held against each
// other.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "cases/library/feedstock_library.h"
#include "cases/reader/read_case.h"
#include "cases/text/source.h"

namespace updraught {

/// How far the Ergun sizes and the uptake of matter reach, as factors on the middle.
struct FactorRange {
  double ergun_low = 1.0;
  double ergun_high = 1.0;
  double uptake_low = 1.0;
  double uptake_high = 1.0;
};

/// An amount in a recipe as written.
struct DraftPortion {
  std::string what;  ///< as the case calls it
  Feedstock feedstock;
  FactorRange range;
  double activity = 0.02;
  double volume = 0.0;  ///< loose (m3); one of volume and mass is given
  double mass = 0.0;    ///< wet (kg)

  double loose_volume() const { return volume > 0.0 ? volume : mass / feedstock.loose_density; }
  double wet_mass() const { return mass > 0.0 ? mass : volume * feedstock.loose_density; }
};

/// One lot of material.
struct DraftBatch {
  std::string name;
  std::vector<DraftPortion> portions;
  std::optional<double> depth;     ///< m
  std::optional<double> activity;  ///< 0..1; else the mean of what the feedstocks bring
};

/// What the part readers found.
struct Draft {
  Problem problem;
  std::optional<Mode> mode;
  std::optional<Detail> detail;
  std::optional<std::array<int, 3>> cells;  ///< nx, ny, nz
  bool cells_in_plane = false;              ///< two counts were given: rings or a slice
  bool even_cells = false;
  std::optional<double> depth;           ///< m
  std::optional<double> woodchip_share;  ///< chip buckets over all buckets (0..1), whatever the recipe says
  bool packing_laid = false;             ///< how materials pack was laid over the case
  std::vector<DraftBatch> batches;
  std::vector<Table> opening_tables;  ///< of problem.openings, for messages
  bool top_sealed = false;            ///< the lid lies on the bed: no air passes
  bool base_given = false;
  bool lane_asked = false;  ///< the case itself says that the wall lane is computed
  std::vector<std::string> notes;
  FeedstockLibrary library;  ///< built-in materials, then those of the case
};

/// Part readers. Each takes its keys from the top table, checks what it can by itself and fills its part.
void read_bin(const Table& top, Draft& draft);
void read_envelope(const Table& top, Draft& draft);
void read_openings(const Table& top, Draft& draft);
void read_recipe(const Table& top, Draft& draft);
void read_weather(const Table& top, Draft& draft);
void read_prescribed(const Table& top, Draft& draft);
void read_control(const Table& top, Draft& draft);
/// Comes after read_weather: a day's wave asks for shorter steps.
void read_longest_step(const Table& top, Draft& draft);

/// Decides mode, detail and cells from what the case says; reports contradictions.
void decide_mode(const Table& top, Draft& draft);

/// Gives a box that is computed as rings its radius (theory 10.3) and the scales by which the true plan area
/// and wall are larger.
void shape_rings(Draft& draft);

/// Whether a box can be computed as rings: walls alike, nothing open on one side only.
bool fits_rings(const Draft& draft);

/// Holds the openings against shape, base and lid; each mistake stands at its opening.
void check_openings(const Draft& draft);

/// Holds recipe, depth and prescribed properties against each other and the bin.
void check_bed(const Table& top, const Draft& draft);

/// Refuses what does not fit into `memory` (bytes; 0: not known), with what would.
void check_memory(const Table& top, const Draft& draft, double memory);

/// Holds the size of the computation against the machine; doubts very many pictures or steps.
void check_size(const Table& top, const Draft& draft);

/// Doubts about sizes and openings that are hardly meant.
void check_plausible(const Table& top, const Draft& draft);
/// The same about the height of the bed as laid (m).
void doubt_bed_height(const Table& top, double height, double bin_height);

/// Turns the recipe into batches of masses; with a `woodchip_share`, mixes in chips.
void fill_problem(const Table& top, Draft& draft);

/// How far the uncertain inputs of a feedstock reach.
FactorRange range_of(const LibraryEntry& entry);
/// What of a case is known within ranges only; comes last.
std::vector<UncertainInput> uncertain_inputs(const Draft& draft);

/// Depth of the bed at the start (m): as asked, as the layers add up to, or 0 where amounts decide.
double asked_depth(const Draft& draft);

/// Plan area of the bin (m2).
double plan_area(const BinShape& bin);

}  // namespace updraught
