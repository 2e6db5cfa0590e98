// Arithmetic of recipes, and what a mix needs before it is tipped into a bin (theory 1.8, 1.9, 2.7).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/material/mixture.h"
#include "solver/material/packing.h"
#include "solver/material/stress.h"

namespace updraught {

/// Water per wet mass of a mix (kg/kg). Throws std::invalid_argument for a mix of nothing.
double mix_moisture(const std::vector<Portion>& portions);

/// C:N of a mix by total carbon and nitrogen (kg/kg); infinite without nitrogen.
double mix_carbon_nitrogen(const std::vector<Portion>& portions);

/// C:N of the carbon and nitrogen that microbes reach within weeks (kg/kg); infinite without nitrogen. Wood
/// counts with its available share, in both.
double mix_available_carbon_nitrogen(const std::vector<Portion>& portions);

/// Wet mass of `other` (kg) that brings a mix to a moisture: Q2 = Q1 (G - M1)/(M2 - G). None if it cannot be
/// reached.
std::optional<double> mass_for_moisture(const std::vector<Portion>& mix, const Feedstock& other, double goal);

/// Wet mass of `other` (kg) that brings a mix to a total C:N of `goal`. None if it cannot be reached.
std::optional<double> mass_for_carbon_nitrogen(const std::vector<Portion>& mix, const Feedstock& other,
                                               double goal);

/// A column of one mix, filled to a depth under its own weight.
struct Column {
  double mass = 0.0;                 ///< wet mass per plan area (kg/m2)
  std::vector<SettledLayer> layers;  ///< from the bottom up, of equal mass
  Packed top;                        ///< packing per kilogram of mix at the top and at the base
  Packed base;
};

/// Fills a column so that its settled height right after filling is `depth` (m, above 0).
Column fill_column(const Blend& blend, double depth, const WallFriction& wall, int layers = 40);

/// What may be wrong with a mix. The numbers that go with it stand in MixAnswer.
enum class MixFinding {
  base_closes,        ///< air between the pieces at the base is below the threshold
  base_closes_later,  ///< it is so once the easy pool is used up and what rots has gone limp
  chips_float,        ///< chips are in the mix and do not touch at the base: they only take up room there
  too_wet,            ///< moisture above the limit
  too_dry,            ///< moisture below the lower limit
  much_nitrogen,      ///< available C:N below the lower limit
  little_nitrogen     ///< available C:N above the upper limit
};

/// Limits a mix is held against.
struct MixLimits {
  double air_at_base = 0.20;  ///< air between the pieces; common practice, near Eftoda and McCartney 2004
  double wettest = 0.65;      ///< common practice
  double driest = 0.45;       ///< common practice
  double least_carbon_nitrogen = 15;  ///< available; common practice
  double most_carbon_nitrogen = 40;   ///< available; common practice
};

/// What is asked of a mix.
struct MixQuestion {
  std::vector<Portion> portions;
  double depth = 0.8;     ///< settled depth right after filling (m)
  double bucket = 0.010;  ///< (m3)
  Feedstock chips;        ///< the woodchip to add
  Feedstock dry;          ///< the dry material to add
  WallFriction wall;      ///< a free heap unless a bin is given
  MixLimits limits;
  double mixing_doubt = 0.1;  ///< on the packing constant m, either way
  double softness_doubt =
      1.4;  ///< factor on the softness of the soft matter, either way; our choice, range 1.2 to 2
  double moisture_doubt = 0.03;  ///< on the moisture of the mix, either way; our choice, range 0.02 to 0.05
};

/// Buckets to add. `value`, `low` and `high` are empty where no amount is enough.
struct Buckets {
  std::optional<double> value;
  std::optional<double> low;
  std::optional<double> high;
};

/// A figure with what it may be.
struct Likely {
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct MixAnswer {
  double moisture = 0.0;         ///< kg/kg
  double cn_total = 0.0;         ///< kg/kg, infinite without nitrogen
  double cn_available = 0.0;     ///< kg/kg, infinite without nitrogen
  double loose_density = 0.0;    ///< kg/m3, the mixed bed, not the sum of buckets
  double chip_share = 0.0;       ///< chip buckets over all buckets
  Likely air_loose;              ///< air between the pieces, nothing on top (m3/m3)
  Likely air_half;               ///< the same at the base of a bed half as deep (m3/m3)
  Likely air_base;               ///< the same at the base under the depth (m3/m3)
  Likely air_limp;               ///< the same once the easy pool is used up (m3/m3)
  Likely total_base;             ///< total free air space at the base (m3/m3)
  double base_stress = 0.0;      ///< vertical stress at the base (Pa)
  bool chips_carry = false;      ///< chips touch and carry the load at the base
  Buckets chips;                 ///< chips to add so that the base stays open, together with `dry`
  Buckets dry;                   ///< dry material to add, together with `chips`, to come below the wettest
  double mended_moisture = 0.0;  ///< with both added (their middle values); as is where nothing helps
  double mended_air_base = 0.0;  ///< fresh
  double mended_air_limp = 0.0;  ///< once the easy pool is used up
  double mended_chip_share = 0.0;
  double mended_cn_available = 0.0;
  std::vector<MixFinding> findings;
};

/// Judges a mix. Throws std::invalid_argument for a mix of nothing, a depth or a bucket that is not above
/// zero, a chip material that is none.
MixAnswer assess_recipe(const MixQuestion& question);

}  // namespace updraught
