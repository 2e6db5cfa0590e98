// What a feedstock is: the properties of one material that goes into a bed. Plain numbers in SI units; where
// they come from, and how uncertain they are, stands in the feedstock library.
#pragma once

#include <array>
#include <string>
#include <vector>

namespace updraught {

/// One class of volatile solids that is used up at its own rate.
struct Pool {
  double share = 0.0;   ///< share of the volatile solids (kg/kg)
  double rate = 0.0;    ///< first-order rate at the optimum (1/s)
  double demand = 0.0;  ///< oxygen used per mass of volatile solids (kg/kg)
  bool operator==(const Pool&) const = default;
};

/// What kind of material it is, as far as cautions and notes need to know.
struct Nature {
  bool food = false;        ///< kitchen and food waste, raw or cooked
  bool cooked = false;      ///< cooked food, meat, fish, dairy
  bool manure = false;      ///< dung, with or without bedding
  bool weedkiller = false;  ///< fed or grown where persistent weedkillers are in use
  bool sludge = false;      ///< from the treatment of sewage
  bool operator==(const Nature&) const = default;
};

/// A material, loose and fresh.
struct Feedstock {
  std::string name;
  Nature nature;
  bool chips = false;             ///< stiff pieces that form their own packing (woodchip)
  double moisture = 0.0;          ///< water per wet mass (kg/kg)
  double volatile_solids = 0.0;   ///< per dry mass (kg/kg)
  double carbon = 0.0;            ///< per dry mass (kg/kg)
  double nitrogen = 0.0;          ///< per dry mass (kg/kg)
  double available_carbon = 1.0;  ///< share of the carbon that microbes reach within weeks (kg/kg)
  double loose_density = 0.0;     ///< wet bulk density as tipped (kg/m3)
  double piece_size = 0.0;        ///< nominal length of a piece (m)
  double ergun_size =
      0.0;  ///< effective size in Ergun's law, soft matter: filled to 60 % of its capacity (m)
  double water_capacity = 0.0;  ///< water held inside the pieces per dry mass (kg/kg)
  double basic_density = 0.0;   ///< chips: dry mass per volume of the piece (kg/m3)
  double inner_air =
      0.0;  ///< soft matter: air inside the particles, per volume of their solids and water (m3/m3)
  double loose_porosity = 0.0;   ///< chips: porosity of their loose packing; soft: 0 = from the loose density
  double least_porosity = 0.0;   ///< porosity at high stress
  double softness_stress = 0.0;  ///< stress over which the porosity falls by 1/e, fresh (Pa)
  double rotted_stiffness = 1.0;  ///< soft matter: share of that stress left when the easy pool is used up
  double mixing = 0.0;            ///< packing constant m against chips, fresh (0 ideal, 1 none)
  double mixing_rotted = 0.0;     ///< the same when the easy pool is used up
  std::array<Pool, 3> pools{};    ///< easy, middling, hard
  bool operator==(const Feedstock&) const = default;
};

/// An amount of a feedstock in a recipe.
struct Portion {
  Feedstock feedstock;
  double mass = 0.0;  ///< wet mass (kg)
};

/// One lot of material laid down at once.
struct Batch {
  std::string name;
  std::vector<Portion> portions;
  double depth = 0.0;      ///< settled thickness in the bed right after filling (m); 0: the masses as given
  double activity = 0.02;  ///< starting activity of the all-round group of microbes (0..1)
  double heat_loving_activity = 0.02;  ///< the same of the group that loves heat
};

}  // namespace updraught
