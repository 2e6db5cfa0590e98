// Values with a unit, as people write them: "0.9 m", "0,9 m", "46 degF", "68 cm2", "10 W/m2K", "20 %".
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace updraught {

/// A kind of quantity: what it is called, its SI unit, and an example for messages.
struct Measure {
  const char* name;     ///< with its article: "a length"
  const char* unit;     ///< unit of the value handed out, as the units library reads it; "" for a pure number
  const char* example;  ///< a value as a person would write it
  bool difference = false;  ///< a temperature difference: zero points of scales are left out
  bool per_mass = false;    ///< a pure number that may also be written as one mass per another, "g/kg"
  bool counts = false;      ///< a pure number of things, which is no share: no per cents
};

inline Measure length_measure() {
  return {"a length", "m", "0.9 m"};
}
inline Measure area_measure() {
  return {"an area", "m2", "68 cm2"};
}
inline Measure volume_measure() {
  return {"a volume", "m3", "10 L"};
}
inline Measure mass_measure() {
  return {"a mass", "kg", "5 kg"};
}
inline Measure temperature_measure() {
  return {"a temperature", "degC", "8 degC"};
}
inline Measure temperature_difference() {
  return {"a temperature difference", "K", "2 K", true};
}
inline Measure time_measure() {
  return {"a time", "s", "12 h"};
}
inline Measure pressure_measure() {
  return {"a pressure", "Pa", "2 Pa"};
}
inline Measure permeability_measure() {
  return {"a permeability", "m2", "1e-8 m2"};
}
inline Measure per_length_measure() {
  return {"an inertia coefficient", "1/m", "1000 1/m"};
}
inline Measure density_measure() {
  return {"a density", "kg/m3", "500 kg/m3"};
}
inline Measure conductivity_measure() {
  return {"a heat conductivity", "W/(m K)", "0.4 W/mK"};
}
inline Measure heat_capacity_measure() {
  return {"a heat capacity per mass", "J/(kg K)", "3000 J/kgK"};
}
inline Measure diffusivity_measure() {
  return {"a diffusivity", "m2/s", "5e-6 m2/s"};
}
inline Measure speed_measure() {
  return {"a speed", "m/s", "1 mm/s"};
}
inline Measure heat_source_measure() {
  return {"a heat source per volume", "W/m3", "100 W/m3"};
}
inline Measure heat_flux_measure() {
  return {"a heat flux", "W/m2", "10 W/m2"};
}
inline Measure film_measure() {
  return {"a heat transfer coefficient", "W/(m2 K)", "10 W/m2K"};
}
inline Measure rate_measure() {
  return {"a rate", "1/s", "0.4 1/d"};
}
inline Measure molar_rate_measure() {
  return {"an uptake per volume", "mol/(m3 s)", "1e-4 mol/m3s"};
}
inline Measure heat_per_mass_measure() {
  return {"a heat per mass of oxygen", "J/kg", "14 MJ/kg"};
}
inline Measure viscosity_measure() {
  return {"a viscosity", "Pa s", "1.85e-5 Pa s"};
}
inline Measure expansion_measure() {
  return {"an expansion coefficient", "1/K", "0.0035 1/K"};
}
inline Measure share_measure() {
  return {"a share", "", "20 %"};
}
/// Such as the water that a material holds, per dry mass; a bare number is kg/kg.
inline Measure mass_per_mass_measure() {
  return {"a mass per mass", "", "3 kg/kg", false, true};
}
inline Measure days_measure() {
  return {"a number of days", "", "14", false, false, true};
}
inline Measure buckets_measure() {
  return {"a number of buckets", "", "3", false, false, true};
}

/// The units library with its definitions loaded. Throws std::runtime_error when they are not installed.
class Units {
 public:
  Units();
  ~Units();
  Units(const Units&) = delete;
  Units& operator=(const Units&) = delete;

 private:
  friend struct UnitsDoor;
  struct System;
  std::unique_ptr<System> system_;
};

/// The definitions, read once: that takes longer than reading a case. Throws as the constructor does.
const Units& known_units();

/// A value read, or what is wrong with the text.
struct QuantityReading {
  std::optional<double> value;  ///< in the measure's unit
  std::string problem;
  std::string hint;
};

/// Reads "number unit". Decimal commas, "20 %", degF and degC, and "W/m2K" for W/(m2 K) are understood; what
/// follows the first stroke belongs below it. A second number ("1 500 mm", "3 ft 2") is refused, and so is a
/// unit of another dimension, the reciprocal too. `bucket` (m3) makes "3 buckets" a volume.
QuantityReading read_quantity(std::string_view text, const Measure& measure, const Units& units,
                              std::optional<double> bucket = {});

/// A number at the start of a text, decimal point or comma; the rest is handed back. Empty when there is
/// none, when it is not finite, or when "1,000" leaves open whether a thousand is meant.
struct NumberReading {
  std::optional<double> value;
  std::string_view rest;
  bool ambiguous = false;
};
NumberReading read_number(std::string_view text);

/// A unit as people write it, in the spelling of the units library: "W/m2K" becomes "W/(m2 K)".
std::string tidy_unit(std::string_view unit);

}  // namespace updraught
