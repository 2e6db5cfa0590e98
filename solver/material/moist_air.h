// Moist pore gas: dry gas (N2 + Ar, O2, CO2) that carries vapour (theory 4.1 to 4.5). Temperatures in degC.
#pragma once

#include <optional>

namespace updraught {

inline constexpr double gas_constant = 8.314462618;      ///< J/(mol K), CODATA 2018
inline constexpr double gravity = 9.80665;               ///< m/s2, standard
inline constexpr double zero_celsius = 273.15;           ///< K
inline constexpr double molar_oxygen = 0.031998;         ///< kg/mol
inline constexpr double molar_carbon_dioxide = 0.04401;  ///< kg/mol
inline constexpr double molar_water = 0.018015268;       ///< kg/mol
inline constexpr double molar_dry_air = 0.0289647;       ///< kg/mol, ISO 2533
inline constexpr double air_oxygen = 0.2095;             ///< mole fraction in dry air, ISO 2533 (0.20948)
inline constexpr double air_carbon_dioxide = 0.0004;     ///< mole fraction in dry air, from memory

/// Specific heats for stored enthalpy (J/(kg K)).
inline constexpr double heat_capacity_dry_matter = 1200.0;  ///< range 1000-1500; Haug 1993, from memory
inline constexpr double heat_capacity_water = 4186.0;
inline constexpr double evaporation_enthalpy = 2.501e6;  ///< J/kg at 0 degC
inline constexpr double heat_capacity_vapour = 1860.0;   ///< J/(kg K)

/// Saturation pressure of water, IAPWS-IF97 region 4 (R7-97, 2012), 0 to 100 degC (Pa). Below 0 degC the
/// curve over supercooled liquid is continued.
double saturation_pressure(double temperature);

/// d(saturation pressure)/dT (Pa/K), by the same equation.
double saturation_slope(double temperature);

/// Both at once.
struct Saturation {
  double pressure = 0.0;  ///< Pa
  double slope = 0.0;     ///< Pa/K
};
Saturation saturation(double temperature);

/// Water activity of moist solids by their water content (kg/kg dry): 1 - exp(-(u/0.10)^1.5). Our choice;
/// gives 0.73 at 0.12 and 0.99 at 0.28, near wood's sorption isotherm and fibre saturation (from memory).
double water_activity(double water_per_dry);
/// d(water activity)/d(water content) (kg dry/kg).
double water_activity_slope(double water_per_dry);

/// Air of constant properties for textbook problems: buoyancy linear in temperature, no vapour.
struct ConstantAir {
  double density = 1.2;           ///< kg/m3
  double viscosity = 1.85e-5;     ///< Pa s
  double heat_capacity = 1006.0;  ///< J/(kg K)
  double expansion = 0.0;         ///< 1/K
  double at = 10.0;               ///< temperature of the stated density, also of the outside column (degC)
};

/// The gas in a bed: moist air at the site's pressure (Pa), or air of constant properties.
class Gas {
 public:
  Gas(double pressure, const std::optional<ConstantAir>& constant_air);

  bool constant() const { return constant_; }
  double pressure() const { return pressure_; }

  /// Vapour per dry gas W = p_v/(P - p_v) at a water activity (mol/mol); 0 for constant air.
  double vapour_ratio(double temperature, double activity) const;
  /// dW/dT at constant activity (1/K).
  double vapour_slope(double temperature, double activity) const;
  /// Both at once: the costly part, saturation, is worked out but once.
  struct Vapour {
    double ratio = 0.0;  ///< mol/mol
    double slope = 0.0;  ///< 1/K
  };
  Vapour vapour(double temperature, double activity) const;
  /// Mass of vapour in gas that is wet with a water activity, a p_s M_w/(R T), and its slope; 0 for constant
  /// air.
  struct VapourDensity {
    double value = 0.0;  ///< kg/m3
    double slope = 0.0;  ///< kg/(m3 K)
  };
  VapourDensity vapour_density(double temperature, double activity) const;
  /// Density of dry gas c = P/(R T (1 + W)) (mol/m3).
  double dry_density(double temperature, double vapour_ratio) const {
    if (constant_) return air_.density / molar_dry_air;
    return pressure_ / (gas_constant * (temperature + zero_celsius) * (1.0 + vapour_ratio));
  }
  /// Mass density (kg/m3) of gas with dry mole fractions of O2 and CO2.
  double density(double temperature, double vapour_ratio, double oxygen, double carbon_dioxide) const;
  /// Enthalpy per mole of dry gas (J/mol), dry gas and liquid water at 0 degC as zero.
  double enthalpy(double temperature, double vapour_ratio) const {
    return heat_capacity_ * temperature + vapour_ratio * vapour_enthalpy(temperature);
  }
  /// d(enthalpy)/dT with W following saturation at constant activity (J/(mol K)).
  double enthalpy_slope(double temperature, double vapour_ratio, double vapour_slope) const {
    return heat_capacity_ + vapour_ratio * molar_water * heat_capacity_vapour +
           vapour_slope * vapour_enthalpy(temperature);
  }
  /// Enthalpy per mole of vapour (J/mol).
  double vapour_enthalpy(double temperature) const {
    return molar_water * (evaporation_enthalpy + heat_capacity_vapour * temperature);
  }
  /// Dynamic viscosity (Pa s): Sutherland for dry air, mixed with vapour by mole fractions (from memory).
  double viscosity(double temperature, double vapour_ratio) const;

 private:
  bool constant_ = false;
  double pressure_ = 101325.0;
  ConstantAir air_;
  double heat_capacity_ = 29.14;  ///< J/(mol K) of dry gas
};

/// Free diffusivities in air (m2/s), D = D0 (T/T0)^1.75 P0/P (form of Fuller, Schettler and Giddings 1966) at
/// 20 degC and 101325 Pa. O2 0.205e-4: handbooks, from memory; between the 0.2068e-4 of the review of Massman
/// 1998 (0.182 cm2/s at 0 degC, power 1.81; read in a code of it) and the 0.194e-4 that Fuller's volumes
/// give, and in line with 0.181 cm2/s for O2 in N2 at 0 degC (Bird, Stewart and Lightfoot, table 17.1-1). The
/// composting pages of Cornell say 0.213e-4, and 0.275e-4 at 60 degC, which stands alone and is not followed.
/// CO2 0.160e-4: handbook table after Marrero and Mason 1972. Vapour 0.245e-4: handbooks, from memory; that
/// table has 0.242e-4.
double diffusivity_oxygen(double temperature, double pressure);
double diffusivity_carbon_dioxide(double temperature, double pressure);
double diffusivity_vapour(double temperature, double pressure);

}  // namespace updraught
